#include "engine/threshold/best_estimate.hpp"

#include "engine/content/csv.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "tools/cli/task_option.hpp"
#include "tools/cli/verb.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <set>

namespace sipladder::cli {

namespace {

struct Options {
    std::string file;
    std::string task = "3-afc";
    std::string end_step = "local";
};

/// A level as its column's heading gives it: "0.5", "0.5_g_per_L", "concentration_g_per_L_0.5".
struct Heading {
    std::size_t column{};
    double concentration{};
    std::string unit;  ///< empty where the heading names none
};

constexpr double weakest = 1e-9;      // g/L or % vol, as in a file of answers
constexpr double strongest = 1000.0;  // g/L

std::string without(std::string text, const std::string& part) {
    const auto at = text.find(part);
    return at == std::string::npos ? text : text.erase(at, part.size());
}

Heading heading_of(const content::Table& table, std::size_t column, std::vector<Problem>& problems) {
    const std::string& name = table.heading[column];
    Heading heading{column, 0.0, {}};
    std::string number = without(name, "concentration");
    for (const std::string unit : {"g_per_L", "pct_vol"})
        if (number.find(unit) != std::string::npos) {
            heading.unit = unit;
            number = without(number, unit);
        }
    const auto first = number.find_first_not_of("_ :=");
    const auto last = number.find_last_not_of("_ :=");
    double value = 0.0;  // which is no concentration
    if (first != std::string::npos)
        value = number_from_file(number.substr(first, last - first + 1)).value_or(value);
    const bool is_level = value >= weakest && value <= strongest;
    if (!is_level)
        problems.push_back({table.file + ": heading", "column \"" + name + "\" names no concentration",
                            "head it with the number, and perhaps its unit: 0.5 or 0.5_g_per_L"});
    heading.concentration = is_level ? value : 1.0;
    return heading;
}

/// The columns of levels, weakest first.
std::vector<Heading> levels_of(const content::Table& table, std::vector<Problem>& problems) {
    std::vector<Heading> levels;
    for (std::size_t column = 0; column < table.heading.size(); ++column)
        if (table.heading[column] != "assessor") levels.push_back(heading_of(table, column, problems));
    std::sort(levels.begin(), levels.end(),
              [](const Heading& a, const Heading& b) { return a.concentration < b.concentration; });
    for (std::size_t i = 1; i < levels.size(); ++i) {
        if (levels[i].unit != levels[0].unit)
            problems.push_back({table.file + ": heading", "mixes units", "give all levels in one unit"});
        if (problems.empty() && levels[i].concentration == levels[i - 1].concentration)
            problems.push_back({table.file + ": heading",
                                "has two columns for " + exact(levels[i].concentration),
                                "one column a concentration"});
    }
    if (levels.size() < 2)
        problems.push_back({table.file + ": heading",
                            "has " + std::to_string(levels.size()) + " columns of levels",
                            "assessor, then two or more columns, each headed with its concentration"});
    return levels;
}

struct Member {
    std::string assessor;
    threshold::BestEstimate found;
};

struct Panel {
    std::string unit;
    std::vector<double> levels_log10;
    std::vector<double> right;  ///< share at each level
    std::vector<Member> members;
};

Panel read_panel(const std::string& text, const std::string& file, threshold::EndStep beyond) {
    const content::Table table = content::read_csv(text, file);
    std::vector<Problem> problems;
    const auto assessor = content::wanted_column(table, "assessor", problems);
    const std::vector<Heading> levels = levels_of(table, problems);
    if (!problems.empty()) throw Refused(problems);
    Panel panel{levels.front().unit, {}, std::vector<double>(levels.size(), 0.0), {}};
    for (const Heading& level : levels) panel.levels_log10.push_back(std::log10(level.concentration));
    std::set<std::string> names;
    for (const content::Table::Row& row : table.rows) {
        const std::string& name = row.cells[*assessor];
        if (name.empty() || !names.insert(name).second)
            problems.push_back({content::where_in(table, row, *assessor),
                                name.empty() ? "is empty" : "\"" + name + "\" has a row already",
                                "one row an assessor, each with a name of its own"});
        std::vector<bool> correct;
        for (std::size_t i = 0; i < levels.size(); ++i) {
            const auto cell = content::integer_in(table, row, levels[i].column, 0, 1, problems);
            correct.push_back(cell.value_or(0) == 1);
            if (correct.back()) panel.right[i] += 1.0 / static_cast<double>(table.rows.size());
        }
        panel.members.push_back({name, threshold::best_estimate(panel.levels_log10, correct, beyond)});
    }
    if (table.rows.empty())
        problems.push_back({file, "holds no assessor", "give at least one row below the heading"});
    if (!problems.empty()) throw Refused(problems);
    for (double& share : panel.right) share = std::min(share, 1.0);
    return panel;
}

std::string end_name(threshold::SeriesEnd end) {
    return end == threshold::SeriesEnd::below   ? "below"
           : end == threshold::SeriesEnd::above ? "above"
                                                : "inside";
}

Json as_json(const Panel& panel, const threshold::GroupEstimate& group,
             const std::optional<double>& interpolated) {
    Json assessors = Json::array();
    for (const Member& member : panel.members)
        assessors.push_back({{"assessor", member.assessor},
                             {"log10", member.found.log10},
                             {"value", std::pow(10.0, member.found.log10)},
                             {"end", end_name(member.found.end)}});
    const Json unit = panel.unit.empty() ? Json(nullptr) : Json(panel.unit);
    return {{"assessors", assessors},
            {"group",
             {{"log10", group.log10},
              {"value", std::pow(10.0, group.log10)},
              {"sd_log10", optional_json(group.sd_log10)},
              {"se_log10", optional_json(group.se_log10)},
              {"people", group.people},
              {"below", group.below},
              {"above", group.above},
              {"interpolated_log10", optional_json(interpolated)}}},
            {"unit", unit}};
}

void best_estimate(const Common& common, const Options& options) {
    if (options.end_step != "local" && options.end_step != "mean")
        throw Refused("--end-step", "\"" + options.end_step + "\" is none", "local or mean");
    const threshold::Task task = task_from(options.task);
    const Panel panel =
        read_panel(read_file(options.file), options.file,
                   options.end_step == "mean" ? threshold::EndStep::mean : threshold::EndStep::local);
    std::vector<threshold::BestEstimate> members;
    for (const Member& member : panel.members) members.push_back(member.found);
    const threshold::GroupEstimate group = threshold::group_estimate(members);
    const auto interpolated = threshold::interpolated_threshold(panel.levels_log10, panel.right, task.guess);
    if (common.json) return print(as_json(panel, group, interpolated));
    const std::string unit = panel.unit.empty()        ? ""
                             : panel.unit == "g_per_L" ? " " + unit_text(Scale::g_per_L)
                                                       : " " + unit_text(Scale::pct_vol);
    for (const Member& member : panel.members)
        say(member.assessor + ": " + significant(std::pow(10.0, member.found.log10), 3) + unit +
            (member.found.end == threshold::SeriesEnd::inside
                 ? ""
                 : ", " + end_name(member.found.end) + " the series"));
    say("Group of " + std::to_string(group.people) + ": " + significant(std::pow(10.0, group.log10), 3) +
        unit + " (geometric mean)" +
        (group.sd_log10
             ? ", standard deviation a factor of " + significant(std::pow(10.0, *group.sd_log10), 3)
             : std::string()) +
        ".");
    if (group.below + group.above > 0)
        say("Mind: " + std::to_string(group.below) + " below and " + std::to_string(group.above) +
            " above the series count as half a step beyond its end; a longer series would place them.");
}

}  // namespace

void add_best_estimate(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("best-estimate", "ascending series: best-estimate thresholds");
    auto options = std::make_shared<Options>();
    verb.add_option(
            "file", options->file,
            "assessor, then one column a concentration (0.5 or 0.5_g_per_L), cells 1 right or 0 wrong")
        .required();
    verb.add_option("--task", options->task, "3-afc (default), 2-afc, m-afc:M: for the interpolated check");
    verb.add_option("--end-step", options->end_step,
                    "local (default) or mean: the step that the series goes on with beyond its ends");
    verb.on_run([&common, options] { best_estimate(common, *options); });
}

}  // namespace sipladder::cli
