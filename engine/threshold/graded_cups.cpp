#include "engine/threshold/graded_cups.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace sipladder::threshold::graded {

namespace {

constexpr std::size_t most_grades = 10;

}  // namespace

Pooled pooled(std::span<const GradedCounts> counts) {
    if (counts.empty()) throw Refused("grades", "have no cups", "blanks and at least one level");
    Pooled all;
    all.grades = counts.front().grades.size();
    if (all.grades < 2 || all.grades > most_grades)
        throw Refused("grades", "are " + std::to_string(all.grades), "2 to " + std::to_string(most_grades));
    all.blanks.assign(all.grades, 0);
    const auto add = [](const std::vector<std::size_t>& from, std::vector<std::size_t>& to) {
        for (std::size_t g = 0; g < from.size(); ++g) to[g] += from[g];
    };
    for (const GradedCounts& at : counts) {
        if (at.grades.size() != all.grades)
            throw Refused("grades", "differ in number from level to level", "the same everywhere");
        if (!at.x_log10) {
            add(at.grades, all.blanks);
            continue;
        }
        if (!std::isfinite(*at.x_log10))
            throw Refused("level", "is not a finite number", "a concentration above 0");
        auto [level, is_new] = all.levels.try_emplace(*at.x_log10, all.grades, 0);
        add(at.grades, level->second);
    }
    const auto is_empty = [](const auto& level) {
        return std::all_of(level.second.begin(), level.second.end(), [](std::size_t n) { return n == 0; });
    };
    std::erase_if(all.levels, is_empty);
    if (is_empty(std::pair{0, all.blanks}))
        throw Refused("blanks", "are none",
                      "cups of concentration 0 among the others; grades mean nothing without");
    if (all.levels.empty()) throw Refused("levels", "are none with cups", "at least one above 0");
    return all;
}

double ln_ways(const std::vector<std::size_t>& grades) {
    double all = 0.0;
    double ln = 0.0;
    for (const std::size_t count : grades) {
        all += static_cast<double>(count);
        ln -= std::lgamma(static_cast<double>(count) + 1.0);
    }
    return ln + std::lgamma(all + 1.0);
}

void widen(Threshold& t, double u_shared_log10) {
    t.sd_log10 = std::hypot(t.sd_log10, u_shared_log10);
    t.mixing_sd_log10 = u_shared_log10;
    t.lower_log10 = t.log10 - std::hypot(t.log10 - t.lower_log10, normal_975 * u_shared_log10);
    t.upper_log10 = t.log10 + std::hypot(t.upper_log10 - t.log10, normal_975 * u_shared_log10);
}

void warn(const Pooled& cups, double outermost, Threshold& t) {
    std::size_t blanks = 0;
    for (const std::size_t count : cups.blanks) blanks += count;
    constexpr std::size_t few = 4;
    if (blanks < few)
        t.warnings.push_back(
            {Warning::Kind::too_few,
             "Only " + std::to_string(blanks) +
                 " blanks: how this person grades nothing at all is hardly known. A third of the "
                 "cups is a good share."});
    if (outermost > 0.5)
        t.warnings.push_back({Warning::Kind::grid_edge,
                              "The grades are used in an unusual way (nearly all alike, or far apart): the "
                              "interval may be too narrow. Settle what each grade means and grade again."});
    if (t.log10 < cups.levels.begin()->first)
        t.warnings.push_back(
            {Warning::Kind::all_correct, "The threshold lies below the weakest level: mix a weaker one."});
    if (t.log10 > cups.levels.rbegin()->first)
        t.warnings.push_back(
            {Warning::Kind::guessing, "The threshold lies above the strongest level: mix a stronger one."});
}

}  // namespace sipladder::threshold::graded
