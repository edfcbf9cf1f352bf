#pragma once

#include "drills/ranking.hpp"

/// Weight: every rung together, put in order of weight in the mouth, with a tasteless thickener or glycerol.
namespace sipladder::drills::weight {

/// Ethanol is ordered for practice only: more of it is less dense, and its burn tells the order without any
/// weight.
bool is_scored(const Plan& plan);

ranking::Result result(const State& drill);

}  // namespace sipladder::drills::weight
