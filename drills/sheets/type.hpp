#pragma once

#include "engine/chart/geometry.hpp"
#include "engine/chart/ink.hpp"

#include <cairo.h>

#include <string>
#include <string_view>

/// Type on a cairo context, through pango: any alphabet whose font is installed, figures of equal width.
namespace sipladder::drills::sheets {

enum class Align { left, centre, right };

struct Look {
    double size_pt = 10.0;
    bool bold = false;
    chart::Ink ink = chart::Ink::text;
    Align align = Align::left;
    double leading = 1.0;   ///< distance of lines, of the font's own
    bool one_line = false;  ///< too long a text ends in dots instead of going on below
};

void set_colour(cairo_t* context, chart::Ink ink, chart::Theme theme, double opacity = 1.0);

/// Height and width of a text broken into lines no wider than `width`; no limit where width is 0.
struct Extent {
    double width{};
    double height{};
};
Extent extent_of(cairo_t* context, const std::string& text, const Look& look, double width = 0.0);
/// Height of one line in this size, the same for every text.
double line_height(cairo_t* context, double size_pt);
/// The text with its top at `at.y`; aligned within `width` from `at.x`, or about `at.x` where width is 0.
void draw_text(cairo_t* context, const std::string& text, const Look& look, chart::Point at,
               double width = 0.0, chart::Theme theme = chart::Theme::paper);

}  // namespace sipladder::drills::sheets
