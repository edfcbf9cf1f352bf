#pragma once

#include "drills/drill.hpp"
#include "engine/threshold/quick_look.hpp"

#include <optional>
#include <span>
#include <vector>

/// Quick look: single cups, a third of them blanks, graded in four steps (A - not A of ISO 8588). Adaptive
/// when a helper serves, levels fixed beforehand with the sealed key.
namespace sipladder::drills::quick_look {

/// Every cup that is done, in the order in which it was tasted.
std::vector<threshold::GradedCup> graded_cups(const State& drill);
/// Whether there are a blank and a level among them.
bool can_be_fitted(const State& drill);
/// @throws Refused  before a blank and a level have been graded
threshold::QuickLook result(const State& drill);

/// A few 3-AFC presentations of the same bottles in the same sitting check the grades, in words too. Nothing
/// where the sitting holds none, or before a blank and a level have been graded.
/// @param sitting  drills of one sitting; all but detection of the same levels is passed over
std::optional<threshold::QuickLookCheck> check(const State& drill, std::span<const State> sitting);

}  // namespace sipladder::drills::quick_look
