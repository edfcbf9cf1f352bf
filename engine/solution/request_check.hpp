#pragma once

#include "engine/problem.hpp"
#include "engine/solution/mix_plan.hpp"

#include <vector>

namespace sipladder::solution {

/// Everything about a request that makes planning senseless, found before any candidate is tried; empty if
/// nothing.
std::vector<Problem> problems_of(const PlanRequest& request);

}  // namespace sipladder::solution
