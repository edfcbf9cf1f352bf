#pragma once

#include "engine/chart/chart.hpp"

#include <span>
#include <vector>

namespace sipladder::chart {

/// Where a value lies along an axis: 0 at `from`, 1 at `to`. On a logarithmic axis a value of 0 or less lies
/// at minus infinity.
double share_along(const Axis& axis, double value);

/// Round numbers on an axis, the densest choice first: a drawing takes the first whose labels fit.
/// Logarithmic: 1 2 5, then 1 3, then powers of ten, then every second, third … of them; short of two of
/// these, as linear. Linear: steps of 1, 2 or 5 times a power of ten. Explicit ticks: all, every second,
/// every third … Every choice has two ticks or more, but where only one round number is to be had.
std::vector<std::vector<Tick>> tick_choices(const Axis& axis);

/// The fewest significant digits, `least` (1 to 4) or more, with which no two different values read alike; 4
/// where more would be needed.
int digits_apart(std::span<const double> values, int least);

/// Values of the unlabelled ticks between: 1 to 9 times powers of ten on a logarithmic axis, none on a linear
/// one.
std::vector<double> small_ticks(const Axis& axis);

}  // namespace sipladder::chart
