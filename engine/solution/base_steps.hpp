#pragma once

#include "engine/solution/mix_plan.hpp"

#include <vector>

/// Mixing the base itself, where it is more than water.
namespace sipladder::solution {

/// `Step::into` of every step that makes the base.
inline constexpr const char* the_base = "the base";

struct BaseMix {
    Millilitres volume;  ///< made; at least what was asked for
    std::vector<Step> steps;
    std::vector<ShoppingItem> shopping;  ///< constituents, and the water
};

/// Each constituent weighed, then filled up with the base's water; in several batches, poured together, where
/// the scales or vessels are too small for one. More is made where a load would otherwise be too small to
/// weigh. Nothing to do for plain water: then the base is bought as it is.
/// @throws Refused  where no balance can weigh a constituent, and for a base with ethanol
BaseMix base_mix(const PlanRequest& request, Millilitres wanted);

/// Rounded up to two significant digits: nobody buys 237.8 g.
double rounded_up(double amount);

}  // namespace sipladder::solution
