#include "engine/threshold/best_estimate.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <cmath>
#include <string>

// Published software puts the lower end at log 0, which is the concentration 1, and so moves those who never
// miss to the wrong side of the series; half a step beyond the end is the standard's own rule.

namespace sipladder::threshold {

namespace {

void check_levels(std::span<const double> levels_log10, std::size_t answers) {
    if (levels_log10.size() < 2)
        throw Refused("levels", "the series has " + std::to_string(levels_log10.size()),
                      "two or more; the step beyond the ends is taken from them");
    if (answers != levels_log10.size())
        throw Refused("answers",
                      std::to_string(answers) + " for " + std::to_string(levels_log10.size()) + " levels",
                      "one a level");
    for (std::size_t i = 0; i < levels_log10.size(); ++i) {
        if (!std::isfinite(levels_log10[i]))
            throw Refused("level " + std::to_string(i + 1), "is not a finite number",
                          "a concentration above 0");
        if (i > 0 && !(levels_log10[i] > levels_log10[i - 1]))
            throw Refused("level " + std::to_string(i + 1), "is not stronger than the level before it",
                          "levels run from weakest to strongest");
    }
}

void check_shares(std::span<const double> levels_log10, std::span<const double> right, double guess) {
    check_levels(levels_log10, right.size());
    if (!(guess >= 0.0 && guess < 1.0)) throw Refused("guess", "is " + exact(guess), "0 to below 1");
    for (const double share : right)
        if (!(share >= 0.0 && share <= 1.0)) throw Refused("share right", "is " + exact(share), "0 to 1");
}

}  // namespace

BestEstimate best_estimate(std::span<const double> levels_log10, const std::vector<bool>& correct,
                           EndStep beyond) {
    check_levels(levels_log10, correct.size());
    const std::size_t count = levels_log10.size();
    std::size_t passed = count;  // the level from which on every answer is right
    while (passed > 0 && correct[passed - 1]) --passed;
    const double mean_step = (levels_log10.back() - levels_log10.front()) / static_cast<double>(count - 1);
    if (passed == 0) {
        const double step = beyond == EndStep::mean ? mean_step : levels_log10[1] - levels_log10[0];
        return {levels_log10[0] - 0.5 * step, SeriesEnd::below};
    }
    if (passed == count) {
        const double step =
            beyond == EndStep::mean ? mean_step : levels_log10[count - 1] - levels_log10[count - 2];
        return {levels_log10[count - 1] + 0.5 * step, SeriesEnd::above};
    }
    return {0.5 * (levels_log10[passed - 1] + levels_log10[passed]), SeriesEnd::inside};
}

GroupEstimate group_estimate(std::span<const BestEstimate> members) {
    if (members.empty()) throw Refused("group", "has no members", "one or more");
    GroupEstimate group;
    group.people = members.size();
    const auto people = static_cast<double>(members.size());
    for (const BestEstimate& member : members) {
        group.log10 += member.log10 / people;
        if (member.end == SeriesEnd::below) ++group.below;
        if (member.end == SeriesEnd::above) ++group.above;
    }
    if (members.size() == 1) return group;
    double squares = 0.0;
    for (const BestEstimate& member : members) squares += std::pow(member.log10 - group.log10, 2);
    group.sd_log10 = std::sqrt(squares / (people - 1.0));
    group.se_log10 = *group.sd_log10 / std::sqrt(people);
    return group;
}

std::optional<double> interpolated_threshold(std::span<const double> levels_log10,
                                             std::span<const double> right, double guess) {
    check_shares(levels_log10, right, guess);
    const double wanted = 0.5 * (1.0 + guess);
    for (std::size_t i = 1; i < right.size(); ++i) {
        if (!(right[i - 1] < wanted && right[i] >= wanted)) continue;
        const double part = (wanted - right[i - 1]) / (right[i] - right[i - 1]);
        return levels_log10[i - 1] + part * (levels_log10[i] - levels_log10[i - 1]);
    }
    return std::nullopt;
}

std::optional<LogitLine> logit_line(std::span<const double> levels_log10, std::span<const double> right,
                                    double guess) {
    check_shares(levels_log10, right, guess);
    double count = 0.0;
    double mean_x = 0.0;
    double mean_y = 0.0;
    double xx = 0.0;
    double xy = 0.0;
    for (std::size_t i = 0; i < right.size(); ++i) {
        const double p = (right[i] - guess) / (1.0 - guess);
        if (!(p > 0.0 && p < 1.0)) continue;
        // Welford's running means keep their digits for levels close together.
        count += 1.0;
        const double dx = levels_log10[i] - mean_x;
        const double y = std::log10(p / (1.0 - p));
        mean_x += dx / count;
        mean_y += (y - mean_y) / count;
        xx += dx * (levels_log10[i] - mean_x);
        xy += dx * (y - mean_y);
    }
    if (count < 2.0 || xy == 0.0) return std::nullopt;
    const double slope = xy / xx;
    return LogitLine{mean_y - slope * mean_x, slope};
}

}  // namespace sipladder::threshold
