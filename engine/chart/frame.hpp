#pragma once

#include "engine/chart/chart.hpp"

#include <string>
#include <vector>

/// Where everything of a chart but its marks stands; worked out before a line is drawn.
namespace sipladder::chart {

/// A line of text with the place that it takes up.
struct PlacedText {
    std::string text;
    Rect box;
    TextStyle style;
};

/// Where this text would stand: x as its style's anchor says, y at the top.
PlacedText placed(std::string text, Point at, TextStyle style, const Painter& painter);

struct Frame {
    Rect plot;
    double em{};  ///< height of small text: the measure of every length
    std::vector<Tick> x_ticks;
    std::vector<Tick> y_ticks;
    std::vector<PlacedText> texts;  ///< title, axis words, tick labels, note

    double x(const Axis& axis, double value) const;  ///< screen x of a value on the x axis
    double y(const Axis& axis, double value) const;
};

Frame frame_of(const Chart& chart, Rect area, const Painter& painter);

}  // namespace sipladder::chart
