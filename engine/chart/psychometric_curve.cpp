#include "engine/chart/psychometric_curve.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace sipladder::chart {

namespace {

/// The axis holds every level and the estimate, with room beside them. An interval that runs further is cut
/// at the edge of the plot: three decades of emptiness would hide the answers.
Axis level_axis(const PsychometricCurve& data) {
    double from = data.threshold.log10;
    double to = from;
    for (const LevelAnswers& level : data.levels) {
        from = std::min(from, std::log10(level.level));
        to = std::max(to, std::log10(level.level));
    }
    constexpr double furthest = 0.5;
    from = std::max(std::min(from, data.threshold.lower_log10), from - furthest);
    to = std::min(std::max(to, data.threshold.upper_log10), to + furthest);
    const double room = std::max(0.08 * (to - from), 0.1);
    Axis axis;
    axis.kind = AxisKind::logarithmic;
    axis.from = std::pow(10.0, from - room);
    axis.to = std::pow(10.0, to + room);
    axis.unit = unit_text(data.threshold.scale);
    return axis;
}

Axis share_axis() {
    Axis axis;
    axis.from = -0.04;
    axis.to = 1.04;
    axis.ticks = {{0.0, "0"}, {0.25, "25"}, {0.5, "50"}, {0.75, "75"}, {1.0, "100"}};
    axis.unit = std::string("%");
    axis.ruled = true;
    return axis;
}

void add_curve(const PsychometricCurve& data, const Axis& x_axis, Chart& chart) {
    const Ink ink = ink_of(data.component);
    Band band;
    band.ink = ink;
    Line line;
    line.ink = ink;
    for (const threshold::CurvePoint& point : data.curve) {
        const double x = std::pow(10.0, point.x_log10);
        if (x < x_axis.from || x > x_axis.to) continue;
        band.x.push_back(x);
        band.lower.push_back(point.lower);
        band.upper.push_back(point.upper);
        line.points.push_back({x, point.p});
    }
    chart.marks.emplace_back(std::move(band));
    chart.marks.emplace_back(std::move(line));
}

void add_answers(const PsychometricCurve& data, Chart& chart) {
    std::size_t most = 1;
    for (const LevelAnswers& level : data.levels) most = std::max(most, level.served);
    for (const LevelAnswers& level : data.levels) {
        if (level.served == 0) continue;
        const auto right = static_cast<double>(level.right);
        const auto served = static_cast<double>(level.served);
        Marker mark;
        mark.at = {level.level, right / served};
        mark.shape = shape_of(data.component);
        mark.ink = ink_of(data.component);
        // Area goes with the number of presentations.
        mark.size = std::max(0.6, 1.4 * std::sqrt(served / static_cast<double>(most)));
        mark.filled = false;
        const std::string count = std::to_string(level.right);
        const std::string of = std::to_string(level.served);
        mark.label = std::string(count).append("/").append(of);
        mark.hover = significant(level.level, 3) + " " + unit_text(data.threshold.scale);
        mark.hover.append(": ").append(count).append(" right of ").append(of);
        chart.marks.emplace_back(std::move(mark));
    }
}

/// Right ones in piles that grow upwards from above 100 %, wrong ones downwards from below 0.
void add_each_answer(const PsychometricCurve& data, Chart& chart) {
    if (data.answers.empty()) return;
    constexpr double first = 0.09;
    constexpr double step = 0.055;
    std::map<std::pair<double, bool>, int> pile;
    double least = 0.0;
    double most = 1.0;
    for (std::size_t i = 0; i < data.answers.size(); ++i) {
        const OneAnswer& answer = data.answers[i];
        const double out = first + step * pile[{answer.level, answer.is_right}]++;
        Marker mark;
        mark.at = {answer.level, answer.is_right ? 1.0 + out : -out};
        mark.shape = shape_of(data.component);
        mark.ink = answer.is_right ? ink_of(data.component) : Ink::muted;
        mark.size = 0.5;
        mark.filled = answer.is_right;
        mark.hover = "answer " + std::to_string(i + 1) + ": " + (answer.is_right ? "right" : "wrong") +
                     " at " + significant(answer.level, 3) + " " + unit_text(data.threshold.scale);
        least = std::min(least, mark.at.y);
        most = std::max(most, mark.at.y);
        chart.marks.emplace_back(std::move(mark));
    }
    chart.y.from = least - 0.05;
    chart.y.to = most + 0.05;
    chart.note += "; small marks: every answer, right above, wrong (hollow) below";
}

void add_threshold(const PsychometricCurve& data, Chart& chart) {
    const threshold::Threshold& found = data.threshold;
    const double value = std::pow(10.0, found.log10);
    const double lower = std::pow(10.0, found.lower_log10);
    const double upper = std::pow(10.0, found.upper_log10);
    // Chance-corrected 0.5: half way from chance to always right.
    const double height = 0.5 * (1.0 + data.guess);
    const std::string number = with_interval(value, lower, upper) + " " + unit_text(found.scale);
    Interval bar;
    bar.at = {value, height};
    bar.lower = lower;
    bar.upper = upper;
    bar.hover =
        std::string("threshold ").append(number).append(", 95 % interval; prior: ").append(found.prior);
    Marker mark;
    mark.at = bar.at;
    mark.shape = shape_of(data.component);
    mark.ink = ink_of(data.component);
    mark.size = 1.3;
    mark.hover = bar.hover;
    chart.note = std::string("threshold ").append(number).append(", 95 % interval");
    chart.marks.emplace_back(std::move(bar));
    chart.marks.emplace_back(std::move(mark));
}

}  // namespace

Chart psychometric_curve(const PsychometricCurve& data) {
    Chart chart;
    chart.title = data.title;
    chart.y_title = "right answers";
    chart.x = level_axis(data);
    chart.y = share_axis();
    Rule chance;
    chance.at = data.guess;
    chance.label = "chance";
    add_curve(data, chart.x, chart);
    chart.marks.emplace_back(std::move(chance));
    add_answers(data, chart);
    add_threshold(data, chart);
    add_each_answer(data, chart);
    return chart;
}

std::vector<LevelAnswers> pooled(const solution::MixedLadder& ladder,
                                 const std::vector<threshold::Answered>& answers) {
    std::vector<LevelAnswers> levels(ladder.levels.size());
    for (std::size_t i = 0; i < levels.size(); ++i) levels[i].level = ladder.levels[i].mixed;
    for (const threshold::Answered& answer : answers) {
        SIPLADDER_EXPECT(answer.level < levels.size());
        ++levels[answer.level].served;
        if (answer.correct) ++levels[answer.level].right;
    }
    std::erase_if(levels, [](const LevelAnswers& level) { return level.served == 0; });
    return levels;
}

std::vector<threshold::CurvePoint> curve_over(const solution::MixedLadder& ladder,
                                              const threshold::Posterior& posterior) {
    SIPLADDER_EXPECT(!ladder.levels.empty());
    constexpr double beyond = 1.0;
    constexpr int pieces_per_decade = 40;
    const double from = std::log10(ladder.levels.front().mixed) - beyond;
    const double to = std::log10(ladder.levels.back().mixed) + beyond;
    const int pieces = static_cast<int>(std::ceil((to - from) * pieces_per_decade));
    std::vector<double> xs;
    for (int i = 0; i <= pieces; ++i) xs.push_back(from + (to - from) * i / pieces);
    return threshold::curve_band(posterior, xs);
}

}  // namespace sipladder::chart
