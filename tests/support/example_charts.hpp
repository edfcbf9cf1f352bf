#pragma once

#include "engine/chart/class_spread.hpp"
#include "engine/chart/palate_row.hpp"
#include "engine/chart/planned_against_mixed.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "engine/chart/weeks.hpp"

#include <cmath>
#include <string>
#include <utility>
#include <vector>

/// Invented results for drawing; no one's palate.
namespace sipladder::tests {

inline threshold::Threshold example_threshold(double log10, double sd_log10) {
    threshold::Threshold found;
    found.log10 = log10;
    found.sd_log10 = sd_log10;
    found.lower_log10 = log10 - 1.96 * sd_log10;
    found.upper_log10 = log10 + 1.96 * sd_log10;
    found.scale = Scale::g_per_L;
    found.prior = "flat";
    for (int i = -20; i <= 20; ++i) {
        const double z = 0.2 * i;
        found.theta_grid_log10.push_back(log10 + z * sd_log10);
        found.theta_density.push_back(std::exp(-0.5 * z * z));
    }
    return found;
}

inline chart::PsychometricCurve example_curve(double log10 = -1.15, double sd_log10 = 0.17) {
    chart::PsychometricCurve data;
    data.title = "tartaric acid in still water";
    data.component = solution::Component::sour;
    data.levels = {{0.0102, 1, 3}, {0.031, 2, 4}, {0.089, 4, 5}, {0.27, 6, 6}, {0.81, 3, 3}, {2.45, 1, 1}};
    data.threshold = example_threshold(log10, sd_log10);
    const auto right = [](double x, double theta) {
        return 1.0 / 3.0 + (2.0 / 3.0 - 0.03) / (1.0 + std::exp(-(x - theta) / 0.2));
    };
    for (int i = 0; i <= 16; ++i) {
        const double x = -3.0 + 0.25 * i;
        data.curve.push_back(
            {x, right(x, log10), right(x, log10 + 2.0 * sd_log10), right(x, log10 - 2.0 * sd_log10)});
    }
    return data;
}

inline chart::PalateRow example_row() {
    chart::PalateRow data;
    data.title = "sucrose in still water";
    data.component = solution::Component::sweet;
    data.filled = {"detection", example_threshold(0.15, 0.13),
                   chart::Reported{0.9, 8.0, "invented for this test"}, "1.4 (0.8 to 2.5) g/L"};
    return data;
}

inline chart::PlannedAgainstMixed example_mixed(int rungs = 6) {
    chart::PlannedAgainstMixed data;
    data.title = "tartaric acid in still water, planned and mixed";
    data.component = solution::Component::sour;
    data.scale = Scale::g_per_L;
    for (int i = 0; i < rungs; ++i) {
        const double target = 0.01 * std::pow(1.5, i);
        const std::string bottle(1, static_cast<char>('A' + (7 * i) % 26));
        data.rungs.push_back(
            {target, target * (1.0 + 0.002 * i), target * (0.988 + 0.01 * (i % 3)), 0.02, bottle});
    }
    return data;
}

inline threshold::Estimate example_estimate(double log10, double sd_log10) {
    return {log10, log10 - 1.96 * sd_log10, log10 + 1.96 * sd_log10, sd_log10};
}

/// Nine sittings, the first two practice, a new lot before the seventh, a cold in the fifth.
inline std::vector<trend::Sitting> example_sittings() {
    const char* const dates[] = {"2026-03-01", "2026-03-08", "2026-03-15", "2026-03-22", "2026-03-29",
                                 "2026-04-05", "2026-04-12", "2026-04-19", "2026-04-26"};
    std::vector<trend::Sitting> sittings;
    for (const char* date : dates) {
        trend::Sitting sitting;
        sitting.date = date;
        sitting.week = static_cast<double>(sittings.size());
        sittings.push_back(std::move(sitting));
    }
    sittings[4].notes = {"a cold"};
    return sittings;
}

inline trend::Trend example_trend() {
    const double dots[] = {0.35, 0.12, 0.18, 0.02, 0.21, -0.05, -0.22, -0.08, -0.2};
    trend::Trend trend;
    trend.scale = Scale::g_per_L;
    for (std::size_t i = 0; i < 9; ++i) {
        trend::Point point;
        point.sitting = i;
        point.stretch = i < 6 ? 0 : 1;
        point.practice = i < 2;
        point.own = example_estimate(dots[i], 0.16);
        const double line = 0.15 - 0.04 * static_cast<double>(i);
        point.line = point.practice ? point.own : example_estimate(i < 6 ? line : line - 0.02, 0.08);
        point.smoothed = point.line;
        trend.points.push_back(point);
    }
    trend.stretches.resize(2);
    trend.stretches[0].last = 5;
    trend.stretches[0].change = trend::Change{};
    trend.stretches[1].first = 6;
    trend.stretches[1].last = 8;
    trend.stretches[1].why = "new lot";
    trend.stretches[1].change = trend::Change{};
    return trend;
}

inline panel::Panel example_panel(std::size_t people = 6) {
    panel::Panel panel;
    panel.scale = Scale::g_per_L;
    panel.mean = example_estimate(0.1, 0.05);
    panel.spread = {0.22, 0.12, 0.36, 0.06};
    for (std::size_t i = 0; i < people; ++i) {
        const double own = 0.1 + 0.35 * std::sin(2.3 * static_cast<double>(i) + 0.5);
        panel::Person person;
        person.name = std::string("taster ").append(std::to_string(i + 1));
        person.own = example_estimate(own, 0.17);
        person.shrunken = example_estimate(0.1 + 0.65 * (own - 0.1), 0.12);
        if (own > 0.4) person.stand = panel::Stand::less_sensitive;
        if (own < -0.2) person.stand = panel::Stand::more_sensitive;
        panel.people.push_back(person);
    }
    return panel;
}

}  // namespace sipladder::tests
