#pragma once

#include "drills/plan.hpp"

#include <cstddef>
#include <string>

/// Which bottles a drill was poured from.
namespace sipladder::drills {

/// The letter of the bottle that a rung was poured from: of another condition of the same bottles its own.
std::string poured_from(const Plan& plan, std::size_t line, const solution::MixedLevel& level);

/// Whether a line of a drill was poured from the bottles of this mix. Difference keeps what its rungs hold
/// beyond the pedestal, which may be a bottle of the same mix.
bool is_from(const Plan& plan, std::size_t line, const solution::MixedLadder& mix);

}  // namespace sipladder::drills
