#include "engine/chart/felt.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::chart {

namespace {

constexpr double foot_of_marks = 0.7;  // a mark of 0 on a log axis

Marker cup_at(Point at, solution::Component component, bool is_other, const std::string& hover) {
    Marker mark;
    mark.at = at;
    mark.shape = shape_of(component);
    mark.ink = ink_of(component);
    mark.size = 0.75;
    mark.filled = !is_other;
    mark.hover = hover;
    return mark;
}

void widen(double value, double& from, double& to) {
    from = std::min(from, value);
    to = std::max(to, value);
}

}  // namespace

Chart marks_against_level(const MarksAgainstLevel& data) {
    SIPLADDER_EXPECT(!data.conditions.empty() && !data.conditions.front().cups.empty());
    Chart chart;
    chart.title = data.title;
    chart.note = data.note;
    chart.y_title = "mark, 0 to 100";
    chart.x.kind = chart.y.kind = AxisKind::logarithmic;
    chart.x.unit = unit_text(data.scale);
    double from = data.conditions.front().cups.front().x;
    double to = from;
    for (const FeltCups& condition : data.conditions)
        for (const Point& cup : condition.cups) widen(cup.x, from, to);
    chart.x.from = 0.75 * from;
    chart.x.to = 1.35 * to;
    chart.y.from = foot_of_marks;
    chart.y.to = 130.0;
    chart.y.ticks = {{foot_of_marks, "0"}, {1.0, "1"},   {3.0, "3"},
                     {10.0, "10"},         {30.0, "30"}, {100.0, "100"}};
    chart.y.ruled = true;
    for (std::size_t i = 0; i < data.conditions.size(); ++i) {
        const FeltCups& condition = data.conditions[i];
        const bool is_other = i > 0;
        if (condition.line.size() >= 2) {
            Line line;
            line.points = condition.line;
            line.ink = ink_of(data.component);
            line.width = 1.3;
            line.dash = is_other ? Dash::dashed : Dash::solid;
            chart.marks.emplace_back(std::move(line));
        }
        for (const Point& cup : condition.cups) {
            const std::string hover = condition.name + ", " + significant(cup.x, 3) + " " +
                                      unit_text(data.scale) + ": " + significant(cup.y, 3);
            chart.marks.emplace_back(
                cup_at({cup.x, std::max(cup.y, foot_of_marks)}, data.component, is_other, hover));
        }
        if (data.conditions.size() > 1 && condition.line.size() >= 2) {
            Text name;
            name.at = condition.line.back();
            name.text = condition.name;
            name.anchor = Anchor::right;
            chart.marks.emplace_back(std::move(name));
        }
    }
    return chart;
}

Chart how_long(const HowLong& data) {
    SIPLADDER_EXPECT(!data.conditions.empty());
    Chart chart;
    chart.title = data.title;
    chart.note = data.note;
    chart.x.kind = AxisKind::logarithmic;
    chart.x.unit = "s";
    double from = 1.5;
    double to = 15.0;
    for (const Lasting& condition : data.conditions)
        for (const double seconds : condition.seconds) widen(seconds, from, to);
    chart.x.from = 0.8 * from;
    chart.x.to = 1.25 * to;
    const auto rows = static_cast<double>(data.conditions.size());
    chart.y.from = -0.6;
    chart.y.to = rows + 0.1;
    for (const double limit : {2.0, 5.0, 10.0}) {
        Rule rule;
        rule.at = limit;
        rule.direction = Direction::along_y;
        chart.marks.emplace_back(std::move(rule));
    }
    const double edges[] = {chart.x.from, 2.0, 5.0, 10.0, chart.x.to};
    const char* const words[] = {"very short", "short", "medium", "long"};
    for (std::size_t word = 0; word < 4; ++word) {
        Text text;
        text.at = {std::sqrt(edges[word] * edges[word + 1]), rows - 0.15};
        text.text = words[word];
        text.anchor = Anchor::centre;
        text.ink = Ink::muted;
        chart.marks.emplace_back(std::move(text));
    }
    for (std::size_t i = 0; i < data.conditions.size(); ++i) {
        const Lasting& condition = data.conditions[i];
        const double row = rows - 1.0 - static_cast<double>(i);
        chart.y.ticks.insert(chart.y.ticks.begin(), {row, condition.name});
        if (condition.quarter > 0.0) {
            Band half;
            half.x = {condition.quarter, condition.three_quarters};
            half.lower = {row - 0.22, row - 0.22};
            half.upper = {row + 0.22, row + 0.22};
            half.ink = ink_of(data.component);
            half.opacity = 0.22;
            chart.marks.emplace_back(std::move(half));
        }
        for (std::size_t cup = 0; cup < condition.seconds.size(); ++cup) {
            const double seconds = condition.seconds[cup];
            const bool outlasts = data.most_seconds > 0.0 && seconds >= data.most_seconds;
            // A little up and down, so that cups alike do not hide each other.
            const double y = row + 0.06 * (static_cast<double>(cup % 3) - 1.0);
            chart.marks.emplace_back(cup_at({seconds, y}, data.component, outlasts,
                                            significant(seconds, 2) + (outlasts ? " s and more" : " s")));
        }
        Interval middle;
        middle.at = {condition.middle, row - 0.36};
        middle.lower = condition.lower;
        middle.upper = condition.upper;
        middle.hover = with_interval(condition.middle, condition.lower, condition.upper) + " s";
        Marker mark;
        mark.at = middle.at;
        mark.size = 0.7;
        mark.hover = middle.hover;
        chart.marks.emplace_back(std::move(middle));
        chart.marks.emplace_back(std::move(mark));
    }
    return chart;
}

}  // namespace sipladder::chart
