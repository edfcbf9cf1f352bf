#pragma once

#include "engine/solution/recipe.hpp"

#include <vector>

namespace sipladder::solution {

/// What makes a bottle's concentration uncertain, line by line, largest first (GUM, 5.1 and 8).
/// @param first_step  index of the step that is the load of the first making
/// @source gum_2008
std::vector<BudgetLine> budget_of(const PlanRequest& request, const std::vector<Making>& makings,
                                  const Bottle& bottle, const std::vector<bool>& is_shared,
                                  std::size_t first_step = 0);

}  // namespace sipladder::solution
