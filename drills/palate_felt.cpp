// What is perceived rather than noticed: names, strength, places, seconds.

#include "drills/charts.hpp"
#include "drills/palate_parts.hpp"
#include "drills/persistence.hpp"
#include "engine/chart/confusion_table.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::drills::palate_parts {

namespace {

/// The base and what may be called, in any order.
std::string names_key(const Plan& plan) {
    std::vector<std::string> names = naming::names(plan);
    std::sort(names.begin(), names.end());
    std::string key = plan.base_name;
    for (const std::string& name : names) key += "\n" + name;
    return key;
}

std::string names_title(const Plan& plan) {
    std::string title;
    for (std::size_t line = 0; line < line_count(plan); ++line) {
        const bool is_last = line > 0 && line + 1 == line_count(plan);
        title += (line == 0 ? "" : is_last ? " and " : ", ") + substance_of(plan, line).name;
    }
    return title + " in " + plan.base_name;
}

void finish_naming(const Sat& sat, PalateRow& row) {
    std::vector<const State*> drills;
    drills.reserve(row.from.size());
    for (const std::size_t drill : row.from) drills.push_back(&sat.state(drill));
    const Plan& plan = drills.front()->plan;
    const naming::Result result = naming::joined(drills);
    const Finding finding = naming::finding_of(plan, result);
    const std::string whence = drills.size() == 1 ? sitting_text(sat, row.from.front())
                                                  : "all " + std::to_string(drills.size()) +
                                                        " sittings joined, the last on " +
                                                        to_date(sat.tasted(row.from.front()).started);
    row.numbers.push_back({"named right",
                           percent(result.right_in_all.value) + " (" + percent(result.right_in_all.lower) +
                               " to " + percent(result.right_in_all.upper) +
                               "); guessing: " + percent(1.0 / static_cast<double>(result.names.size())),
                           "exact 95 % interval; " + whence});
    row.numbers.push_back({"information",
                           with_interval(result.bits.value, result.bits.lower, result.bits.upper) + " of " +
                               significant(result.most_bits, 2) + " bits",
                           "what a name tells of what is in the cup; " + whence});
    // The first two say what the numbers say.
    row.sentences.assign(finding.sentences.begin() + 2, finding.sentences.end());
    if (drills.size() > 1)
        row.sentences.insert(row.sentences.begin(),
                             std::to_string(drills.size()) + " sittings of the same names are joined here.");
    row.pictures.push_back({naming_chart(plan, result), chart::confusion_table_lines(result.names.size())});
}

/// Rows of drills that have their pictures in drills/charts: the newest of each key speaks.
struct Newest {
    Kind kind{};
    std::string (*what)(const Plan& plan);  ///< after the title: ": your words"
};

std::string words_of(const Plan&) {
    return ": your words";
}
std::string balance_of(const Plan& plan) {
    return has_conditions(plan) ? ": plain and " + plan.others.front().condition : ": just about right";
}
std::string weight_of(const Plan&) {
    return ": weight in the mouth";
}
std::string lasting_of(const Plan& plan) {
    return ": " + persistence::sensation_of(plan) +
           (has_conditions(plan) ? ", plain and " + plan.others.front().condition : std::string{});
}

void finish_newest(Sat& sat, PalateRow& row) {
    const std::size_t drill = row.from.front();
    const Finding& finding = sat.finding(drill);
    const std::string whence = sitting_text(sat, drill);
    for (const Finding::Measure& measure : finding.measures)
        if (!measure.is_said) row.numbers.push_back(number_of(measure, whence));
    row.sentences = finding.sentences;
    if (row.from.size() > 1)
        row.sentences.push_back("Of " + std::to_string(row.from.size()) +
                                " sittings this is the newest; what comes out alike each time is yours.");
    for (chart::Chart& chart : charts_of(sat.state(drill)))
        row.pictures.push_back({std::move(chart), figure_lines});
}

void add_newest(Sat& sat, Keyed& keyed, const Newest& newest) {
    for (std::size_t drill = 0; drill < sat.size(); ++drill) {
        const Plan& plan = sat.plan(drill);
        if (plan.kind != newest.kind || !sat.has_answer(drill)) continue;
        const std::string what = newest.what(plan);
        keyed
            .at(plan.substance.id + "\n" + plan.base_name + "\n" + what,
                [&] {
                    PalateRow made;
                    made.title = title_of(plan) + what;
                    made.component = plan.substance.component;
                    return made;
                })
            .from.push_back(drill);
    }
}

std::vector<PalateRow> finished(Sat& sat, Keyed& keyed) {
    std::vector<PalateRow> rows = keyed.done();
    for (PalateRow& row : rows) finish_newest(sat, row);
    sort_by_substance(rows, sat);
    return rows;
}

PalateRow map_row(const Plan& plan, const mouth_map::Result& result, std::size_t line) {
    const mouth_map::Of& of = result.of[line];
    PalateRow row;
    row.title = title_of(plan, line);
    row.component = substance_of(plan, line).component;
    row.sentences.push_back(mouth_map::words_for(plan, of));
    const bool is_felt = std::any_of(of.places.begin(), of.places.end(),
                                     [](const threshold::ExactShare& one) { return one.value > 0.0; });
    if (is_felt) row.pictures.push_back({mouth_chart(plan, result, line), figure_lines});
    return row;
}

void add_numbers(const mouth_map::Result& result, std::size_t line, const std::string& whence,
                 PalateRow& row) {
    if (const auto& alike = result.of[line].two_alike)
        row.numbers.push_back(
            {"two cups alike about a place", with_interval(alike->value, alike->lower, alike->upper),
             "chance that two cups agree on whether a place is named, with its equal-tailed "
             "95 % interval; 0.5: as if by lot; " +
                 whence});
    if (result.alpha)
        row.numbers.push_back(
            {"agreement of the whole map", fixed(*result.alpha, 2),
             "Krippendorff's alpha over all substances and places of the sitting: 0 as if by "
             "lot, 1 always the same; " +
                 whence});
}

}  // namespace

