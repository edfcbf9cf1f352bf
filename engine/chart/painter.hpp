#pragma once

#include "engine/chart/geometry.hpp"
#include "engine/chart/ink.hpp"
#include "engine/chart/mark_shape.hpp"

#include <span>
#include <string_view>

namespace sipladder::chart {

enum class Dash { solid, dashed, dotted };

struct Pen {
    Ink ink = Ink::text;
    double width = 1.0;  ///< in the painter's unit
    Dash dash = Dash::solid;
    double opacity = 1.0;
};

struct Fill {
    Ink ink = Ink::muted;
    double opacity = 1.0;
};

enum class TextSize { small, normal, title };
enum class Anchor { left, centre, right };

struct TextStyle {
    TextSize size = TextSize::normal;
    Anchor anchor = Anchor::left;  ///< which part of the text stands at the x given
    Ink ink = Ink::text;
};

/// What a chart is drawn with. The window, the page and the tests are painters of the same chart. A painter
/// chooses its text sizes and every length follows from them, so a chart needs no notion of display scale.
class Painter {
  public:
    virtual ~Painter() = default;

    virtual void line(Point from, Point to, const Pen& pen) = 0;
    virtual void polyline(std::span<const Point> points, const Pen& pen) = 0;
    /// A filled convex polygon, corners in order.
    virtual void polygon(std::span<const Point> corners, const Fill& fill) = 0;
    /// The outline of any closed polygon, corners in order; the last joins the first.
    virtual void outline(std::span<const Point> corners, const Pen& pen) = 0;
    /// Fills between two lines with the same number of points; point i of one and of the other are joined.
    /// Along one line x does not fall (or y does not), so that a painter may fill quadrilateral by
    /// quadrilateral.
    virtual void between(std::span<const Point> one, std::span<const Point> other, const Fill& fill) = 0;
    /// A component's mark, filled, or hollow: ground inside, outline in the ink. See mark_parts.
    virtual void marker(Point centre, double radius, MarkShape shape, Ink ink, bool filled) = 0;
    /// One line of UTF-8 text; `at.y` is the top of its line box, which is text_height high.
    virtual void text(Point at, std::string_view text, const TextStyle& style) = 0;
    virtual double text_width(std::string_view text, TextSize size) const = 0;
    virtual double text_height(TextSize size) const = 0;
    /// Nothing is drawn outside until unclip; not nested.
    virtual void clip(Rect area) = 0;
    virtual void unclip() = 0;

  protected:
    Painter() = default;
    Painter(const Painter&) = default;
    Painter& operator=(const Painter&) = default;
};

}  // namespace sipladder::chart
