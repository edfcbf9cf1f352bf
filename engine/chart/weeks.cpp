#include "engine/chart/weeks.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

// Bars that run far out say little and would flatten the line, so the axis follows the middle of things: all
// values and the line's band in full, the bars as far as half a decade beyond them.

namespace sipladder::chart {

namespace {

struct Span {
    double low{};
    double high{};

    void hold(double value) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
};

double value(double log10) {
    return std::pow(10.0, log10);
}

Axis level_axis(const trend::Trend& trend, bool has_flags, std::optional<double> goal) {
    Span values{trend.points.front().own.log10, trend.points.front().own.log10};
    for (const trend::Point& point : trend.points) {
        values.hold(point.own.log10);
        if (point.practice) continue;
        values.hold(point.line.lower_log10);
        values.hold(point.line.upper_log10);
    }
    if (goal) values.hold(std::log10(*goal));
    Span bars = values;
    for (const trend::Point& point : trend.points) {
        bars.hold(point.own.lower_log10);
        bars.hold(point.own.upper_log10);
    }
    constexpr double furthest = 0.5;
    const double low = std::max(bars.low, values.low - furthest);
    const double high = std::min(bars.high, values.high + furthest);
    const double room = std::max(0.06 * (high - low), 0.05);
    const double flags = has_flags ? 0.14 * (high - low) : 0.0;
    Axis axis;
    axis.kind = AxisKind::logarithmic;
    axis.from = value(low - room);
    axis.to = value(high + room + flags);
    axis.unit = unit_text(trend.scale);
    axis.ruled = true;
    return axis;
}

Axis time_axis(std::span<const trend::Sitting> sittings, Span weeks) {
    const double room = std::max(0.04 * (weeks.high - weeks.low), 0.2);
    Axis axis;
    axis.from = weeks.low - room;
    axis.to = weeks.high + room;
    // A tick a sitting as long as their labels have room; labels that would touch are thinned out together.
    constexpr std::size_t most = 9;
    const std::size_t every = (sittings.size() + most - 1) / most;
    for (std::size_t i = 0; i < sittings.size(); i += every)
        axis.ticks.push_back({sittings[i].week, sittings[i].date});
    for (const trend::Sitting& sitting : sittings) axis.more_ticks.push_back({sitting.week, sitting.date});
    axis.dated = axis.more_ticks.front();
    return axis;
}

std::string interval_text(const threshold::Estimate& found, Scale scale) {
    return with_interval(value(found.log10), value(found.lower_log10), value(found.upper_log10)) + " " +
           unit_text(scale);
}

void add_line(const Weeks& data, const trend::Stretch& stretch, Chart& chart) {
    Band band;
    band.ink = ink_of(data.component);
    Line line;
    line.ink = band.ink;
    line.width = 1.6;
    for (std::size_t i = stretch.first; i <= stretch.last; ++i) {
        const trend::Point& point = data.trend.points[i];
        if (point.practice) continue;
        const double week = data.sittings[point.sitting].week;
        band.x.push_back(week);
        band.lower.push_back(value(point.line.lower_log10));
        band.upper.push_back(value(point.line.upper_log10));
        line.points.push_back({week, value(point.line.log10)});
    }
    if (line.points.size() < 2) return;
    chart.marks.emplace_back(std::move(band));
    chart.marks.emplace_back(std::move(line));
}

/// Where a new stretch begins: half way from the sitting before.
void add_break(const Weeks& data, const trend::Stretch& stretch, Chart& chart) {
    if (stretch.first == 0) return;
    Rule rule;
    rule.direction = Direction::along_y;
    rule.at = 0.5 * (data.sittings[stretch.first - 1].week + data.sittings[stretch.first].week);
    rule.label = stretch.why;
    chart.marks.emplace_back(std::move(rule));
}

void add_dot(const Weeks& data, const trend::Point& point, Chart& chart) {
    const trend::Sitting& sitting = data.sittings[point.sitting];
    Interval bar;
    bar.direction = Direction::along_y;
    bar.at = {sitting.week, value(point.own.log10)};
    bar.lower = value(point.own.lower_log10);
    bar.upper = value(point.own.upper_log10);
    bar.ink = Ink::muted;
    bar.width = 0.7;
    bar.hover = sitting.date + ": " + interval_text(point.own, data.trend.scale) + ", this sitting alone";
    if (point.practice)
        bar.hover += "; practice, outside the line";
    else
        bar.hover.append("; with the others ").append(interval_text(point.smoothed, data.trend.scale));
    for (const std::string& note : sitting.notes) bar.hover.append("; ").append(note);
    Marker mark;
    mark.at = bar.at;
    mark.shape = shape_of(data.component);
    mark.ink = ink_of(data.component);
    mark.filled = !point.practice;
    mark.hover = bar.hover;
    chart.marks.emplace_back(std::move(bar));
    chart.marks.emplace_back(std::move(mark));
}

/// A flag: a thin mast from the dot's bar up to the words.
void add_flag(const Weeks& data, const trend::Point& point, Chart& chart) {
    const trend::Sitting& sitting = data.sittings[point.sitting];
    if (sitting.notes.empty()) return;
    const double from = std::log10(chart.y.from);
    const double height = std::log10(chart.y.to) - from;
    const double top = value(from + 0.93 * height);
    Line mast;
    mast.points = {{sitting.week, value(from + 0.87 * height)}, {sitting.week, top}};
    mast.ink = Ink::accent;
    chart.marks.emplace_back(std::move(mast));
    Marker flag;
    flag.at = {sitting.week, top};
    flag.shape = MarkShape::square;
    flag.ink = Ink::accent;
    flag.size = 0.55;
    for (const std::string& note : sitting.notes) flag.label += (flag.label.empty() ? "" : ", ") + note;
    flag.hover = std::string(sitting.date).append(": ").append(flag.label);
    chart.marks.emplace_back(std::move(flag));
}

void add_goal(double goal, Scale scale, Chart& chart) {
    Rule rule;
    rule.direction = Direction::along_x;
    rule.at = goal;
    rule.label = "goal " + shortest(goal, 3) + " " + unit_text(scale);
    rule.ink = Ink::accent;
    rule.dash = Dash::dashed;
    chart.marks.emplace_back(std::move(rule));
}

/// The level of a period from its first sitting to its last; one sitting gets a day either side.
void add_period(const Weeks& data, const trend::Period& period, const threshold::Estimate& level,
                Chart& chart) {
    constexpr double day = 1.0 / 7.0;
    const double from = data.sittings[period.first].week - day;
    const double to = data.sittings[period.last].week + day;
    Band band;
    band.x = {from, to};
    band.lower.assign(2, value(level.lower_log10));
    band.upper.assign(2, value(level.upper_log10));
    band.ink = Ink::accent;
    band.opacity = 0.12;
    band.hover = data.sittings[period.first].date + " to " + data.sittings[period.last].date + ": " +
                 interval_text(level, data.trend.scale);
    Line line;
    line.points = {{from, value(level.log10)}, {to, value(level.log10)}};
    line.ink = Ink::accent;
    line.width = 1.6;
    line.dash = Dash::dashed;
    chart.marks.emplace_back(std::move(band));
    chart.marks.emplace_back(std::move(line));
}

std::string how_to_read(const trend::Trend& trend) {
    std::string note = "Dots with bars: each sitting by itself, 95 %.";
    const auto is_practice = [](const trend::Point& point) { return point.practice; };
    if (std::any_of(trend.points.begin(), trend.points.end(), is_practice)) note += " Hollow: practice.";
    if (std::any_of(trend.stretches.begin(), trend.stretches.end(),
                    [](const trend::Stretch& stretch) { return stretch.change.has_value(); }))
        note += " Line and band: what the sittings together tell, 95 %.";
    return note;
}

}  // namespace

Chart weeks(const Weeks& data) {
    SIPLADDER_EXPECT(!data.trend.points.empty() && data.sittings.size() == data.trend.points.size());
    const auto flagged = [](const trend::Sitting& sitting) { return !sitting.notes.empty(); };
    const bool has_flags = std::any_of(data.sittings.begin(), data.sittings.end(), flagged);
    Chart chart;
    chart.title = data.title;
    chart.y_title = "threshold";
    chart.note = data.note.empty() ? how_to_read(data.trend) : data.note;
    chart.x =
        time_axis(data.sittings, data.span ? Span{data.span->first, data.span->second}
                                           : Span{data.sittings.front().week, data.sittings.back().week});
    chart.y = level_axis(data.trend, has_flags, data.goal);
    if (data.goal) add_goal(*data.goal, data.trend.scale, chart);
    for (const trend::Stretch& stretch : data.trend.stretches) add_line(data, stretch, chart);
    for (const trend::Stretch& stretch : data.trend.stretches) add_break(data, stretch, chart);
    if (data.periods) {
        add_period(data, data.periods->earlier, data.periods->before, chart);
        add_period(data, data.periods->later, data.periods->after, chart);
    }
    for (const trend::Point& point : data.trend.points) add_dot(data, point, chart);
    for (const trend::Point& point : data.trend.points) add_flag(data, point, chart);
    return chart;
}

Chart weeks_of_control(Weeks control, std::span<const trend::Sitting> drilled) {
    SIPLADDER_EXPECT(!drilled.empty() && !control.sittings.empty());
    control.span = {std::min(drilled.front().week, control.sittings.front().week),
                    std::max(drilled.back().week, control.sittings.back().week)};
    control.title += ": control, not drilled";
    if (control.note.empty())
        control.note = "What falls here too is practice with the task, not a finer palate for one substance.";
    return weeks(control);
}

}  // namespace sipladder::chart
