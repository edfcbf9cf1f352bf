#pragma once

#include "engine/chart/frame.hpp"

#include <optional>
#include <vector>

namespace sipladder::chart {

/// What a label must keep clear of and what it had better not cross.
struct Obstacles {
    std::vector<Rect> solid;    ///< marks and texts: never covered
    std::vector<Point> traces;  ///< points along lines: covered only where nothing better is free
};

/// Boxes and lines of every mark of the chart.
Obstacles obstacles_of(const Chart& chart, const Frame& frame);

/// The labels of all marks where there is room for them, each clear of all others and of the frame's own
/// texts, the last mark first. What finds no place is left out.
std::vector<PlacedText> placed_labels(const Chart& chart, const Frame& frame, Rect area,
                                      const Painter& painter);

/// Radius of the usual mark.
double mark_radius(const Frame& frame, double size);
/// Box of a marker of this size at this place.
Rect mark_box(const Frame& frame, Point centre, double size);

}  // namespace sipladder::chart
