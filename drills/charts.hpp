#pragma once

#include "drills/drill.hpp"
#include "engine/chart/chart.hpp"

#include <vector>

namespace sipladder::drills {

/// The pictures of what a drill found whose cups were drawn beforehand: confusion table, words against g/L,
/// marks against level, mouth maps, seconds. None for other drills, or before the first cup is done.
std::vector<chart::Chart> charts_of(const State& drill);

}  // namespace sipladder::drills
