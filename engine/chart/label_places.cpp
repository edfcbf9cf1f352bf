// A label tries a handful of places around its mark, best first, and takes the one that crosses the fewest
// lines among those that are free. Greedy is enough here: a chart has a dozen labels, and one that finds no
// place still tells its number on hover.
#include "engine/chart/label_places.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace sipladder::chart {

namespace {

constexpr double usual_radius = 0.40;  // in heights of small text
constexpr double clearance = 0.3;
constexpr std::ptrdiff_t most_crossed =
    7;  // points of lines: a line that runs through a label strikes it out

bool fits_inside(const Rect& box, const Rect& area) {
    return box.x >= area.x && box.right() <= area.right() && box.y >= area.y && box.bottom() <= area.bottom();
}

/// Points every few pixels along a line, so that a label that crosses it meets some.
void trace(const std::vector<Point>& points, double step, Obstacles& obstacles) {
    for (std::size_t i = 1; i < points.size(); ++i) {
        const Point a = points[i - 1];
        const Point b = points[i];
        const double length = std::hypot(b.x - a.x, b.y - a.y);
        if (!std::isfinite(length)) continue;
        const int pieces = std::clamp(static_cast<int>(length / step), 1, 400);
        for (int k = 0; k <= pieces; ++k) {
            const double share = static_cast<double>(k) / pieces;
            obstacles.traces.push_back({a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)});
        }
    }
}

struct Collect {
    const Chart& chart;
    const Frame& frame;
    Obstacles& obstacles;

    Point at(Point value) const { return {frame.x(chart.x, value.x), frame.y(chart.y, value.y)}; }
    void operator()(const Marker& mark) const {
        obstacles.solid.push_back(mark_box(frame, at(mark.at), mark.size));
    }
    void operator()(const Interval& mark) const {
        const double half = 0.3 * frame.em;
        if (mark.direction == Direction::along_x) {
            const double from = std::max(frame.x(chart.x, mark.lower), frame.plot.x);
            const double to = std::min(frame.x(chart.x, mark.upper), frame.plot.right());
            obstacles.solid.push_back({from, at(mark.at).y - half, std::max(0.0, to - from), 2.0 * half});
        } else {
            const double top = std::max(frame.y(chart.y, mark.upper), frame.plot.y);
            const double bottom = std::min(frame.y(chart.y, mark.lower), frame.plot.bottom());
            obstacles.solid.push_back({at(mark.at).x - half, top, 2.0 * half, std::max(0.0, bottom - top)});
        }
    }
    void operator()(const Line& mark) const {
        std::vector<Point> points;
        for (const Point& p : mark.points) points.push_back(at(p));
        trace(points, 0.25 * frame.em, obstacles);
    }
    void operator()(const Rule& mark) const {
        const Rect& plot = frame.plot;
        if (mark.direction == Direction::along_x) {
            const double y = frame.y(chart.y, mark.at);
            // It lies along the words: whatever it crosses, it strikes out.
            const double thickness = 0.1 * frame.em;
            obstacles.solid.push_back({plot.x, y - 0.5 * thickness, plot.width, thickness});
        } else {
            const double x = frame.x(chart.x, mark.at);
            trace({{x, plot.y}, {x, plot.bottom()}}, 0.25 * frame.em, obstacles);
        }
    }
    void operator()(const Ridge& mark) const {
        const double top =
            mark.density.empty() ? 0.0 : *std::max_element(mark.density.begin(), mark.density.end());
        if (top <= 0.0) return;
        std::vector<Point> points;
        for (std::size_t i = 0; i < mark.x.size(); ++i)
            points.push_back(at({mark.x[i], mark.base + mark.rise * mark.density[i] / top}));
        trace(points, 0.25 * frame.em, obstacles);
    }
    void operator()(const ReferenceBand&) const {}
    void operator()(const Band&) const {}
    void operator()(const Text&) const {}
};

