// How different? What has to be added to be noticed, as a part of what is there: by two cups on a pedestal,
// one measure a pedestal, and by putting a ladder of small steps in order.

#include "drills/difference.hpp"
#include "drills/palate_parts.hpp"
#include "engine/chart/part_row.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::drills::palate_parts {

namespace {

struct Part {
    std::size_t drill{};
    chart::PartMeasure measure;
};

std::string level_text(double level, Scale scale) {
    return shortest(level, 3) + " " + unit_text(scale);
}

/// By what a drill is known in its row: the newest of each counts.
std::string name_in_row(const Plan& plan) {
    const auto& levels = plan.ladder.levels;
    if (plan.kind == Kind::difference) {
        const double held = plan.pedestal->target > 0.0 ? plan.pedestal->target : plan.pedestal->mixed;
        return "two cups, on " + level_text(held, plan.ladder.scale);
    }
    return "in order, " + shortest(levels.front().target, 3) + " to " +
           level_text(levels.back().target, plan.ladder.scale);
}

std::string part_text(const chart::PartMeasure& one) {
    return with_interval(100.0 * one.part, 100.0 * one.lower, 100.0 * one.upper) + " %";
}

void add_difference(Sat& sat, std::size_t drill, PalateRow& row) {
    const auto& named = sat.finding(drill).thresholds.front();
    const Plan& plan = sat.plan(drill);
    const std::string name = name_in_row(plan);
    row.fits.push_back({name, drill, 0, named.threshold});
    row.numbers.push_back({"added to " + level_text(plan.pedestal->mixed, plan.ladder.scale),
                           text_of(named.threshold),
                           whence_of(named.threshold, "difference", answered(sat.state(drill)).size()) +
                               "; three right of four; " + sitting_text(sat, drill),
                           drill});
    for (const threshold::Warning& warning : named.threshold.warnings)
        row.warnings.push_back(name + ": " + warning.text);
}

/// The one measure of either drill that is a part of the level.
void add_part(Sat& sat, std::size_t drill, PalateRow& row, chart::PartRow& picture) {
    const Finding& finding = sat.finding(drill);
    if (finding.measures.empty()) return;
    const Finding::Measure& found = finding.measures.front();
    chart::PartMeasure part{.name = name_in_row(sat.plan(drill)),
                            .part = found.value,
                            .lower = found.lower,
                            .upper = found.upper};
    const bool is_ordered = sat.plan(drill).kind == Kind::ranking;
    row.numbers.push_back(
        {"Weber fraction, " + part.name, part_text(part),
         "part of the level that has to be added to be put right three times of four, with its "
         "equal-tailed 95 % interval; " +
             sitting_text(sat, drill)});
    part.hover = part.name + ": " + part_text(part) + "\n" + row.numbers.back().whence;
    picture.measures.push_back(std::move(part));
    if (is_ordered)
        for (const std::string& sentence : finding.sentences) row.sentences.push_back(sentence);
}

}  // namespace

std::vector<PalateRow> how_different(Sat& sat) {
    Keyed keyed;
    for (std::size_t drill = 0; drill < sat.size(); ++drill) {
        const Plan& plan = sat.plan(drill);
        if ((plan.kind != Kind::difference && plan.kind != Kind::ranking) || !sat.has_answer(drill)) continue;
        PalateRow& row = keyed.at(plan.substance.id + "\n" + plan.base_name, [&] {
            PalateRow made;
            made.title = title_of(plan);
            made.component = plan.substance.component;
            return made;
        });
        row.from.push_back(drill);
    }
    std::vector<PalateRow> rows = keyed.done();
    for (PalateRow& row : rows) {
        chart::PartRow picture{.title = {}, .component = *row.component, .measures = {}};
        std::vector<std::string> known;
        for (const std::size_t drill : row.from) {
            const std::string name = name_in_row(sat.plan(drill));
            if (std::find(known.begin(), known.end(), name) != known.end()) continue;
            known.push_back(name);
            if (sat.plan(drill).kind == Kind::difference) add_difference(sat, drill, row);
            add_part(sat, drill, row, picture);
        }
        if (!picture.measures.empty())
            row.pictures.push_back({chart::part_row(picture), chart::part_row_lines(picture)});
    }
    sort_by_substance(rows, sat);
    return rows;
}

}  // namespace sipladder::drills::palate_parts
