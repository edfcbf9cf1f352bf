#pragma once

#include "engine/chart/geometry.hpp"
#include "engine/solution/substance.hpp"

#include <vector>

namespace sipladder::chart {

/// The mark that goes with a colour, so that nothing depends on colour alone.
enum class MarkShape { disc, triangle, lozenge, square, hexagon, cross, ring, dash };

/// sweet disc, sour triangle, alcohol lozenge, astringent square, bitter hexagon, salty cross, weight ring;
/// the base alone has the dash.
MarkShape shape_of(solution::Component component);

/// The mark as convex polygons (a cross is three that only touch), corners in order, so that every painter
/// draws the same shape. `radius` is half of the mark's height (a triangle's and lozenge's area is evened out
/// against the disc). A ring is given as its outer disc: a painter draws it as an outline of radius / 2.5
/// thickness.
std::vector<std::vector<Point>> mark_parts(MarkShape shape, Point centre, double radius);
/// The outline of the whole mark, once round, for hollow marks (a cross is concave).
std::vector<Point> mark_outline(MarkShape shape, Point centre, double radius);

}  // namespace sipladder::chart
