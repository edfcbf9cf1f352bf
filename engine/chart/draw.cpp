// Ground rules first, then the marks clipped to the plot (a little beyond it, so that a mark on the edge
// stays whole), then axes and all words, which layout has kept apart.
#include "engine/chart/chart.hpp"
#include "engine/chart/frame.hpp"
#include "engine/chart/label_places.hpp"
#include "engine/chart/ticks.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace sipladder::chart {

namespace {

Rect clipped(const Rect& box, const Rect& to) {
    const double left = std::max(box.x, to.x);
    const double top = std::max(box.y, to.y);
    return {left, top, std::max(0.0, std::min(box.right(), to.right()) - left),
            std::max(0.0, std::min(box.bottom(), to.bottom()) - top)};
}

Rect around(const std::vector<Point>& one, const std::vector<Point>& other) {
    Point least = one.front();
    Point most = one.front();
    for (const auto* points : {&one, &other})
        for (const Point& p : *points) {
            least = {std::min(least.x, p.x), std::min(least.y, p.y)};
            most = {std::max(most.x, p.x), std::max(most.y, p.y)};
        }
    return {least.x, least.y, most.x - least.x, most.y - least.y};
}

struct DrawMark {
    const Chart& chart;
    const Frame& frame;
    Painter& painter;
    std::vector<Hit>& hits;

    double stroke() const { return frame.em / 12.0; }
    double x(double value) const { return frame.x(chart.x, value); }
    double y(double value) const { return frame.y(chart.y, value); }
    Point at(Point value) const { return {x(value.x), y(value.y)}; }
    void hit(const Rect& box, const std::string& text) const {
        const Rect seen = clipped(box, frame.plot);
        if (!text.empty() && seen.width > 0.0 && seen.height > 0.0) hits.push_back({seen, text});
    }

