#pragma once

#include "gui/app/history.hpp"
#include "gui/views/taste.hpp"

namespace sipladder::gui {

/// What one done drill found, in words and as a curve.
FindingView finding_view(const App& app, const PastDrill& past);

}  // namespace sipladder::gui
