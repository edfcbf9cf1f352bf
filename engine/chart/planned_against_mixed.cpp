#include "engine/chart/planned_against_mixed.hpp"

#include "engine/chart/ticks.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::chart {

namespace {

double off_percent(double value, double target) {
    return 100.0 * (value / target - 1.0);
}

Axis deviation_axis(const PlannedAgainstMixed& data) {
    double reach = 2.0;
    for (const RungMixed& rung : data.rungs) {
        const double bar = 200.0 * rung.u_rel * rung.mixed / rung.target;
        reach = std::max({reach, std::abs(off_percent(rung.planned, rung.target)),
                          std::abs(off_percent(rung.mixed, rung.target)) + bar});
    }
    Axis axis;
    axis.from = -1.08 * reach;
    axis.to = 1.08 * reach;
    axis.unit = std::string("%");
    axis.ruled = true;
    return axis;
}

/// One row per rung; the step from rung to rung is 1, the weakest lies at 0.
void add_rung(const PlannedAgainstMixed& data, const RungMixed& rung, double row, Chart& chart) {
    const std::string unit = " " + unit_text(data.scale);
    const double bar_rel = 2.0 * rung.u_rel * rung.mixed / rung.target;
    Marker planned;
    planned.at = {off_percent(rung.planned, rung.target), row + 0.22};
    planned.shape = shape_of(data.component);
    planned.ink = ink_of(data.component);
    planned.size = 0.75;
    planned.filled = false;
    planned.hover = "bottle " + rung.bottle + ", as planned " + significant(rung.planned, 4) + unit;
    Marker mixed = planned;
    mixed.at = {off_percent(rung.mixed, rung.target), row - 0.16};
    mixed.filled = true;
    mixed.hover = "bottle " + rung.bottle + ", as mixed " +
                  with_uncertainty(rung.mixed, rung.u_rel * rung.mixed) + unit;
    Interval bar;
    bar.at = mixed.at;
    bar.lower = mixed.at.x - 100.0 * bar_rel;
    bar.upper = mixed.at.x + 100.0 * bar_rel;
    bar.hover = mixed.hover;
    chart.marks.emplace_back(std::move(planned));
    chart.marks.emplace_back(std::move(bar));
    chart.marks.emplace_back(std::move(mixed));
}

}  // namespace

Chart planned_against_mixed(const PlannedAgainstMixed& data) {
    Chart chart;
    chart.title = data.title;
    chart.y_title = "off the target";
    chart.note = "hollow: as planned; filled: as mixed, ± 2 u";
    chart.x = deviation_axis(data);
    chart.y.from = -0.6;
    chart.y.to = std::max(0.6, static_cast<double>(data.rungs.size()) - 0.4);
    Rule target;
    target.direction = Direction::along_y;
    target.dash = Dash::solid;
    chart.marks.emplace_back(target);
    std::vector<double> targets;
    for (const RungMixed& rung : data.rungs) targets.push_back(rung.target);
    const int digits = digits_apart(targets, 2);
    for (std::size_t i = 0; i < data.rungs.size(); ++i) {
        const auto row = static_cast<double>(i);
        const RungMixed& rung = data.rungs[i];
        chart.y.ticks.push_back(
            {row, rung.bottle + "  " + significant(rung.target, digits) + " " + unit_text(data.scale)});
        add_rung(data, rung, row, chart);
    }
    return chart;
}

}  // namespace sipladder::chart
