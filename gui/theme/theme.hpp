#pragma once

#include "engine/chart/ink.hpp"
#include "engine/solution/substance.hpp"
#include "gui/theme/fonts.hpp"

#include <imgui.h>

/// Colours by role and the sizes that follow from the font. Every colour that carries meaning is backed by a
/// shape or a word.
namespace sipladder::gui {

enum class Look { light, dark };

struct Palette {
    ImVec4 paper;      ///< the ground
    ImVec4 raised;     ///< fields and the rail
    ImVec4 ink;        ///< text
    ImVec4 faint;      ///< text that may wait
    ImVec4 hairline;   ///< rules and axes, which only divide
    ImVec4 edge;       ///< borders of what can be clicked or typed into
    ImVec4 accent;     ///< the thing to do next
    ImVec4 on_accent;  ///< text on it
    ImVec4 hover;
    ImVec4 warning;  ///< always with the caution sign
    ImVec4 band;     ///< what papers report
};

struct Theme {
    Look look = Look::light;
    float scale = 1.0F;
    Palette colour;
    Fonts fonts;
    bool is_escape_taken =
        false;  ///< by what stands above a screen: nothing on it says that Escape is its key

    float em() const { return body_height_px * scale; }
};

Palette palette_of(Look look);
/// Colour of a role in a chart, and of a component; see engine/chart/ink.
ImVec4 colour_of(chart::Ink ink, Look look);
ImVec4 hue_of(solution::Component component, Look look);
/// Sets the style of the present Dear ImGui context.
void apply_style(const Theme& theme);

}  // namespace sipladder::gui
