#include "gui/views/handbook_figures.hpp"

#include "drills/plans.hpp"
#include "engine/chart/class_spread.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "engine/chart/weeks.hpp"
#include "engine/content/content.hpp"
#include "engine/panel/panel.hpp"
#include "engine/trend/trend.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

namespace sipladder::gui {

namespace {

using threshold::Answered;

/// Twelve invented presentations of sucrose, through the same fit and the same chart as everybody's.
chart::Chart invented_curve(const content::Content& content) {
    const solution::Substance& sucrose = content.substance("sucrose");
    solution::MixedLadder ladder{
        .substance = sucrose.id, .base = "water", .scale = Scale::g_per_L, .levels = {}};
    for (const double level : {0.15, 0.44, 1.3, 4.0, 12.0, 36.0})
        ladder.levels.push_back({.target = level,
                                 .mixed = level,
                                 .u_own_rel = 0.02,
                                 .u_shared_rel = 0.02,
                                 .bottle = {},
                                 .portions = 0});
    std::vector<Answered> answers;
    const auto add = [&](std::size_t level, int right, int wrong) {
        for (int i = 0; i < right + wrong; ++i)
            answers.push_back({.level = level, .correct = i < right, .certainty = {}});
    };
    add(1, 0, 1);
    add(2, 1, 2);
    add(3, 3, 2);
    add(4, 3, 0);
    const threshold::Prior prior = drills::assumed_prior(sucrose);
    const threshold::Threshold found = threshold::threshold(ladder, answers, prior, threshold::three_afc);
    threshold::Posterior posterior(prior, threshold::three_afc, threshold::Fineness::fine);
    for (const threshold::Counts& at : threshold::counts_of(ladder, answers)) posterior.update(at);
    return chart::psychometric_curve({.title = "sucrose in water, invented answers",
                                      .component = sucrose.component,
                                      .levels = chart::pooled(ladder, answers),
                                      .curve = chart::curve_over(ladder, posterior),
                                      .threshold = found});
}

constexpr std::array<double, 6> class_levels_g_per_L{0.75, 1.5, 3.0, 6.0, 12.0, 24.0};

/// So many of three presentations right at each level, weakest first.
std::vector<threshold::Counts> thrice(const std::array<std::size_t, 6>& right) {
    std::vector<threshold::Counts> counts;
    counts.reserve(right.size());
    for (std::size_t level = 0; level < right.size(); ++level)
        counts.push_back({std::log10(class_levels_g_per_L[level]), 3, right[level], 0.01});
    return counts;
}

/// Eight invented people; two of them answered far apart from the rest.
chart::Chart invented_class(const content::Content& content) {
    const solution::Substance& sucrose = content.substance("sucrose");
    const std::vector<std::pair<std::string, std::array<std::size_t, 6>>> people{
        {"Invented A", {1, 2, 3, 3, 3, 3}}, {"Invented B", {1, 1, 2, 3, 3, 3}},
        {"Invented C", {0, 1, 2, 3, 3, 3}}, {"Invented D", {1, 1, 2, 2, 3, 3}},
        {"Invented E", {2, 0, 1, 3, 3, 3}}, {"Invented F", {1, 1, 1, 2, 3, 3}},
        {"Invented G", {0, 2, 1, 2, 3, 3}}, {"Invented H", {1, 1, 0, 1, 1, 2}}};
    std::vector<panel::Member> members;
    members.reserve(people.size());
    for (const auto& [name, right] : people) members.push_back({.name = name, .counts = thrice(right)});
    return chart::class_spread(
        {.title = "sucrose in water, invented people",
         .component = sucrose.component,
         .panel = panel::pooled(members, drills::assumed_prior(sucrose), threshold::three_afc)});
}

/// Seven invented sittings of one person whose threshold stays where it is.
chart::Chart invented_weeks(const content::Content& content) {
    const solution::Substance& sucrose = content.substance("sucrose");
    const std::vector<std::array<std::size_t, 6>> sittings{
        {0, 1, 1, 2, 3, 3}, {1, 1, 2, 3, 3, 3}, {1, 0, 1, 3, 3, 3}, {1, 2, 2, 3, 3, 3},
        {1, 1, 1, 2, 3, 3}, {1, 1, 3, 2, 3, 3}, {0, 1, 2, 3, 3, 3}};
    std::vector<trend::Sitting> told;
    told.reserve(sittings.size());
    for (std::size_t week = 0; week < sittings.size(); ++week)
        told.push_back(
            {.date = "2026-0" + std::to_string(week / 4 + 3) + "-0" + std::to_string(week % 4 * 2 + 1),
             .week = static_cast<double>(week),
             .counts = thrice(sittings[week]),
             .mix = "one",
             .u_shared_log10 = 0.01,
             .conditions = {},
             .notes = {}});
    return chart::weeks({.title = "sucrose in water, invented: seven weeks in which nothing changed",
                         .component = sucrose.component,
                         .trend = trend::trend(told, drills::assumed_prior(sucrose), threshold::three_afc),
                         .sittings = told,
                         .span = {},
                         .note = {}});
}

}  // namespace

std::optional<chart::Chart> handbook_figure(const std::string& id, const content::Content& content) {
    if (id == "curve") return invented_curve(content);
    if (id == "class") return invented_class(content);
    if (id == "weeks") return invented_weeks(content);
    return std::nullopt;
}

}  // namespace sipladder::gui
