#pragma once

#include "gui/app/intent.hpp"
#include "gui/theme/theme.hpp"
#include "gui/views/taste.hpp"

#include <optional>

/// What is answered beside a choice; each draws nothing where the view has none of it.
namespace sipladder::gui {

/// Cups to be put in order.
std::optional<Intent> draw_set(const DrillView& view, const Theme& theme);
/// A line from 0 to 100.
std::optional<Intent> draw_mark_line(const DrillView& view, const Theme& theme);
/// The outline of a mouth and its places.
std::optional<Intent> draw_mouth(const DrillView& view, const Theme& theme);
/// One big key.
std::optional<Intent> draw_watch(const DrillView& view, const Theme& theme);
/// Any number of words.
std::optional<Intent> draw_words_that_fit(const DrillView& view, const Theme& theme);

}  // namespace sipladder::gui
