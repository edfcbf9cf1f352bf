#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"
#include "engine/trend/periods.hpp"
#include "engine/trend/trend.hpp"

#include <optional>
#include <span>
#include <string>
#include <utility>

namespace sipladder::chart {

struct Weeks {
    std::string title;  ///< substance and base
    solution::Component component{};
    trend::Trend trend;
    std::span<const trend::Sitting> sittings;            ///< those that the trend was made from
    std::optional<std::pair<double, double>> span;       ///< weeks shown; nothing: those of the sittings
    std::string note;                                    ///< below; empty: how to read the picture
    std::optional<double> goal = {};                     ///< on the trend's scale, > 0: a rule
    std::optional<trend::PeriodsCompared> periods = {};  ///< each a dashed level with its band
};

/// One substance over weeks: each sitting's own estimate with its bar (practice hollow), the line with its
/// band in each stretch, a rule with its reason where a new stretch begins, notes as flags at the top.
Chart weeks(const Weeks& data);
/// The undrilled control on the same time axis, to stand beneath the other.
Chart weeks_of_control(Weeks control, std::span<const trend::Sitting> drilled);

}  // namespace sipladder::chart
