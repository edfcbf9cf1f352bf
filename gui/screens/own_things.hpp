#pragma once

#include "gui/app/intent.hpp"
#include "gui/screens/screens.hpp"
#include "gui/theme/theme.hpp"
#include "gui/views/own_things.hpp"

#include <optional>

/// Lists and forms of a person's own equipment, ladders and substances; the lists stand in Settings and in
/// Records.
namespace sipladder::gui {

std::optional<Intent> draw_own_list(const OwnListView& view, const Theme& theme);
std::optional<Intent> draw_own_form(const OwnFormView& view, const Theme& theme, const Edit& edit);
/// Asks for a reason before something is struck out or put back.
std::optional<Intent> draw_asked(const RecordAskedView& asked, const Theme& theme);

}  // namespace sipladder::gui
