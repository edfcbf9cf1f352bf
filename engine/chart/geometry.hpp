#pragma once

namespace sipladder::chart {

/// A place on a drawing, in the painter's own unit (pixels in the window, points on paper); y grows
/// downwards. In a chart's data the same pair holds values on its two axes.
struct Point {
    double x{};
    double y{};

    bool operator==(const Point&) const = default;
};

/// An upright rectangle; x and y are its left and top edge.
struct Rect {
    double x{};
    double y{};
    double width{};
    double height{};

    double right() const { return x + width; }
    double bottom() const { return y + height; }
    bool contains(Point p) const { return p.x >= x && p.x <= right() && p.y >= y && p.y <= bottom(); }
    bool operator==(const Rect&) const = default;
};

/// True when the two share more than an edge.
inline bool overlap(const Rect& a, const Rect& b) {
    return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
}

}  // namespace sipladder::chart
