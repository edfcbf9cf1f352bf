#pragma once

#include "drills/detection.hpp"

#include <vector>

/// What follows from a plan alone, before any answer; shared by the drill's own files.
namespace sipladder::drills::detection {

/// @throws Refused with everything that keeps the plan from being carried out or read back
void check_shape(const Plan& plan);
/// @throws Refused when the worst case crosses a cap
void check_caps(const Plan& plan);

/// Portions of each rung that presentations may use: not the known clear cup, never more than there are
/// presentations, and served by a helper never more than the card has lines for.
std::vector<int> portions_to_serve(const Plan& plan);
/// What a presentation of this level gives: its cup and the blanks beside it.
safety::Intake presentation_intake(const Plan& plan, std::size_t level);
/// Intake from the known clear cup and the known blank.
safety::Intake known_clear_intake(const Plan& plan);

}  // namespace sipladder::drills::detection
