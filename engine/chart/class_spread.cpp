#include "engine/chart/class_spread.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace sipladder::chart {

namespace {

double value(double log10) {
    return std::pow(10.0, log10);
}

std::string interval_text(const threshold::Estimate& found, Scale scale) {
    return with_interval(value(found.log10), value(found.lower_log10), value(found.upper_log10)) + " " +
           unit_text(scale);
}

Axis level_axis(const panel::Panel& panel) {
    double low = panel.mean.lower_log10;
    double high = panel.mean.upper_log10;
    for (const panel::Person& person : panel.people) {
        low = std::min({low, person.shrunken.lower_log10, person.own.log10});
        high = std::max({high, person.shrunken.upper_log10, person.own.log10});
    }
    const double room = std::max(0.04 * (high - low), 0.05);
    Axis axis;
    axis.kind = AxisKind::logarithmic;
    axis.from = value(low - room);
    axis.to = value(high + room);
    axis.unit = unit_text(panel.scale);
    return axis;
}

std::vector<std::size_t> most_sensitive_first(const panel::Panel& panel) {
    std::vector<std::size_t> order(panel.people.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return panel.people[a].shrunken.log10 < panel.people[b].shrunken.log10;
    });
    return order;
}

ReferenceBand band_between(double low, double high, std::string label, std::string hover) {
    ReferenceBand band;
    band.from = value(low);
    band.to = value(high);
    band.label = std::move(label);
    band.hover = std::move(hover);
    return band;
}

void add_panel(const panel::Panel& panel, Chart& chart) {
    const double spread = panel.spread.log10;
    const std::string mean = interval_text(panel.mean, panel.scale);
    chart.marks.emplace_back(band_between(
        panel.mean.log10 - spread, panel.mean.log10 + spread, "two of three people",
        "two of three people lie within a factor of " + significant(value(spread), 2) + " of the mean"));
    chart.marks.emplace_back(band_between(panel.mean.lower_log10, panel.mean.upper_log10, "",
                                          std::string("panel mean ").append(mean)));
    Rule rule;
    rule.direction = Direction::along_y;
    rule.at = value(panel.mean.log10);
    rule.dash = Dash::solid;
    chart.marks.emplace_back(std::move(rule));
}

std::string words_of(panel::Stand stand) {
    if (stand == panel::Stand::more_sensitive) return "; more sensitive than the mean";
    if (stand == panel::Stand::less_sensitive) return "; less sensitive than the mean";
    return "; not clear of the mean";
}

void add_person(const ClassSpread& data, const panel::Person& person, double row, Chart& chart) {
    const std::string hover = person.name + ": " + interval_text(person.shrunken, data.panel.scale) +
                              ", alone " + interval_text(person.own, data.panel.scale) +
                              words_of(person.stand);
    Line pull;
    pull.points = {{value(person.own.log10), row}, {value(person.shrunken.log10), row}};
    pull.ink = Ink::muted;
    pull.dash = Dash::dotted;
    Line own;
    constexpr double half = 0.28;  // of a row
    own.points = {{value(person.own.log10), row - half}, {value(person.own.log10), row + half}};
    own.ink = Ink::muted;
    own.width = 1.4;
    Interval bar;
    bar.at = {value(person.shrunken.log10), row};
    bar.lower = value(person.shrunken.lower_log10);
    bar.upper = value(person.shrunken.upper_log10);
    bar.ink = ink_of(data.component);
    bar.hover = hover;
    Marker mark;
    mark.at = bar.at;
    mark.shape = shape_of(data.component);
    mark.ink = bar.ink;
    mark.filled = person.stand != panel::Stand::unclear;
    mark.size = 0.9;
    mark.hover = hover;
    chart.marks.emplace_back(std::move(bar));
    chart.marks.emplace_back(std::move(pull));
    chart.marks.emplace_back(std::move(own));
    chart.marks.emplace_back(std::move(mark));
}

}  // namespace

Chart class_spread(const ClassSpread& data) {
    SIPLADDER_EXPECT(!data.panel.people.empty());
    const std::vector<std::size_t> order = most_sensitive_first(data.panel);
    Chart chart;
    chart.title = data.title;
    chart.note =
        "Panel mean " + interval_text(data.panel.mean, data.panel.scale) +
        ". Mark and bar: with the others' help, 95 %; filled where a person stands clear of the mean. "
        "Upright dash: the person's own answers alone.";
    chart.x = level_axis(data.panel);
    chart.y.from = -0.7;
    chart.y.to = static_cast<double>(order.size()) + 0.4;  // room for the words of the band
    for (std::size_t i = 0; i < order.size(); ++i)
        chart.y.ticks.push_back(
            {static_cast<double>(order.size() - 1 - i), data.panel.people[order[i]].name});
    std::reverse(chart.y.ticks.begin(), chart.y.ticks.end());
    add_panel(data.panel, chart);
    for (std::size_t i = 0; i < order.size(); ++i)
        add_person(data, data.panel.people[order[i]], static_cast<double>(order.size() - 1 - i), chart);
    return chart;
}

double class_spread_lines(std::size_t people) {
    constexpr double frame = 8.0;  // title, axis, note
    constexpr double row = 1.25;
    return frame + row * static_cast<double>(people + 1);
}

}  // namespace sipladder::chart