std::vector<PalateRow> which_one(Sat& sat) {
    Keyed keyed;
    for (std::size_t drill = 0; drill < sat.size(); ++drill) {
        const Plan& plan = sat.plan(drill);
        if (plan.kind != Kind::naming || !sat.has_answer(drill)) continue;
        keyed
            .at(names_key(plan),
                [&] {
                    PalateRow made;
                    made.title = names_title(plan);
                    return made;
                })
            .from.push_back(drill);
    }
    std::vector<PalateRow> rows = keyed.done();
    for (PalateRow& row : rows) finish_naming(sat, row);
    return rows;
}

std::vector<PalateRow> how_strong(Sat& sat) {
    Keyed keyed;
    add_newest(sat, keyed, {Kind::scaling, words_of});
    add_newest(sat, keyed, {Kind::balance, balance_of});
    add_newest(sat, keyed, {Kind::weight, weight_of});
    return finished(sat, keyed);
}

std::vector<PalateRow> how_long(Sat& sat) {
    Keyed keyed;
    add_newest(sat, keyed, {Kind::persistence, lasting_of});
    return finished(sat, keyed);
}

std::vector<PalateRow> where(Sat& sat) {
    Keyed keyed;
    for (std::size_t drill = 0; drill < sat.size(); ++drill) {
        const Plan& plan = sat.plan(drill);
        if (plan.kind != Kind::mouth_map || !sat.has_answer(drill)) continue;
        const mouth_map::Result result = mouth_map::result(sat.state(drill));
        for (std::size_t line = 0; line < line_count(plan); ++line) {
            if (result.of[line].cups == 0) continue;
            const std::string key = substance_of(plan, line).id + "\n" + plan.base_name;
            PalateRow& row = keyed.at(key, [&] { return map_row(plan, result, line); });
            if (row.from.empty()) add_numbers(result, line, sitting_text(sat, drill), row);
            row.from.push_back(drill);
        }
    }
    return keyed.done();
}

}  // namespace sipladder::drills::palate_parts
