#pragma once

#include "engine/chart/chart.hpp"
#include "engine/panel/panel.hpp"
#include "engine/solution/substance.hpp"

#include <cstddef>
#include <string>

namespace sipladder::chart {

struct ClassSpread {
    std::string title;  ///< substance and base
    solution::Component component{};
    panel::Panel panel;
};

/// A class, one row a person, most sensitive first: the estimate that the others help with and its bar, the
/// person's own as a short upright dash, and the pull from one to the other; behind them the panel's mean
/// with its interval and the spread between people. Who stands clear of the mean has a filled mark.
Chart class_spread(const ClassSpread& data);
/// The height that so many people need, as a multiple of the painter's small text height.
double class_spread_lines(std::size_t people);

}  // namespace sipladder::chart
