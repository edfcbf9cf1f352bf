#pragma once

#include "engine/random.hpp"
#include "engine/threshold/likelihood.hpp"

#include <cstddef>
#include <span>

namespace sipladder::threshold {

/// Does the fitted curve describe the answers? A small p says that people who have exactly this curve rarely
/// give answers that lie as far from it.
struct DevianceTest {
    double deviance{};
    int df{};
    double p_bootstrap{};  ///< (1 + how many simulated deviances reach this one) / (1 + replicates)
    double
        p_chi_squared{};  ///< the large-sample value, poor for few answers a level; 1 where df is not above 0
    std::size_t replicates{};
};

/// Parametric bootstrap: answers are drawn from the fitted curve (from the step, where the fit is separable),
/// as many a level as there were, and fitted anew with the same settings.
///
/// Counts of a level beyond 1000 presentations are drawn from the normal distribution where that is close.
/// @param replicates  1 to 100 000
/// @throws Refused    for replicates out of range, or counts or settings that maximum_likelihood refuses
/// @source            wichmann_hill_2001
/// @checked           tests/threshold/methods_test.cpp
DevianceTest deviance_test(std::span<const Counts> counts, const Task& task,
                           const LikelihoodSettings& settings, const LikelihoodFit& fit, Random& random,
                           std::size_t replicates = 999);

}  // namespace sipladder::threshold
