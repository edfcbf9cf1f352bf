#include "engine/chart/palate_row.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

// Heights are lines of small text: a ridge stands on the row of its bar, what is beside it has bars below.

namespace sipladder::chart {

namespace {

constexpr double ridge_lines = 1.7;
constexpr double band_lines = 1.1;  ///< above the ridges, for the words of a band
constexpr double bar_lines = 1.15;  ///< from one bar to the next

std::vector<const PalateMeasure*> measures_of(const PalateRow& data) {
    std::vector<const PalateMeasure*> all;
    if (data.filled) all.push_back(&*data.filled);
    if (data.outlined) all.push_back(&*data.outlined);
    for (const PalateMeasure& one : data.beside) all.push_back(&one);
    SIPLADDER_EXPECT(!all.empty());
    return all;
}

/// Above the ridges.
double lines_above(const PalateRow& data) {
    double lines = 0.15;
    for (const auto* one : {&data.filled, &data.outlined})
        if (*one && (*one)->reported) lines += band_lines;
    return lines;
}

Axis row_axis(const std::vector<const PalateMeasure*>& measures) {
    double from = measures.front()->threshold.lower_log10;
    double to = measures.front()->threshold.upper_log10;
    for (const PalateMeasure* one : measures) {
        from = std::min(from, one->threshold.lower_log10 - 0.15);
        to = std::max(to, one->threshold.upper_log10 + 0.15);
        if (!one->reported) continue;
        from = std::min(from, std::log10(one->reported->lower) - 0.1);
        to = std::max(to, std::log10(one->reported->upper) + 0.1);
    }
    Axis axis;
    axis.kind = AxisKind::logarithmic;
    axis.from = std::pow(10.0, from);
    axis.to = std::pow(10.0, to);
    axis.unit = unit_text(measures.front()->threshold.scale);
    return axis;
}

std::string range_text(const PalateMeasure& measure, bool is_named) {
    const Reported& reported = *measure.reported;
    std::string text = is_named ? measure.name + ": papers report " : "papers report ";
    text += shortest(reported.lower, 2);
    if (reported.upper > reported.lower) text += " to " + shortest(reported.upper, 2);
    return text + " " + unit_text(measure.threshold.scale);
}

ReferenceBand band_of(const PalateMeasure& measure, bool is_named) {
    ReferenceBand band;
    band.from = measure.reported->lower;
    band.to = measure.reported->upper;
    if (band.to <= band.from * 1.02) {  // a single value still has to be seen
        band.from /= 1.01;
        band.to *= 1.01;
    }
    band.label = range_text(measure, is_named);
    band.hover = band.label + ": " + measure.reported->whose;
    return band;
}

Ridge ridge_of(const threshold::Threshold& found, const Axis& axis) {
    SIPLADDER_EXPECT(found.theta_density.size() == found.theta_grid_log10.size());
    Ridge ridge;
    ridge.rise = ridge_lines;
    for (std::size_t i = 0; i < found.theta_grid_log10.size(); ++i) {
        const double x = std::pow(10.0, found.theta_grid_log10[i]);
        if (x < axis.from || x > axis.to) continue;
        ridge.x.push_back(x);
        ridge.density.push_back(found.theta_density[i]);
    }
    return ridge;
}

void add_bar(Chart& chart, const PalateMeasure& measure, double row, solution::Component component,
             bool is_filled) {
    const threshold::Threshold& found = measure.threshold;
    Interval bar;
    bar.at = {found.value(), row};
    bar.lower = found.lower();
    bar.upper = found.upper();
    bar.hover = measure.hover;
    Marker mark;
    mark.at = bar.at;
    mark.shape = shape_of(component);
    mark.ink = ink_of(component);
    mark.filled = is_filled;
    mark.hover = measure.hover;
    chart.marks.emplace_back(std::move(bar));
    chart.marks.emplace_back(std::move(mark));
}

}  // namespace

Chart palate_row(const PalateRow& data) {
    const std::vector<const PalateMeasure*> measures = measures_of(data);
    const bool is_named = measures.size() > 1 || !data.filled || data.filled->name != "detection";
    const auto bars = static_cast<double>(measures.size());
    Chart chart;
    chart.title = data.title;
    chart.x = row_axis(measures);
    chart.y.from = -0.5 - (bars - 1.0) * bar_lines;
    chart.y.to = ridge_lines + lines_above(data);
    chart.y.shown = is_named;
    for (const auto* one : {&data.filled, &data.outlined})
        if (*one && (*one)->reported) {
            chart.marks.emplace_back(band_of(**one, is_named));
            std::get<ReferenceBand>(chart.marks.back()).outlined = one == &data.outlined;
        }
    for (const auto* one : {&data.filled, &data.outlined})
        if (*one) {
            Ridge ridge = ridge_of((*one)->threshold, chart.x);
            ridge.ink = ink_of(data.component);
            ridge.filled = one == &data.filled;
            chart.marks.emplace_back(std::move(ridge));
        }
    double row = 0.0;
    for (const PalateMeasure* one : measures) {
        add_bar(chart, *one, row, data.component, data.filled && one == &*data.filled);
        if (is_named) chart.y.ticks.insert(chart.y.ticks.begin(), {row, one->name});
        row -= bar_lines;
    }
    return chart;
}

double palate_row_lines(const PalateRow& data) {
    constexpr double axis_lines = 1.9;
    return axis_lines + ridge_lines + lines_above(data) + 0.5 +
           static_cast<double>(measures_of(data).size() - 1) * bar_lines;
}

}  // namespace sipladder::chart
