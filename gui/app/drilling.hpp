#pragma once

#include "drills/detection.hpp"
#include "drills/record.hpp"
#include "engine/chart/chart.hpp"
#include "gui/app/app.hpp"

namespace sipladder::gui {

/// The person's last result with this mix's substance and base, if there is one: what a drill on it can start
/// from.
std::optional<drills::OwnHistory> own_history_for(const App& app, const drills::record::KeptMix& mix);
/// What the drill starts from: as chosen, else own history where there is one, else what is assumed.
drills::PriorChoice prior_choice(const App& app, const drills::record::KeptMix& mix);

/// The closed plan of a detection drill on a kept mix, by what is chosen on the Taste screen.
/// @throws Refused  where the mix's substance or base is no longer in the content
drills::detection::Plan drill_plan(const App& app, const drills::record::KeptMix& mix);

/// The curve of a done drill.
chart::Chart curve_of(const PastDrill& past, const threshold::Threshold& threshold);

}  // namespace sipladder::gui
