#pragma once

#include "engine/chart/geometry.hpp"
#include "engine/chart/painter.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

/// A chart is data: axes, marks and words. It is laid out once, by `draw`, for window, page and tests alike.
namespace sipladder::chart {

enum class AxisKind { linear, logarithmic };

struct Tick {
    double at{};
    std::string label;

    bool operator==(const Tick&) const = default;
};

struct Axis {
    AxisKind kind = AxisKind::linear;
    double from{};
    double to = 1.0;   ///< > from; both > 0 on a logarithmic axis. A y axis runs upwards from `from`.
    std::string unit;  ///< shown once at the end of the axis: g/L
    std::vector<Tick>
        ticks;  ///< empty: round numbers (0.5, 1, 2, 5 …). Labels that would touch are left out.
    std::vector<Tick> more_ticks = {};  ///< of a part of the axis: those in it take the place of `ticks`
    std::optional<Tick> dated = {};     ///< of an axis that counts weeks: one value with its date, YYYY-MM-DD
    bool shown = true;                  ///< line, ticks and labels; room is kept only for what is shown
    bool ruled = false;                 ///< pale rules across the plot at the ticks
};

enum class Direction { along_x, along_y };

struct Line {
    std::vector<Point> points;
    Ink ink = Ink::text;
    double width = 1.0;  ///< 1 is the usual line of a chart
    Dash dash = Dash::solid;
};

/// A region between a lower and an upper line over the same x.
struct Band {
    std::vector<double> x;
    std::vector<double> lower;
    std::vector<double> upper;
    Ink ink = Ink::muted;
    double opacity = 0.18;
    std::string hover = {};
};

/// An interval: a bar with ends.
struct Interval {
    Point at;
    double lower{};  ///< on the axis named by `direction`
    double upper{};
    Direction direction = Direction::along_x;
    Ink ink = Ink::text;
    std::string hover;
    double width = 1.0;
};

/// One value with its mark.
struct Marker {
    Point at;
    MarkShape shape = MarkShape::disc;
    Ink ink = Ink::text;
    double size = 1.0;  ///< radius relative to the usual mark
    bool filled = true;
    std::string label;  ///< small text beside it, left out where there is no room for it
    std::string hover;  ///< its number, interval and origin
};

/// A posterior: densities over x, standing on `base`, its highest point at `base + rise` on the y axis.
struct Ridge {
    std::vector<double> x;
    std::vector<double> density;
    double base{};
    double rise = 1.0;
    Ink ink = Ink::muted;
    std::string hover;
    bool filled = true;  ///< else an outline, dashed
};

/// A rule across the whole plot at one value, with its name.
struct Rule {
    double at{};
    Direction direction = Direction::along_x;  ///< along_x: a level line at this y
    std::string label;
    Ink ink = Ink::muted;
    Dash dash = Dash::dashed;
};

/// What others report: a pale band behind everything, with its words.
struct ReferenceBand {
    double from{};
    double to{};
    std::string label;
    std::string hover;
    Direction direction = Direction::along_x;  ///< along_x: from and to are on the x axis
    bool outlined = false;                     ///< its ends only, dashed
};

/// Words at a place.
struct Text {
    Point at;
    std::string text;
    Anchor anchor = Anchor::left;
    TextSize size = TextSize::small;
    Ink ink = Ink::text;
};

using Mark = std::variant<ReferenceBand, Band, Ridge, Rule, Line, Interval, Marker, Text>;

/// Its copies and its end are written out once, in chart.cpp.
struct Chart {
    Chart();
    Chart(const Chart&);
    Chart(Chart&&) noexcept;
    Chart& operator=(const Chart&);
    Chart& operator=(Chart&&) noexcept;
    ~Chart();

    std::string title;    ///< may be empty: no room is kept for it
    std::string y_title;  ///< what the y axis shows, set level above it
    std::string note;     ///< a line of small text below, may be empty
    Axis x;
    Axis y;
    std::vector<Mark> marks;  ///< drawn in this order
    double shape = 0.0;       ///< of a picture without axes: its width over its height, kept in any area; 0:
                              ///< fills the area
    bool is_part = false;     ///< marks may run on beyond the ends of the x axis; nothing of that is drawn
};

/// A place that can tell its number, on hover or by keyboard.
struct Hit {
    Rect box;
    std::string text;
};

/// Lays the chart out in `area` and draws it. No text leaves the area or touches another: margins are
/// measured, tick labels thinned, marks' labels moved or left out (their numbers stay in the hits), too long
/// a title or note is broken into lines. @return the marks that have words to show, in the order of the chart
std::vector<Hit> draw(const Chart& chart, Rect area, Painter& painter);

/// The topmost hit at a place; nothing if there is none. It points into `hits`.
const Hit* hit_at(const std::vector<Hit>& hits, Point place);

}  // namespace sipladder::chart
