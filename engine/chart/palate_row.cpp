#include "engine/chart/palate_row.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::chart {

namespace {

Axis row_axis(const PalateRow& data) {
    const threshold::Threshold& found = data.threshold;
    double from = found.lower_log10 - 0.15;
    double to = found.upper_log10 + 0.15;
    if (data.reported) {
        from = std::min(from, std::log10(data.reported->lower) - 0.1);
        to = std::max(to, std::log10(data.reported->upper) + 0.1);
    }
    Axis axis;
    axis.kind = AxisKind::logarithmic;
    axis.from = std::pow(10.0, from);
    axis.to = std::pow(10.0, to);
    axis.unit = unit_text(found.scale);
    return axis;
}

std::string range_text(const Reported& reported, Scale scale) {
    std::string text = "papers report " + shortest(reported.lower, 2);
    if (reported.upper > reported.lower) text += " to " + shortest(reported.upper, 2);
    return text + " " + unit_text(scale);
}

Ridge ridge_of(const PalateRow& data, const Axis& axis) {
    const threshold::Threshold& found = data.threshold;
    SIPLADDER_EXPECT(found.theta_density.size() == found.theta_grid_log10.size());
    Ridge ridge;
    ridge.ink = ink_of(data.component);
    for (std::size_t i = 0; i < found.theta_grid_log10.size(); ++i) {
        const double x = std::pow(10.0, found.theta_grid_log10[i]);
        if (x < axis.from || x > axis.to) continue;
        ridge.x.push_back(x);
        ridge.density.push_back(found.theta_density[i]);
    }
    return ridge;
}

}  // namespace

Chart palate_row(const PalateRow& data) {
    const threshold::Threshold& found = data.threshold;
    Chart chart;
    chart.title = data.title;
    chart.x = row_axis(data);
    chart.y.shown = false;
    chart.y.from = -0.3;
    chart.y.to = 1.1;
    if (data.reported) {
        chart.y.to = 1.9;  // room above the ridge for the words of the band
        ReferenceBand band;
        band.from = data.reported->lower;
        band.to = data.reported->upper;
        if (band.to <= band.from * 1.02) {  // a single value still has to be seen
            band.from /= 1.01;
            band.to *= 1.01;
        }
        band.label = range_text(*data.reported, found.scale);
        band.hover = band.label + ": " + data.reported->whose;
        chart.marks.emplace_back(std::move(band));
    }
    chart.marks.emplace_back(ridge_of(data, chart.x));
    const double value = std::pow(10.0, found.log10);
    Interval bar;
    bar.at = {value, 0.0};
    bar.lower = std::pow(10.0, found.lower_log10);
    bar.upper = std::pow(10.0, found.upper_log10);
    bar.hover = data.hover;
    Marker mark;
    mark.at = bar.at;
    mark.shape = shape_of(data.component);
    mark.ink = ink_of(data.component);
    mark.hover = data.hover;
    chart.marks.emplace_back(std::move(bar));
    chart.marks.emplace_back(std::move(mark));
    return chart;
}

}  // namespace sipladder::chart