/// One label with the places that it may take, best first.
struct Wanted {
    std::string text;
    TextStyle style;
    std::vector<Point> places;
};

struct Want {
    const Chart& chart;
    const Frame& frame;
    const Painter& painter;

    double em() const { return frame.em; }
    double width(const std::string& text, TextSize size) const { return painter.text_width(text, size); }

    Wanted operator()(const Marker& mark) const {
        const TextStyle style{TextSize::small, Anchor::centre, Ink::text};
        const Point c{frame.x(chart.x, mark.at.x), frame.y(chart.y, mark.at.y)};
        const double r = mark_radius(frame, mark.size) * 1.25 + 0.15 * em();
        const double side = r + 0.15 * em() + 0.5 * width(mark.label, style.size);
        return {mark.label,
                style,
                {{c.x, c.y - r - em()},
                 {c.x, c.y + r},
                 {c.x + side, c.y - 0.5 * em()},
                 {c.x - side, c.y - 0.5 * em()},
                 {c.x + side, c.y + 0.5 * r},
                 {c.x - side, c.y + 0.5 * r},
                 {c.x + side, c.y - r - 0.6 * em()},
                 {c.x - side, c.y - r - 0.6 * em()},
                 {c.x, c.y - r - 2.0 * em()},
                 {c.x, c.y + r + em()}}};
    }
    Wanted operator()(const Rule& mark) const {
        const TextStyle style{TextSize::small, Anchor::centre, Ink::muted};
        Wanted wanted{mark.label, style, {}};
        const double gap = 0.12 * em();
        const double half = 0.5 * width(mark.label, style.size) + 0.2 * em();
        constexpr int steps = 12;
        for (int k = 0; k <= steps; ++k) {
            const double share = static_cast<double>(k) / steps;
            if (mark.direction == Direction::along_x) {
                const double y = frame.y(chart.y, mark.at);
                const double x = frame.plot.right() - half - share * (frame.plot.width - 2.0 * half);
                wanted.places.push_back({x, y - gap - em()});
                wanted.places.push_back({x, y + gap});
            } else {
                const double x = frame.x(chart.x, mark.at);
                const double y = frame.plot.y + gap + share * (frame.plot.height - em() - 2.0 * gap);
                wanted.places.push_back({x + half + gap, y});
                wanted.places.push_back({x - half - gap, y});
            }
        }
        return wanted;
    }
    Wanted operator()(const ReferenceBand& mark) const {
        const TextStyle style{TextSize::small, Anchor::centre, Ink::muted};
        const Rect& plot = frame.plot;
        const double half = 0.5 * width(mark.label, style.size);
        const double gap = 0.12 * em();
        if (mark.direction == Direction::along_y) {
            const double y = 0.5 * (frame.y(chart.y, mark.from) + frame.y(chart.y, mark.to)) - 0.5 * em();
            return {mark.label, style, {{plot.right() - half, y}, {plot.x + half, y}}};
        }
        const double from = std::clamp(frame.x(chart.x, mark.from), plot.x, plot.right());
        const double to = std::clamp(frame.x(chart.x, mark.to), plot.x, plot.right());
        const double least = plot.x + half;
        const double most = std::max(least, plot.right() - half);
        const double middle = std::clamp(0.5 * (from + to), least, most);
        Wanted wanted{mark.label, style, {}};
        const double left = std::clamp(from + half, least, most);
        const double right = std::clamp(to - half, least, most);
        if (mark.outlined)  // its ends are lines, which would strike the words out
            for (const double y : {plot.y + gap, plot.y + gap + em()})
                for (const double x : {to + half + 0.3 * em(), from - half - 0.3 * em()})
                    wanted.places.push_back({x, y});
        for (const double y : {plot.y + gap, plot.bottom() - em() - gap})
            for (const double x : {middle, left, right, least, most})
                // Words beside the band would name another part of the axis; where they are narrower than the
                // band they stand within it.
                if (to - from >= 2.0 * half ? x - half >= from - 0.5 && x + half <= to + 0.5
                                            : x - half <= to && x + half >= from)
                    wanted.places.push_back({x, y});
        return wanted;
    }
    Wanted operator()(const Text& mark) const {
        const double height = painter.text_height(mark.size);
        const Point c{frame.x(chart.x, mark.at.x), frame.y(chart.y, mark.at.y) - 0.5 * height};
        return {mark.text, {mark.size, mark.anchor, mark.ink}, {c, {c.x, c.y - height}, {c.x, c.y + height}}};
    }
    template <class Other>
    Wanted operator()(const Other&) const {
        return {};
    }
};

