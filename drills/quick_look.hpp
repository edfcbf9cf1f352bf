#pragma once

#include "drills/drill.hpp"
#include "engine/threshold/quick_look.hpp"

/// Quick look: single cups, a third of them blanks, graded in four steps (A - not A of ISO 8588). Adaptive
/// when a helper serves, levels fixed beforehand with the sealed key.
namespace sipladder::drills::quick_look {

/// Every cup that is done, in the order in which it was tasted.
std::vector<threshold::GradedCup> graded_cups(const State& drill);
/// @throws Refused  before a blank and a level have been graded
threshold::QuickLook result(const State& drill);

}  // namespace sipladder::drills::quick_look
