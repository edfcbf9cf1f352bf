#include "tools/benchmark/staircase.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace sipladder::benchmark {

namespace {

/// Upper 2.5 % point of Student's t, from its table (from memory, checked against R's qt); normal beyond 30.
double t_975(std::size_t degrees) {
    constexpr std::array<double, 30> table{12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306,
                                           2.262,  2.228, 2.201, 2.179, 2.160, 2.145, 2.131, 2.120,
                                           2.110,  2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064,
                                           2.060,  2.056, 2.052, 2.048, 2.045, 2.042};
    SIPLADDER_EXPECT(degrees > 0);
    constexpr double normal_975 = 1.960;
    return degrees <= table.size() ? table[degrees - 1] : normal_975;
}

}  // namespace

void Staircase::answer(bool correct) {
    ++trials_;
    int direction = 0;
    if (!correct) {
        direction = 1;
        right_in_a_row_ = 0;
    } else if (++right_in_a_row_ == rule_.right_for_down) {
        direction = -1;
        right_in_a_row_ = 0;
    }
    if (direction == 0) return;
    if (last_direction_ != 0 && direction != last_direction_) {
        reversals_.push_back(level_);
        reversal_trials_.push_back(trials_);
    }
    last_direction_ = direction;
    const double usual = direction > 0 ? rule_.step_up : rule_.step_down;
    const auto& first = direction > 0 ? rule_.first_up : rule_.first_down;
    const double step = reversals_.empty() ? first.value_or(usual) : usual;
    level_ += direction * step;
    if (rule_.weakest_log10) level_ = std::max(level_, *rule_.weakest_log10);
    if (rule_.strongest_log10) level_ = std::min(level_, *rule_.strongest_log10);
}

MeanWithInterval mean_with_t_interval(std::span<const double> values) {
    SIPLADDER_EXPECT(!values.empty());
    const double n = static_cast<double>(values.size());
    const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    if (values.size() < 2) return {mean, std::nullopt, std::nullopt};
    double square = 0.0;
    for (const double value : values) square += (value - mean) * (value - mean);
    const double reach = t_975(values.size() - 1) * std::sqrt(square / (n - 1.0) / n);
    return {mean, mean - reach, mean + reach};
}

MeanWithInterval estimate_of(const Staircase& staircase) {
    const auto all = staircase.reversal_levels();
    if (all.size() < 2) return {staircase.level_log10(), std::nullopt, std::nullopt};
    return mean_with_t_interval(all.subspan(1));
}

double mean_of_last_reversals(std::span<const double> reversals, std::size_t most) {
    std::size_t count = most == 0 ? reversals.size() : std::min(most, reversals.size());
    count -= count % 2;
    SIPLADDER_EXPECT(count > 0);
    const auto used = reversals.last(count);
    return std::accumulate(used.begin(), used.end(), 0.0) / static_cast<double>(count);
}

double target_share(std::size_t right_for_down, double up_over_down) {
    SIPLADDER_EXPECT(right_for_down > 0 && up_over_down > 0.0);
    // p^k of the trials' ends go down, the rest up: p^k · down = (1 - p^k) · up.
    return std::pow(up_over_down / (1.0 + up_over_down), 1.0 / static_cast<double>(right_for_down));
}

}  // namespace sipladder::benchmark
