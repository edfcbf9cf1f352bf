#pragma once

#include "engine/chart/chart.hpp"

/// A chart looked at from nearer: which part of its x axis is seen.
namespace sipladder::chart {

/// Values of the x axis; from < to, both above 0 on a logarithmic one.
struct Seen {
    double from{};
    double to{};

    bool operator==(const Seen&) const = default;
};

/// Its x axis is a scale: shown, and not a row of names.
bool can_be_nearer(const Chart& chart);
Seen all_of(const Axis& whole);
/// Within the axis, and no less than its 500th part; all of it where the values are none of an axis.
Seen within(const Axis& whole, Seen seen);
/// Nearer by this factor, or farther where it is below 1; the value `about` stays where it is.
Seen nearer(const Axis& whole, const Seen& seen, double about, double factor);
/// Moved on by this share of what is seen, as far as the axis goes.
Seen along(const Axis& whole, const Seen& seen, double share);
/// Where a value stands in what is seen: 0 at its left end, 1 at its right one; and back.
double share_in(const Axis& whole, const Seen& seen, double value);
double value_in(const Axis& whole, const Seen& seen, double share);

/// The chart as it is seen: marks beyond it left out, ticks as close as its labels allow.
Chart part_of(const Chart& chart, const Seen& seen);

}  // namespace sipladder::chart
