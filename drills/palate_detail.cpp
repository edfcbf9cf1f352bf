#include "drills/palate_detail.hpp"

#include "drills/bottles.hpp"
#include "drills/charts.hpp"
#include "drills/difference.hpp"
#include "drills/palate_parts.hpp"
#include "drills/plans.hpp"
#include "drills/quick_look.hpp"
#include "drills/recognition.hpp"
#include "engine/text.hpp"
#include "engine/threshold/quick_look.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills {

namespace {

/// The rows of one detail, with all that they are made from.
struct Opened {
    const PalateRow& row;
    std::span<const Tasted> done;
    const content::Content& content;
    const MixOf& mix_of;

    const State& state(std::size_t drill) const { return *done[drill].state; }
    std::string name(const PalateFit& fit) const { return row.fits.size() > 1 ? fit.name : std::string{}; }
};

std::string titled(const std::string& what, const std::string& name) {
    return name.empty() ? what : what + ", " + name;
}

const solution::MixedLadder& ladder_in(const State& drill, const PalateFit& fit) {
    return ladder_of(drill.plan, line_of_series(drill.plan, fit.series));
}

threshold::Prior assumed_for(const State& drill, const PalateFit& fit) {
    const solution::Substance& substance = substance_of(drill.plan, line_of_series(drill.plan, fit.series));
    if (drill.plan.kind == Kind::recognition) return recognition::assumed_prior(substance);
    if (drill.plan.kind == Kind::difference)
        return difference::assumed_prior(drill.plan.pedestal->mixed, drill.plan.ladder.scale);
    return assumed_prior(substance);
}

/// Flat over the range that the assumed one allows, for those who want to see what the prior did.
threshold::Prior flat_like(threshold::Prior prior) {
    const threshold::Range range = threshold::theta_range(prior);
    prior.kind = threshold::Prior::Kind::flat;
    prior.name = "flat";
    prior.lower_log10 = range.lower;
    prior.upper_log10 = range.upper;
    return prior;
}

threshold::Threshold refit(const State& drill, const PalateFit& fit, const threshold::Prior& prior) {
    if (drill.plan.kind == Kind::quick_look)
        return threshold::quick_look(drill.plan.ladder, quick_look::graded_cups(drill), prior).threshold;
    return threshold::threshold(ladder_in(drill, fit), answered(drill, fit.series), prior,
                                task_of(drill.plan));
}

PalateTable priors_of(const Opened& opened) {
    PalateTable table{"With the assumed prior, and without", {"", "95 % interval", "SD, log10", "prior"}, {}};
    const auto add = [&](const std::string& what, const threshold::Threshold& found) {
        table.rows.push_back({what, text_of(found), fixed(found.sd_log10, 2), found.prior});
    };
    for (const PalateFit& fit : opened.row.fits) {
        const State& drill = opened.state(fit.drill);
        const threshold::Prior assumed = assumed_for(drill, fit);
        const bool is_assumed = fit.threshold.prior == assumed.name;
        add(titled(is_assumed ? "as reported: assumed" : "as reported", opened.name(fit)), fit.threshold);
        if (!is_assumed) add(titled("assumed", opened.name(fit)), refit(drill, fit, assumed));
        add(titled("the answers alone", opened.name(fit)), refit(drill, fit, flat_like(assumed)));
    }
    return table;
}

std::string level_text(const solution::MixedLadder& ladder, std::size_t level) {
    const solution::MixedLevel& one = ladder.levels[level];
    return with_uncertainty(one.mixed, one.mixed * std::hypot(one.u_own_rel, one.u_shared_rel)) + " " +
           unit_text(ladder.scale);
}

PalateTable graded_levels(const State& drill, const std::string& title) {
    static const std::vector<std::string> grades{"nothing", "perhaps", "yes", "clearly"};
    PalateTable table{title, {"level as mixed"}, {}};
    table.columns.insert(table.columns.end(), grades.begin(), grades.end());
    const auto cups = quick_look::graded_cups(drill);
    const auto add = [&](const std::string& what, std::optional<std::size_t> level) {
        table.rows.push_back({what});
        for (std::size_t grade = 0; grade < grades.size(); ++grade)
            table.rows.back().push_back(
                std::to_string(std::count(cups.begin(), cups.end(), threshold::GradedCup{level, grade})));
    };
    add("the base alone", std::nullopt);
    for (std::size_t level = 0; level < drill.plan.ladder.levels.size(); ++level)
        add(level_text(drill.plan.ladder, level), level);
    return table;
}

PalateTable levels_of(const Opened& opened, const PalateFit& fit) {
    const State& drill = opened.state(fit.drill);
    const bool is_added = drill.plan.kind == Kind::difference;
    const std::string title = titled("The levels", opened.name(fit));
    if (drill.plan.kind == Kind::quick_look) return graded_levels(drill, title);
    PalateTable table{title, {is_added ? "added, as mixed" : "level as mixed", "right", "mixed within"}, {}};
    const solution::MixedLadder& ladder = ladder_in(drill, fit);
    const std::vector<threshold::Answered> answers = answered(drill, fit.series);
    for (std::size_t i = 0; i < ladder.levels.size(); ++i) {
        const auto served = std::count_if(answers.begin(), answers.end(),
                                          [&](const threshold::Answered& one) { return one.level == i; });
        const auto right = std::count_if(answers.begin(), answers.end(), [&](const threshold::Answered& one) {
            return one.level == i && one.correct;
        });
        table.rows.push_back(
            {level_text(ladder, i),
             served == 0 ? "not served" : std::to_string(right) + " of " + std::to_string(served),
             percent(std::hypot(ladder.levels[i].u_own_rel, ladder.levels[i].u_shared_rel))});
    }
    return table;
}

/// Where the row is about one substance.
PalateTable papers_of(const Opened& opened) {
    PalateTable table{"What papers report, of other people by other methods: no norm",
                      {"kind", "value", "in", "people", "method", "source"},
                      {}};
    const PalateFit& fit = opened.row.fits.front();
    const Plan& plan = opened.state(fit.drill).plan;
    const solution::Substance& substance = substance_of(plan, line_of_series(plan, fit.series));
    const std::string base = reported_base(opened.content, ladder_of(plan, 0).base);
    for (const bool is_same : {true, false})
        for (const content::ReferenceThreshold& one : opened.content.reference_thresholds)
            if (one.substance == substance.id && (one.base == base) == is_same)
                table.rows.push_back({one.kind == "taste" ? "not stated" : one.kind,
                                      shortest(one.lower, 2) +
                                          (one.upper > one.lower ? " to " + shortest(one.upper, 2) : "") +
                                          " " + unit_text(substance.scale),
                                      one.base, one.people > 0 ? std::to_string(one.people) : "not stated",
                                      one.method, one.source});
    return table;
}

void add_unique(std::string& all, const std::string& one) {
    if (all.find(one) == std::string::npos) all.append(all.empty() ? "" : "; ").append(one);
}

/// By ingredient, each with the dates on which it was mixed: of what the numbers rest on.
std::string lots_of(const Opened& opened) {
    std::vector<std::pair<std::string, std::string>> lots;
    const auto add = [&](std::size_t drill, std::size_t line) {
        const record::KeptMix* mix =
            opened.mix_of(opened.state(drill).plan, line, opened.done[drill].started);
        if (mix == nullptr) return;
        auto known = std::find_if(lots.begin(), lots.end(),
                                  [&](const auto& one) { return one.first == mix->ingredient_name; });
        if (known == lots.end()) known = lots.insert(lots.end(), {mix->ingredient_name, {}});
        if (known->second.find(to_date(mix->at)) == std::string::npos)
            known->second.append(known->second.empty() ? "" : ", ").append(to_date(mix->at));
    };
    for (const PalateFit& fit : opened.row.fits)
        add(fit.drill, line_of_series(opened.state(fit.drill).plan, fit.series));
    if (opened.row.fits.empty())
        for (const std::size_t drill : opened.row.from)
            for (std::size_t line = 0; line < line_count(opened.state(drill).plan); ++line) add(drill, line);
    std::string text;
    for (const auto& [ingredient, dates] : lots)
        text += (text.empty() ? "" : "; ") + ingredient + ", mixed on " + dates;
    return text.empty() ? "not known: the mix was never kept" : text;
}

void add_facts(const Opened& opened, PalateDetail& detail) {
    for (const PalateFit& fit : opened.row.fits) {
        detail.facts.push_back({titled("uncertainty from mixing", opened.name(fit)),
                                mixing_share(fit.threshold), "of the variance; the rest is from answering"});
        detail.facts.push_back({titled("width", opened.name(fit)), fixed(fit.threshold.width_log10, 2),
                                "log10 units from 10 to 90 % of the rise"});
    }
    std::string dates;
    std::string blinding;
    std::string noted;
    std::size_t cut = 0;
    for (const std::size_t drill : opened.row.from) {
        add_unique(dates, to_date(opened.done[drill].started));
        add_unique(blinding, blinding_text(opened.state(drill).plan.blinding));
        for (const std::string& note : opened.done[drill].notes) add_unique(noted, note);
        cut += opened.state(drill).rests_cut.size();
    }
    detail.facts.push_back({"sittings", dates, "newest first; of each kind the newest one counts"});
    detail.facts.push_back({"blinding", blinding, "never mixed in one trend"});
    detail.facts.push_back({"lots", lots_of(opened), "what the bottles were mixed from"});
    detail.facts.push_back({"noted", noted.empty() ? "nothing" : noted, "what may have spoiled a sitting"});
    if (cut > 0)
        detail.facts.push_back(
            {"rests cut short", std::to_string(cut), "the cups after them count as others"});
}

void add_pictures(const Opened& opened, PalateDetail& detail) {
    for (const PalateFit& fit : opened.row.fits) {
        const State& drill = opened.state(fit.drill);
        if (drill.plan.kind == Kind::quick_look)
            continue;  // single graded cups have no share of right answers
        chart::Chart curve = curve_of(drill, fit.threshold, fit.series, true);
        curve.title = opened.row.title + ", " + fit.name;
        detail.pictures.push_back({std::move(curve), palate_parts::figure_lines + 4.0});
    }
    if (detail.pictures.empty() || !is_fixed(opened.state(opened.row.from.front()).plan)) {
        if (detail.pictures.empty()) detail.pictures = opened.row.pictures;
        return;
    }
    for (const PalatePicture& picture : opened.row.pictures) detail.pictures.push_back(picture);
}

}  // namespace

