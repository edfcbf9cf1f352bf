#pragma once

#include "engine/chart/palate_row.hpp"
#include "engine/chart/planned_against_mixed.hpp"
#include "engine/chart/psychometric_curve.hpp"

#include <cmath>
#include <string>

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
    data.threshold = example_threshold(0.15, 0.13);
    data.reported = chart::Reported{0.9, 8.0, "invented for this test"};
    data.hover = "1.4 (0.8 to 2.5) g/L";
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

}  // namespace sipladder::tests
