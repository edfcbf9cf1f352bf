#pragma once

#include "engine/chart/chart.hpp"
#include "gui/theme/theme.hpp"

#include <vector>

/// What the pictures have in common: each is one item that the keyboard can reach, with the words of its
/// marks on hover.
namespace sipladder::gui {

struct PictureItem {
    chart::Rect area;
    bool is_hovered = false;
    bool is_focused = false;
    bool is_pressed = false;  ///< Space, or a click
};
/// The item at the cursor, drawn last from then on, with a frame where it has the focus.
PictureItem picture_item(const Theme& theme, float width, float height);
chart::Point mouse_point();
/// The words of what the mouse is on; by keyboard, Space walks through all of them.
/// @return  the one that is told by keyboard; -1: none
int tell_of(const Theme& theme, const PictureItem& item, const std::vector<chart::Hit>& hits);
/// Told by keyboard from now on; -1: none.
void tell_next(int which);
/// Told by keyboard last, whether or not it is still there; -1: none.
int told_last();

}  // namespace sipladder::gui