std::optional<PlacedText> best_place(const Wanted& wanted, const Obstacles& obstacles, double space,
                                     Rect area, const Painter& painter) {
    std::optional<PlacedText> best;
    double least = std::numeric_limits<double>::infinity();
    double rank = 0.0;
    for (const Point& place : wanted.places) {
        rank += 1.0;
        PlacedText candidate = placed(wanted.text, place, wanted.style, painter);
        if (!fits_inside(candidate.box, area)) continue;
        const Rect kept{candidate.box.x - space, candidate.box.y, candidate.box.width + 2.0 * space,
                        candidate.box.height};
        const auto meets = [&](const Rect& solid) { return overlap(kept, solid); };
        if (std::any_of(obstacles.solid.begin(), obstacles.solid.end(), meets)) continue;
        const auto crossed = std::count_if(obstacles.traces.begin(), obstacles.traces.end(),
                                           [&](Point p) { return kept.contains(p); });
        if (crossed > most_crossed) continue;
        // Between two places one crossing more weighs as much as being one further down the list.
        const double cost = rank + static_cast<double>(crossed);
        if (cost < least) {
            least = cost;
            best = std::move(candidate);
        }
    }
    return best;
}

}  // namespace

double mark_radius(const Frame& frame, double size) {
    return usual_radius * frame.em * size;
}

Rect mark_box(const Frame& frame, Point centre, double size) {
    const double reach = 1.25 * mark_radius(frame, size);
    return {centre.x - reach, centre.y - reach, 2.0 * reach, 2.0 * reach};
}

Obstacles obstacles_of(const Chart& chart, const Frame& frame) {
    Obstacles obstacles;
    for (const Mark& mark : chart.marks) std::visit(Collect{chart, frame, obstacles}, mark);
    return obstacles;
}

std::vector<PlacedText> placed_labels(const Chart& chart, const Frame& frame, Rect area,
                                      const Painter& painter) {
    Obstacles obstacles = obstacles_of(chart, frame);
    // Above the plot a label may stand free; to its sides are the axes.
    const double top = std::max(area.y, frame.plot.y - 1.5 * frame.em);
    const bool has_sides = chart.shape > 0.0;  // a picture without axes
    const Rect room{has_sides ? area.x : frame.plot.x, top, has_sides ? area.width : frame.plot.width,
                    frame.plot.bottom() - top};
    for (const PlacedText& text : frame.texts) obstacles.solid.push_back(text.box);
    std::vector<PlacedText> labels;
    // What names the picture as a whole comes first: the labels of single marks yield to it.
    for (const bool names_all : {true, false}) {
        for (auto mark = chart.marks.rbegin(); mark != chart.marks.rend(); ++mark) {
            if (std::holds_alternative<Marker>(*mark) == names_all) continue;
            const Wanted wanted = std::visit(Want{chart, frame, painter}, *mark);
            if (wanted.text.empty()) continue;
            auto label = best_place(wanted, obstacles, clearance * frame.em, room, painter);
            if (!label) continue;
            obstacles.solid.push_back(label->box);
            labels.push_back(std::move(*label));
        }
    }
    return labels;
}

}  // namespace sipladder::chart
