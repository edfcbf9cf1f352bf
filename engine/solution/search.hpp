#pragma once

#include "engine/solution/recipe.hpp"
#include "engine/solution/ways.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace sipladder::solution {

/// A recipe that makes every level: stocks first, then the levels, weakest first, each in all its batches.
struct Candidate {
    std::vector<Making> makings;
    std::size_t stocks{};      ///< how many of the makings are stocks
    std::size_t operations{};  ///< hand operations
    double largest_u_rel{};    ///< of the level that is known worst
    double left_over_mL{};     ///< made and not needed
    std::size_t digits{};      ///< significant digits of all readings
    bool met{};                ///< the largest uncertainty is within what is wanted
};

/// How many recipes are worked out in full for each number of stocks; fewer for a quick answer.
enum class Effort { thorough, quick };

/// The best candidate there is: fewest operations where what is wanted is met, least uncertain where it is
/// not; ties by uncertainty as printed, by what is left over and by how round the readings are. No more than
/// three times the volume needed is made of anything, ten times where nothing else meets what is wanted
/// (judgement). Nothing where this equipment cannot make the levels at all.
std::optional<Candidate> best_candidate(const PlanRequest& request, Effort effort = Effort::thorough);

}  // namespace sipladder::solution
