#pragma once

#include "gui/screens/screens.hpp"
#include "gui/views/palate.hpp"
#include "gui/widgets/widgets.hpp"

/// What the rows of the Palate and an opened row have in common.
namespace sipladder::gui {

/// Each number after what it is, on lines that wrap.
void draw_numbers(const std::vector<PalateNumberView>& numbers, const Theme& theme);
/// As high as it needs to be. @param most_ems  of width
void draw_picture_of(const drills::PalatePicture& picture, const char* id, const Theme& theme,
                     float most_ems);
std::optional<Intent> draw_palate_detail(const PalateDetailView& view, const Theme& theme);

}  // namespace sipladder::gui
