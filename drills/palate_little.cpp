// How little? Detection leads; without any, a quick look or the open nose does, since they tell of the same
// threshold. Recognition stands beside it as an outline, the rest as bars.

#include "drills/palate_parts.hpp"
#include "drills/quick_look.hpp"
#include "drills/recognition.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::drills::palate_parts {

namespace {

constexpr const char* detection = "detection";
constexpr const char* recognition = "recognition";
constexpr const char* looked_at_quickly = "quick look";
constexpr const char* nose_open = "nose open";
constexpr const char* nose_closed = "nose closed";

std::string key_of(const Plan& plan, std::size_t line) {
    return substance_of(plan, line).id + "\n" + plan.base_name + "\n" +
           unit_text(ladder_of(plan, line).scale);
}

bool has(const PalateRow& row, const std::string& name) {
    return std::any_of(row.fits.begin(), row.fits.end(),
                       [&](const PalateFit& fit) { return fit.name == name; });
}

std::string name_in_row(const Plan& plan, std::size_t series) {
    switch (plan.kind) {
        case Kind::detection:
            return detection;
        case Kind::recognition:
            return recognition;
        case Kind::quick_look:
            return looked_at_quickly;
        case Kind::nose:
            return series == 0 ? nose_open : nose_closed;
        default:
            return {};
    }
}

std::size_t answers_in(const State& drill, std::size_t series) {
    return static_cast<std::size_t>(std::count_if(
        drill.trials.begin(), drill.trials.end(),
        [&](const Trial& trial) { return trial.is_done() && (trial.is_blank || trial.series == series); }));
}

void add_drill(Sat& sat, std::size_t drill, Keyed& rows) {
    const Plan& plan = sat.plan(drill);
    for (std::size_t series = 0; series < series_count(plan); ++series) {
        const std::string name = name_in_row(plan, series);
        if (name.empty() || answers_in(sat.state(drill), series) == 0) continue;
        const std::size_t line = line_of_series(plan, series);
        const std::string key = key_of(plan, line);
        const bool can_be_fitted =
            plan.kind != Kind::quick_look || quick_look::can_be_fitted(sat.state(drill));
        if (!can_be_fitted) continue;
        PalateRow& row = rows.at(key, [&] {
            PalateRow made;
            made.title = title_of(plan, line);
            made.component = substance_of(plan, line).component;
            return made;
        });
        if (row.from.empty() || row.from.back() != drill) row.from.push_back(drill);
        // A fit takes milliseconds, and years of drills have a newer one of their kind.
        if (!has(row, name))
            row.fits.push_back({name, drill, series, sat.finding(drill).thresholds.at(series).threshold});
    }
}

std::string range_text(const chart::Reported& reported, Scale scale) {
    return shortest(reported.lower, 2) +
           (reported.upper > reported.lower ? " to " + shortest(reported.upper, 2) : std::string{}) + " " +
           unit_text(scale);
}

chart::PalateMeasure measure_of(const Sat& sat, const PalateFit& fit) {
    const State& drill = sat.state(fit.drill);
    const Plan& plan = drill.plan;
    const std::size_t line = line_of_series(plan, fit.series);
    chart::PalateMeasure measure{.name = fit.name, .threshold = fit.threshold};
    // Only for the very same kind: what a quick look or a closed nose finds no paper reports in this form.
    if (fit.name == detection || fit.name == recognition)
        measure.reported =
            reported_of(sat.content(), substance_of(plan, line).id, ladder_of(plan, line).base, fit.name);
    measure.hover = fit.name + ": " + text_of(fit.threshold) + "\n" +
                    whence_of(fit.threshold, fit.name, answers_in(drill, fit.series)) + "; " +
                    to_date(sat.tasted(fit.drill).started);
    return measure;
}

/// "Papers, in water: detection 2.3 g/L, kind not stated 0.86 to 8.2 g/L; methods and people differ"
std::string reported_text(const Sat& sat, const PalateRow& row) {
    const PalateFit& first = row.fits.front();
    const Plan& plan = sat.plan(first.drill);
    const std::size_t line = line_of_series(plan, first.series);
    const std::string& base = ladder_of(plan, line).base;
    const std::string& substance = substance_of(plan, line).id;
    const std::string called = reported_base(sat.content(), base);
    std::string text;
    for (const char* kind : {detection, recognition, "taste"}) {
        const bool is_unsaid = std::string(kind) == "taste";
        if (!is_unsaid && !has(row, kind)) continue;
        const auto reported = reported_of(sat.content(), substance, base, kind);
        if (!reported) continue;
        text += (text.empty() ? "Papers, in " + called + ": " : ", ") +
                (is_unsaid ? std::string("kind not stated") : std::string(kind)) + " " +
                range_text(*reported, first.threshold.scale);
    }
    return text.empty() ? "No published values found for " + called : text + "; methods and people differ";
}

void finish(const Sat& sat, PalateRow& row) {
    // In the order in which they are drawn and told.
    const std::array order{detection, looked_at_quickly, nose_open, nose_closed, recognition};
    std::stable_sort(row.fits.begin(), row.fits.end(), [&](const PalateFit& a, const PalateFit& b) {
        return std::find(order.begin(), order.end(), a.name) < std::find(order.begin(), order.end(), b.name);
    });
    chart::PalateRow picture{
        .title = {}, .component = *row.component, .filled = {}, .outlined = {}, .beside = {}};
    for (const PalateFit& fit : row.fits) {
        chart::PalateMeasure measure = measure_of(sat, fit);
        row.numbers.push_back({fit.name, text_of(fit.threshold), measure.hover, fit.drill});
        if (fit.name == recognition)
            picture.outlined = std::move(measure);
        else if (!picture.filled && fit.name != nose_closed)
            picture.filled = std::move(measure);
        else
            picture.beside.push_back(std::move(measure));
        for (const threshold::Warning& warning : fit.threshold.warnings)
            row.warnings.push_back(fit.name + ": " + warning.text);
    }
    row.reported = reported_text(sat, row);
    row.pictures.push_back({chart::palate_row(picture), chart::palate_row_lines(picture)});
}

}  // namespace

std::vector<PalateRow> how_little(Sat& sat) {
    Keyed keyed;
    for (std::size_t drill = 0; drill < sat.size(); ++drill) add_drill(sat, drill, keyed);
    std::vector<PalateRow> rows = keyed.done();
    for (PalateRow& row : rows) {
        finish(sat, row);
        for (const PalateFit& fit : row.fits)
            if (sat.plan(fit.drill).kind == Kind::nose && fit.name == nose_closed)
                for (const Finding::Measure& measure : sat.finding(fit.drill).measures) {
                    row.numbers.push_back(number_of(measure, sitting_text(sat, fit.drill)));
                    row.numbers.back().drill = fit.drill;
                }
    }
    sort_by_substance(rows, sat);
    return rows;
}

}  // namespace sipladder::drills::palate_parts
