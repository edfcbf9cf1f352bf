#include "engine/threshold/deviance_test.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/likelihood_surface.hpp"

#include <boost/math/special_functions/gamma.hpp>

#include <algorithm>
#include <cmath>

// Every replicate is refitted by a short climb: from the curve it was drawn from, from the best of a coarse
// scan, and against the best step. The careful scan of maximum_likelihood would take a thousand times 10 ms.
// A climb that stopped short would make a simulated deviance too large and p too safe; the tests compare
// both.

namespace sipladder::threshold {

namespace {

using likelihood::Point;
using likelihood::Surface;

constexpr std::size_t most_replicates = 100'000;

/// How many of n are right, each with probability p.
double drawn(double n, double p, Random& random) {
    constexpr double counted = 1000.0;  // beyond it one by one takes too long
    constexpr double normal_from = 30.0;
    if (n > counted && n * std::min(p, 1.0 - p) > normal_from) {
        const double count = std::round(n * p + std::sqrt(n * p * (1.0 - p)) * random.normal());
        return std::clamp(count, 0.0, n);
    }
    if (p > 0.5) return n - drawn(n, 1.0 - p, random);
    if (p <= 0.0) return 0.0;
    // The gaps between right answers are geometric: as many draws as there are right answers.
    const double ln_wrong = std::log1p(-p);
    double count = 0.0;
    double place = 0.0;
    while (true) {
        place += std::floor(std::log1p(-random.uniform()) / ln_wrong) + 1.0;
        if (place > n) return count;
        count += 1.0;
    }
}

double saturated(const Surface& surface) {
    double ln = 0.0;
    for (const likelihood::Level& level : surface.levels) {
        const double share = level.correct / level.presentations;
        if (level.correct > 0.0) ln += level.correct * std::log(share);
        if (level.correct < level.presentations)
            ln += (level.presentations - level.correct) * std::log1p(-share);
    }
    return ln;
}

/// The best of a coarse scan over curves around and beyond the levels.
Point scanned(const Surface& surface) {
    constexpr int thetas = 13;
    constexpr int slopes = 9;
    const double middle_lapse = 0.5 * (surface.least_lapse + surface.most_lapse);
    Point best{0.0, 0.0, middle_lapse};
    double best_ln = likelihood::log_likelihood(surface, best);
    for (int t = 0; t < thetas; ++t)
        for (int s = 0; s < slopes; ++s) {
            const Point at{-1.2 + 2.4 * t / (thetas - 1), -1.0 + 6.0 * s / (slopes - 1), middle_lapse};
            const double ln = likelihood::log_likelihood(surface, at);
            if (ln > best_ln) {
                best_ln = ln;
                best = at;
            }
        }
    return best;
}

double best_log_likelihood(const Surface& surface, const std::vector<Point>& starts) {
    double best = likelihood::best_step(surface).ln;
    for (const Point& start : starts)
        best = std::max(
            best, likelihood::log_likelihood(surface, likelihood::climb(surface, start, {true, true, true})));
    return best;
}

/// The share right at each level that the fit stands for.
std::vector<double> shares_of(const likelihood::Placed& placed, const LikelihoodFit& fit) {
    const Surface& surface = placed.surface;
    std::vector<double> shares;
    for (const likelihood::Level& level : surface.levels) {
        const double x = placed.out(level.x);
        if (!fit.separable) {
            const double up = rise(fit.slope_per_log10 * (x - fit.theta_log10), surface.shape);
            shares.push_back(surface.guess + (1.0 - surface.guess - fit.lapse) * up);
            continue;
        }
        constexpr double same = 1e-9;  // parts of the range of the levels
        const double off = (x - fit.theta_log10) / placed.range;
        const double seen = std::clamp(level.correct / level.presentations, surface.guess, 1.0 - fit.lapse);
        shares.push_back(off < -same ? surface.guess : off > same ? 1.0 - fit.lapse : seen);
    }
    return shares;
}

}  // namespace

DevianceTest deviance_test(std::span<const Counts> counts, const Task& task,
                           const LikelihoodSettings& settings, const LikelihoodFit& fit, Random& random,
                           std::size_t replicates) {
    if (replicates < 1 || replicates > most_replicates)
        throw Refused("replicates", "are " + std::to_string(replicates),
                      "1 to " + std::to_string(most_replicates));
    const likelihood::Placed placed = likelihood::placed(counts, task, settings);
    const std::vector<double> shares = shares_of(placed, fit);
    DevianceTest test{fit.deviance, fit.deviance_df, 0.0, 1.0, replicates};
    if (fit.deviance_df > 0)
        test.p_chi_squared = boost::math::gamma_q(0.5 * fit.deviance_df, 0.5 * fit.deviance);
    std::size_t as_far = 1;
    constexpr double rounding = 1e-7;
    Surface surface = placed.surface;
    for (std::size_t i = 0; i < replicates; ++i) {
        for (std::size_t k = 0; k < shares.size(); ++k)
            surface.levels[k].correct = drawn(surface.levels[k].presentations, shares[k], random);
        std::vector<Point> starts{scanned(surface)};
        if (!fit.separable)
            starts.push_back({(fit.theta_log10 - placed.centre) / placed.range,
                              std::log(fit.slope_per_log10 * placed.range), fit.lapse});
        const double deviance = 2.0 * (saturated(surface) - best_log_likelihood(surface, starts));
        if (deviance >= fit.deviance - rounding) ++as_far;
    }
    test.p_bootstrap = static_cast<double>(as_far) / static_cast<double>(replicates + 1);
    return test;
}

}  // namespace sipladder::threshold
