#pragma once

#include "engine/solution/recipe.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace sipladder::solution {

/// A recipe that makes every level: stocks first, then the levels, weakest first.
struct Candidate {
    std::vector<Making> makings;
    std::size_t stocks{};      ///< how many of the makings are stocks
    std::size_t operations{};  ///< hand operations
    double largest_u_rel{};    ///< of the level that is known worst
    bool met{};                ///< it is within what is wanted
};

/// Hand operations of one making: weighing or each fill of a syringe, filling up, and pouring over where the
/// load is not weighed where it is filled up.
std::size_t operations(const Making& making);

/// The best candidate there is: fewest operations where what is wanted is met, least uncertain where it is
/// not. Nothing where this equipment cannot make the levels at all.
std::optional<Candidate> best_candidate(const PlanRequest& request);

}  // namespace sipladder::solution
