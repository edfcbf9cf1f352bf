#pragma once

#include "engine/solution/mix_plan.hpp"

namespace sipladder::solution {

/// The ladder that is in the bottles once the readings entered are taken into account; a step without a
/// reading is taken as planned. Levels are sorted weakest first.
/// @throws Refused  for a reading that is not positive, not finite, or further than a factor 3 from the
/// planned one
MixedLadder as_mixed(const MixPlan& plan, const Readings& readings);

}  // namespace sipladder::solution
