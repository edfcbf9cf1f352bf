#pragma once

#include "engine/solution/mix_plan.hpp"

#include <string>
#include <vector>

namespace sipladder::solution {

/// Every instrument of these kitchens, each once: what the advice may propose (PlanRequest::to_buy).
Equipment every_instrument(const std::vector<Equipment>& kitchens);

/// Where the plan misses what is wanted: why, what is reached, and the one change of equipment that helps
/// most, with the figure it would reach.
/// @param plan  with its levels and their budgets
std::string advice_for(const MixPlan& plan);

/// The one change that lets these levels be made at all, or a plain sentence where none of those tried does.
std::string advice_to_make_any(const PlanRequest& request);

}  // namespace sipladder::solution
