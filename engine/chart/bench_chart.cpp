#include "engine/chart/bench_chart.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::chart {

namespace {

struct Look {
    Ink ink = Ink::muted;
    Dash dash = Dash::solid;
    double width = 1.0;
    MarkShape shape = MarkShape::ring;
};

Look look_of(BenchLine::Kind kind) {
    switch (kind) {
        case BenchLine::Kind::own:
            return {Ink::accent, Dash::solid, 2.2, MarkShape::disc};
        case BenchLine::Kind::shares_population:
            return {Ink::text, Dash::dashed, 1.0, MarkShape::square};
        case BenchLine::Kind::limit:
            return {Ink::muted, Dash::dotted, 1.4, MarkShape::dash};
        case BenchLine::Kind::published:
            break;
    }
    return {};
}

struct Range {
    double low;
    double high;
};

Axis log_axis(Range range, double room, std::string unit) {
    Axis axis;
    axis.kind = AxisKind::logarithmic;
    axis.from = range.low / room;
    axis.to = range.high * room;
    axis.unit = std::move(unit);
    return axis;
}

}  // namespace

Chart bench_chart(const BenchChart& data) {
    SIPLADDER_EXPECT(!data.lines.empty());
    Range cups{data.lines.front().cups.front(), data.lines.front().cups.front()};
    Range rmse{data.lines.front().rmse.front(), data.lines.front().rmse.front()};
    Chart chart;
    chart.title = data.title;
    chart.note = data.note;
    chart.y_title = "error of the threshold (RMSE, log10 units)";
    for (const BenchLine& line : data.lines) {
        SIPLADDER_EXPECT(!line.cups.empty() && line.cups.size() == line.rmse.size());
        const Look look = look_of(line.kind);
        Line stroke;
        stroke.ink = look.ink;
        stroke.dash = look.dash;
        stroke.width = look.width;
        for (std::size_t i = 0; i < line.cups.size(); ++i) {
            stroke.points.push_back({line.cups[i], line.rmse[i]});
            cups = {std::min(cups.low, line.cups[i]), std::max(cups.high, line.cups[i])};
            rmse = {std::min(rmse.low, line.rmse[i]), std::max(rmse.high, line.rmse[i])};
        }
        chart.marks.emplace_back(std::move(stroke));
    }
    for (const BenchLine& line : data.lines)
        for (std::size_t i = 0; i < line.cups.size(); ++i) {
            const Look look = look_of(line.kind);
            Marker mark;
            mark.at = {line.cups[i], line.rmse[i]};
            mark.shape = look.shape;
            mark.ink = look.ink;
            mark.size = line.kind == BenchLine::Kind::own ? 0.9 : 0.6;
            if (i + 1 == line.cups.size()) mark.label = line.name;
            mark.hover = line.name + ": RMSE " + significant(line.rmse[i], 2) + " after " +
                         fixed(line.cups[i], 0) + " cups";
            chart.marks.emplace_back(std::move(mark));
        }
    constexpr double room_for_names = 3.2;
    chart.x = log_axis(cups, 1.08, "cups");
    chart.x.to = cups.high * room_for_names;
    for (const double at : {24.0, 36.0, 48.0, 72.0, 96.0, 144.0}) chart.x.ticks.push_back({at, fixed(at, 0)});
    chart.y = log_axis(rmse, 1.08, "");
    for (const double at : {0.07, 0.1, 0.15, 0.2, 0.3, 0.5, 0.7})
        if (at >= chart.y.from && at <= chart.y.to)
            chart.y.ticks.push_back({at, significant(at, at < 0.1 ? 1 : 2)});
    chart.y.ruled = true;
    return chart;
}

}  // namespace sipladder::chart
