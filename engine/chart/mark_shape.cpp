// Marks are sized so that they look equally heavy: a square as wide as a disc would look larger than it, a
// triangle smaller. The factors below bring their areas near that of the disc.
#include "engine/chart/mark_shape.hpp"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace sipladder::chart {

namespace {

/// Corners of a regular polygon, the first at `turn` (radians, 0 = right, growing clockwise on screen).
std::vector<Point> regular(Point centre, double radius, std::size_t corners, double turn) {
    std::vector<Point> points;
    points.reserve(corners);
    for (std::size_t i = 0; i < corners; ++i) {
        const double angle =
            turn + 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(corners);
        points.push_back({centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)});
    }
    return points;
}

std::vector<Point> box(Point centre, double half_width, double half_height) {
    return {{centre.x - half_width, centre.y - half_height},
            {centre.x + half_width, centre.y - half_height},
            {centre.x + half_width, centre.y + half_height},
            {centre.x - half_width, centre.y + half_height}};
}

constexpr double up = -0.5 * std::numbers::pi;
constexpr std::size_t disc_corners = 32;
constexpr double cross_arm = 0.36;  // half the thickness of an arm, of its length

}  // namespace

MarkShape shape_of(solution::Component component) {
    switch (component) {
        case solution::Component::sweet:
            return MarkShape::disc;
        case solution::Component::sour:
            return MarkShape::triangle;
        case solution::Component::alcohol:
            return MarkShape::lozenge;
        case solution::Component::astringent:
            return MarkShape::square;
        case solution::Component::bitter:
            return MarkShape::hexagon;
        case solution::Component::salty:
            return MarkShape::cross;
        case solution::Component::weight:
            break;
    }
    return MarkShape::ring;
}

std::vector<std::vector<Point>> mark_parts(MarkShape shape, Point centre, double radius) {
    if (shape == MarkShape::cross) {
        const double arm = cross_arm * radius;
        const double reach = 0.5 * (radius - arm);
        return {box(centre, radius, arm), box({centre.x, centre.y - arm - reach}, arm, reach),
                box({centre.x, centre.y + arm + reach}, arm, reach)};
    }
    return {mark_outline(shape, centre, radius)};
}

std::vector<Point> mark_outline(MarkShape shape, Point centre, double radius) {
    switch (shape) {
        case MarkShape::triangle:
            return regular({centre.x, centre.y + 0.2 * radius}, 1.25 * radius, 3, up);
        case MarkShape::lozenge:
            return regular(centre, 1.2 * radius, 4, up);
        case MarkShape::square:
            return box(centre, 0.88 * radius, 0.88 * radius);
        case MarkShape::hexagon:
            return regular(centre, 1.08 * radius, 6, 0.0);
        case MarkShape::dash:
            return box(centre, radius, 0.25 * radius);
        case MarkShape::cross: {
            const double a = cross_arm * radius;
            const double r = radius;
            const Point c = centre;
            return {{c.x - a, c.y - r}, {c.x + a, c.y - r}, {c.x + a, c.y - a}, {c.x + r, c.y - a},
                    {c.x + r, c.y + a}, {c.x + a, c.y + a}, {c.x + a, c.y + r}, {c.x - a, c.y + r},
                    {c.x - a, c.y + a}, {c.x - r, c.y + a}, {c.x - r, c.y - a}, {c.x - a, c.y - a}};
        }
        case MarkShape::disc:
        case MarkShape::ring:
            break;
    }
    return regular(centre, radius, disc_corners, up);
}

}  // namespace sipladder::chart
