#pragma once

#include "engine/solution/mix_plan.hpp"
#include "engine/solution/search.hpp"

#include <string>

namespace sipladder::solution {

/// Where the plan misses what is wanted: why, what is reached, and the one change that helps most.
/// @param plan  with its levels and their budgets
std::string advice_for(const MixPlan& plan);

/// The one change that lets these levels be made at all, or a plain sentence where none of those tried does.
std::string advice_to_make_any(const PlanRequest& request);

}  // namespace sipladder::solution