namespace {

/// "quick look"
std::string kind_text(Kind kind) {
    std::string text = name_of(kind);
    std::replace(text.begin(), text.end(), '_', ' ');
    return text;
}

}  // namespace

std::string blinding_text(Blinding blinding) {
    switch (blinding) {
        case Blinding::served:
            return "served by a helper";
        case Blinding::shuffled_tray:
            return "shuffled tray, alone";
        case Blinding::sealed_key:
            return "sealed key, alone";
        case Blinding::class_service:
            break;
    }
    return "in a class";
}

MixOf mix_among(std::span<const record::KeptMix> mixes) {
    return [mixes](const Plan& plan, std::size_t line, const Instant& before) {
        const record::KeptMix* newest = nullptr;
        for (const record::KeptMix& mix : mixes)
            if (mix.at.utc_ms <= before.utc_ms && is_from(plan, line, mix.ladder) &&
                (newest == nullptr || newest->at.utc_ms <= mix.at.utc_ms))
                newest = &mix;
        return newest;
    };
}

PalateDetail detail_of(const PalateRow& row, std::span<const Tasted> done, const content::Content& content,
                       const MixOf& mix_of) {
    const Opened opened{row, done, content, mix_of};
    PalateDetail detail{.title = row.title,
                        .component = row.component,
                        .numbers = row.numbers,
                        .pictures = {},
                        .sentences = row.sentences,
                        .warnings = row.warnings,
                        .facts = {},
                        .tables = {}};
    add_pictures(opened, detail);
    add_facts(opened, detail);
    if (!row.fits.empty()) {
        detail.tables.push_back(priors_of(opened));
        for (const PalateFit& fit : row.fits) detail.tables.push_back(levels_of(opened, fit));
        PalateTable papers = papers_of(opened);
        const bool is_difference = opened.state(row.fits.front().drill).plan.kind == Kind::difference;
        if (!papers.rows.empty() && !is_difference) detail.tables.push_back(std::move(papers));
    }
    std::vector<std::size_t> told;  // the newest of each kind, and all where they are joined
    for (const PalateFit& fit : row.fits) told.push_back(fit.drill);
    for (const std::size_t drill : row.from) {
        const Kind kind = done[drill].state->plan.kind;
        if (kind == Kind::naming || kind == Kind::ranking || told.empty()) told.push_back(drill);
    }
    std::sort(told.begin(), told.end());
    told.erase(std::unique(told.begin(), told.end()), told.end());
    for (const std::size_t drill : told)
        detail.tables.push_back(answers_of(*done[drill].state, "Every answer of the " +
                                                                   kind_text(done[drill].state->plan.kind) +
                                                                   " of " + to_date(done[drill].started)));
    return detail;
}

}  // namespace sipladder::drills