    void operator()(const ReferenceBand& mark) const {
        Rect band = frame.plot;
        if (mark.direction == Direction::along_x)
            band = {x(mark.from), band.y, x(mark.to) - x(mark.from), band.height};
        else
            band = {band.x, y(mark.to), band.width, y(mark.from) - y(mark.to)};
        band = clipped(band, frame.plot);
        const std::array<Point, 4> corners{Point{band.x, band.y}, Point{band.right(), band.y},
                                           Point{band.right(), band.bottom()}, Point{band.x, band.bottom()}};
        if (mark.outlined) {
            const Pen pen{Ink::muted, stroke(), Dash::dashed, 1.0};
            const bool upright = mark.direction == Direction::along_x;
            painter.line(corners[0], upright ? corners[3] : corners[1], pen);
            painter.line(upright ? corners[1] : corners[3], corners[2], pen);
        } else {
            painter.polygon(corners, {Ink::grid, 0.55});
        }
        hit(band, mark.hover.empty() ? mark.label : mark.hover);
    }
    void operator()(const Band& mark) const {
        SIPLADDER_EXPECT(mark.x.size() == mark.lower.size() && mark.x.size() == mark.upper.size());
        std::vector<Point> lower;
        std::vector<Point> upper;
        for (std::size_t i = 0; i < mark.x.size(); ++i) {
            lower.push_back(at({mark.x[i], mark.lower[i]}));
            upper.push_back(at({mark.x[i], mark.upper[i]}));
        }
        if (lower.size() < 2) return;
        painter.between(lower, upper, {mark.ink, mark.opacity});
        if (!mark.hover.empty()) hit(around(lower, upper), mark.hover);
    }
    void operator()(const Ridge& mark) const {
        SIPLADDER_EXPECT(mark.x.size() == mark.density.size());
        if (mark.x.size() < 2) return;
        const double top = *std::max_element(mark.density.begin(), mark.density.end());
        if (!(top > 0.0)) return;
        std::vector<Point> crest;
        std::vector<Point> foot;
        for (std::size_t i = 0; i < mark.x.size(); ++i) {
            // The far tails are left out: a line along the axis would tell nothing.
            if (mark.density[i] < 0.002 * top) continue;
            crest.push_back(at({mark.x[i], mark.base + mark.rise * mark.density[i] / top}));
            foot.push_back(at({mark.x[i], mark.base}));
        }
        if (crest.size() < 2) return;
        if (mark.filled) painter.between(crest, foot, {mark.ink, 0.32});
        painter.polyline(crest, {mark.ink, (mark.filled ? 1.0 : 1.4) * stroke(),
                                 mark.filled ? Dash::solid : Dash::dashed, 1.0});
        hit({crest.front().x, y(mark.base + mark.rise), crest.back().x - crest.front().x,
             y(mark.base) - y(mark.base + mark.rise)},
            mark.hover);
    }
    void operator()(const Rule& mark) const {
        const Rect& plot = frame.plot;
        const Pen pen{mark.ink, stroke(), mark.dash, 1.0};
        if (mark.direction == Direction::along_x)
            painter.line({plot.x, y(mark.at)}, {plot.right(), y(mark.at)}, pen);
        else
            painter.line({x(mark.at), plot.y}, {x(mark.at), plot.bottom()}, pen);
    }
    void operator()(const Line& mark) const {
        std::vector<Point> points;
        for (const Point& p : mark.points) points.push_back(at(p));
        if (points.size() >= 2)
            painter.polyline(points, {mark.ink, mark.width * 1.8 * stroke(), mark.dash, 1.0});
    }
    void operator()(const Interval& mark) const {
        const bool level = mark.direction == Direction::along_x;
        const Point centre = at(mark.at);
        const Rect& plot = frame.plot;
        const double low = level ? x(mark.lower) : y(mark.lower);
        const double high = level ? x(mark.upper) : y(mark.upper);
        const double least = level ? plot.x : plot.bottom();
        const double most = level ? plot.right() : plot.y;
        const double from = level ? std::max(low, least) : std::min(low, least);
        const double to = level ? std::min(high, most) : std::max(high, most);
        const auto point = [&](double along, double across) {
            return level ? Point{along, centre.y + across} : Point{centre.x + across, along};
        };
        const Pen pen{mark.ink, mark.width * 1.8 * stroke(), Dash::solid, 1.0};
        const double cap = 0.3 * frame.em;
        painter.line(point(from, 0.0), point(to, 0.0), pen);
        // An end that lies beyond the plot has no cap: the bar runs on.
        if (from == low) painter.line(point(from, -cap), point(from, cap), pen);
        if (to == high) painter.line(point(to, -cap), point(to, cap), pen);
        const Point a = point(from, -cap);
        const Point b = point(to, cap);
        hit({std::min(a.x, b.x), std::min(a.y, b.y), std::abs(b.x - a.x), std::abs(b.y - a.y)}, mark.hover);
    }
    void operator()(const Marker& mark) const {
        painter.marker(at(mark.at), mark_radius(frame, mark.size), mark.shape, mark.ink, mark.filled);
        hit(mark_box(frame, at(mark.at), mark.size), mark.hover.empty() ? mark.label : mark.hover);
    }
    void operator()(const Text&) const {}
};

void draw_text(const PlacedText& text, Painter& painter) {
    const double share = text.style.anchor == Anchor::left     ? 0.0
                         : text.style.anchor == Anchor::centre ? 0.5
                                                               : 1.0;
    painter.text({text.box.x + share * text.box.width, text.box.y}, text.text, text.style);
}

void draw_rules(const Chart& chart, const Frame& frame, Painter& painter) {
    const Pen pen{Ink::grid, frame.em / 14.0, Dash::solid, 1.0};
    const Rect& plot = frame.plot;
    if (chart.y.ruled)
        for (const Tick& tick : frame.y_ticks) {
            const double y = frame.y(chart.y, tick.at);
            painter.line({plot.x, y}, {plot.right(), y}, pen);
        }
    if (chart.x.ruled)
        for (const Tick& tick : frame.x_ticks) {
            const double x = frame.x(chart.x, tick.at);
            painter.line({x, plot.y}, {x, plot.bottom()}, pen);
        }
}

void draw_x_axis(const Chart& chart, const Frame& frame, Painter& painter) {
    if (!chart.x.shown) return;
    const Rect& plot = frame.plot;
    const Pen pen{Ink::muted, frame.em / 14.0, Dash::solid, 1.0};
    painter.line({plot.x, plot.bottom()}, {plot.right(), plot.bottom()}, pen);
    for (const double value : small_ticks(chart.x)) {
        const double x = frame.x(chart.x, value);
        painter.line({x, plot.bottom()}, {x, plot.bottom() + 0.18 * frame.em}, pen);
    }
    for (const Tick& tick : frame.x_ticks) {
        const double x = frame.x(chart.x, tick.at);
        painter.line({x, plot.bottom()}, {x, plot.bottom() + 0.38 * frame.em}, pen);
    }
}

}  // namespace

std::vector<Hit> draw(const Chart& chart, Rect area, Painter& painter) {
    const Frame frame = frame_of(chart, area, painter);
    std::vector<Hit> hits;
    if (frame.plot.width > 0.0 && frame.plot.height > 0.0) {
        draw_rules(chart, frame, painter);
        const double reach = 0.6 * frame.em;
        const double beside = chart.is_part ? 0.0 : reach;
        painter.clip(clipped({frame.plot.x - beside, frame.plot.y - reach, frame.plot.width + 2.0 * beside,
                              frame.plot.height + 2.0 * reach},
                             area));
        for (const Mark& mark : chart.marks) std::visit(DrawMark{chart, frame, painter, hits}, mark);
        painter.unclip();
        draw_x_axis(chart, frame, painter);
        for (const PlacedText& label : placed_labels(chart, frame, area, painter)) draw_text(label, painter);
    }
    for (const PlacedText& text : frame.texts) draw_text(text, painter);
    return hits;
}

const Hit* hit_at(const std::vector<Hit>& hits, Point place) {
    const auto found =
        std::find_if(hits.rbegin(), hits.rend(), [&](const Hit& hit) { return hit.box.contains(place); });
    return found == hits.rend() ? nullptr : &*found;
}

}  // namespace sipladder::chart
