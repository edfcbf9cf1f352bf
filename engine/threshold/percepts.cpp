#include "engine/threshold/percepts.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

// Right in 3-AFC: the clear cup's percept Normal(d', 1) passes two Normal(0, 1). The share wrong is
// 2 ∫ φ(u) Φ(u) Φ(u - d') du; summed by the trapezoid rule, which for such smooth bells is exact to rounding.

namespace sipladder::threshold::percepts {

namespace {

double share_wrong(double distance) {
    constexpr double reach = 8.0;
    constexpr double step = 0.125;
    double sum = 0.0;
    for (int i = 0; i <= static_cast<int>(2.0 * reach / step); ++i) {
        const double u = i * step - reach;
        sum += std::exp(-0.5 * u * u) * normal_below(u) * normal_below(u - distance);
    }
    return 2.0 * sum * step * std::numbers::inv_sqrtpi / std::numbers::sqrt2;
}

}  // namespace

NormalTable::NormalTable() {
    for (long i = -reach; i <= reach; ++i) values_.push_back(normal_below(0.01 * static_cast<double>(i)));
}

double NormalTable::below(long hundredths) const {
    return values_[static_cast<std::size_t>(std::clamp(hundredths, -reach, reach) + reach)];
}

std::vector<double> distance_edges() {
    std::vector<double> edges;
    for (std::size_t i = 0; i + 1 < HabitModel::distances; ++i) {
        const double wrong = 1.5 * share_wrong((static_cast<double>(i) + 0.5) * HabitModel::distance_step);
        edges.push_back(std::log((1.0 - wrong) / wrong));
    }
    return edges;
}

double blank_share(double lapse) {
    return std::min(1.5 * lapse, 1.0);
}

std::vector<double> cut_points(double first, double spacing, std::size_t grades) {
    SIPLADDER_EXPECT(grades >= 2);
    if (grades == 2) return {first + spacing};
    std::vector<double> cuts;
    for (std::size_t j = 0; j + 1 < grades; ++j)
        cuts.push_back(first + 2.0 * spacing * static_cast<double>(j) / static_cast<double>(grades - 2));
    return cuts;
}

}  // namespace sipladder::threshold::percepts
