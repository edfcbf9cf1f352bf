#pragma once

#include "gui/app/history.hpp"
#include "gui/views/taste.hpp"

namespace sipladder::gui {

/// What one done drill found, in words and as a curve.
FindingView finding_view(const App& app, const PastDrill& past);
/// The part of the variance that comes from mixing, as percent.
std::string mixing_share(const threshold::Threshold& threshold);
/// "1.4 (0.8 to 2.6) g/L", and with which prior, mixing share and answers it was found.
Shown shown_of(const threshold::Threshold& threshold, const drills::State& state);

}  // namespace sipladder::gui
