#pragma once

#include "engine/solution/mix_plan.hpp"

namespace sipladder::solution {

/// The plan with the fewest hand operations whose every level meets the wanted uncertainty; where none does,
/// the most certain one with `met` false and advice. Every reading is one that the equipment can show.
/// @throws Refused  where the request cannot be planned at all (no balance, ladder above solubility or caps,
/// cup
///                  volume not positive …), naming the field
MixPlan plan(const PlanRequest& request);

/// The letters that the plan gives its bottles, weakest rung first: none that reads as a digit (I, L, O) or
/// as a stock (A to C), with a digit where those do not suffice. They follow the ladder's name and the seed.
std::vector<std::string> bottle_letters(const PlanRequest& request);

}  // namespace sipladder::solution
