#include "engine/chart/part_row.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::chart {

Chart part_row(const PartRow& data) {
    SIPLADDER_EXPECT(!data.measures.empty());
    constexpr double to_percent = 100.0;
    constexpr double room = 1.4;  // beside the outermost ends
    Chart chart;
    chart.title = data.title;
    chart.x.kind = AxisKind::logarithmic;
    chart.x.unit = "%";
    double least = data.measures.front().lower;
    double most = data.measures.front().upper;
    for (const PartMeasure& one : data.measures) {
        least = std::min(least, one.lower);
        most = std::max(most, one.upper);
    }
    chart.x.from = to_percent * least / room;
    chart.x.to = to_percent * most * room;
    const auto rows = static_cast<double>(data.measures.size());
    chart.y.from = -0.5;
    chart.y.to = rows - 0.3;
    for (std::size_t i = 0; i < data.measures.size(); ++i) {
        const PartMeasure& one = data.measures[i];
        const double row = rows - 1.0 - static_cast<double>(i);
        chart.y.ticks.insert(chart.y.ticks.begin(), {row, one.name});
        Interval bar;
        bar.at = {to_percent * one.part, row};
        bar.lower = to_percent * one.lower;
        bar.upper = to_percent * one.upper;
        bar.hover = one.hover.empty() ? one.name + ": " + with_interval(bar.at.x, bar.lower, bar.upper) + " %"
                                      : one.hover;
        Marker mark;
        mark.at = bar.at;
        mark.shape = shape_of(data.component);
        mark.ink = ink_of(data.component);
        mark.hover = bar.hover;
        chart.marks.emplace_back(std::move(bar));
        chart.marks.emplace_back(std::move(mark));
    }
    return chart;
}

double part_row_lines(const PartRow& data) {
    constexpr double axis_lines = 1.9;
    constexpr double a_bar = 1.3;
    return axis_lines + a_bar * (static_cast<double>(data.measures.size()) + 0.2);
}

}  // namespace sipladder::chart
