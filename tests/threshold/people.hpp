#pragma once

#include "engine/random.hpp"
#include "engine/solution/ladder.hpp"
#include "engine/threshold/next_level.hpp"
#include "engine/threshold/threshold.hpp"

#include <cmath>
#include <vector>

/// Simulated people for the tests of the fits.
namespace sipladder::tests {

/// Rungs of constant ratio around 1 g/L, exact unless uncertainties are given.
inline solution::MixedLadder exact_ladder(std::size_t rungs, double ratio, double u_own_rel = 0.0,
                                          double u_shared_rel = 0.0) {
    solution::MixedLadder ladder;
    ladder.scale = Scale::g_per_L;
    for (std::size_t i = 0; i < rungs; ++i) {
        const double power = static_cast<double>(i) - 0.5 * static_cast<double>(rungs - 1);
        const double level = std::pow(ratio, power);
        ladder.levels.push_back({level, level, u_own_rel, u_shared_rel, "", 100});
    }
    return ladder;
}

/// A person drawn from the prior itself: theta by rejection, width log-normal, lapse from its nodes.
inline threshold::Curve person_from(const threshold::Prior& prior, Random& random) {
    const threshold::Range range = threshold::theta_range(prior);
    const double peak = threshold::theta_density(prior, prior.mean_log10);
    threshold::Curve curve;
    do {
        curve.theta_log10 = range.lower + (range.upper - range.lower) * random.uniform();
    } while (peak * random.uniform() > threshold::theta_density(prior, curve.theta_log10));
    do {
        curve.width_log10 = std::exp(prior.width_ln_mean + prior.width_ln_sd * random.normal());
    } while (curve.width_log10 < prior.width_lower || curve.width_log10 > prior.width_upper);
    double left = random.uniform();
    for (const threshold::Prior::LapseNode& node : prior.lapses) {
        curve.lapse = node.lapse;
        left -= node.weight;
        if (left < 0.0) break;
    }
    return curve;
}

/// A sitting by 3-AFC with adaptive choice; `errors_log10` is what each bottle holds beyond its label.
inline std::vector<threshold::Answered> sitting(const solution::MixedLadder& ladder,
                                                const threshold::Prior& prior, const threshold::Curve& truth,
                                                std::size_t presentations, Random& random,
                                                const std::vector<double>& errors_log10 = {}) {
    threshold::Posterior posterior{prior, threshold::three_afc, threshold::Fineness::coarse};
    const std::vector<double> levels = threshold::levels_log10(ladder);
    std::vector<int> portions;
    for (const solution::MixedLevel& level : ladder.levels) portions.push_back(level.portions);
    std::vector<threshold::Answered> answers;
    while (answers.size() < presentations) {
        const auto level = threshold::next_level(posterior, levels, portions);
        if (!level) break;
        --portions[*level];
        const double served = levels[*level] + (errors_log10.empty() ? 0.0 : errors_log10[*level]);
        const bool correct = random.uniform() < right_probability(truth, threshold::three_afc, served);
        posterior.update(Log10Level{levels[*level]}, correct);
        answers.push_back({*level, correct});
    }
    return answers;
}

}  // namespace sipladder::tests
