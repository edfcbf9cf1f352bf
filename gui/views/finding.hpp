#pragma once

#include "gui/app/history.hpp"
#include "gui/views/taste.hpp"

namespace sipladder::gui {

/// What one done drill found, in words and as a curve.
FindingView finding_view(const App& app, const PastDrill& past);
/// The curve of a done drill.
chart::Chart curve_of(const PastDrill& past, const threshold::Threshold& threshold);
/// "1.4 (0.8 to 2.6) g/L", and with which prior, mixing share and answers it was found.
Shown shown_of(const threshold::Threshold& threshold, const drills::detection::State& state);

}  // namespace sipladder::gui
