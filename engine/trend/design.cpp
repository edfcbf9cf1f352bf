#include "engine/trend/design.hpp"

#include "engine/problem.hpp"

#include <boost/math/special_functions/erf.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

// With normal likelihoods the joint fit is linear in the sittings' values: line = G y. A mixing error of one
// mix moves all its sittings alike, so what it does to the line is the sum of their weights times the error;
// over one mix throughout it drops out of every change by itself. The drift is judged by P(drift < 0), which
// the prior shrinks towards 1/2; from the same weights follows how P spreads over people who do not drift,
// and so where the cut has to be.

namespace sipladder::trend::design {

namespace {

using Row = std::vector<double>;
using Matrix = std::vector<Row>;

/// Lower triangle L with L L' = matrix.
Matrix cholesky(Matrix matrix) {
    const std::size_t count = matrix.size();
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = 0; j <= i; ++j) {
            double sum = matrix[i][j];
            for (std::size_t k = 0; k < j; ++k) sum -= matrix[i][k] * matrix[j][k];
            if (i == j) SIPLADDER_EXPECT(sum > 0.0);
            matrix[i][j] = i == j ? std::sqrt(sum) : sum / matrix[j][j];
        }
    return matrix;
}

/// x of matrix x = b.
Row solved(const Matrix& lower, Row b) {
    const std::size_t count = lower.size();
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t k = 0; k < i; ++k) b[i] -= lower[i][k] * b[k];
        b[i] /= lower[i][i];
    }
    for (std::size_t i = count; i-- > 0;) {
        for (std::size_t k = i + 1; k < count; ++k) b[i] -= lower[k][i] * b[k];
        b[i] /= lower[i][i];
    }
    return b;
}

/// SD that the mixes' errors give to the sum of weights times values.
double mixing_sd(std::span<const Sitting> sittings, const Row& weights) {
    Row sums;
    Row errors;
    for (std::size_t i = 0; i < sittings.size(); ++i) {
        const std::size_t needed = sittings[i].mix + 1;
        if (sums.size() < needed) {
            sums.resize(needed, 0.0);
            errors.resize(needed, 0.0);
        }
        sums[sittings[i].mix] += weights[i];
        errors[sittings[i].mix] = std::max(errors[sittings[i].mix], sittings[i].u_mix_log10);
    }
    double square = 0.0;
    for (std::size_t m = 0; m < sums.size(); ++m) square += sums[m] * errors[m] * sums[m] * errors[m];
    return std::sqrt(square);
}

double below(double z) {
    return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}
double quantile(double p) {
    return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * p);
}

double noise_variance(const Sitting& sitting, const Settings& settings) {
    return settings.jitter_log10 * settings.jitter_log10 + sitting.sd_log10 * sitting.sd_log10;
}

/// Covariance of the line at two moments, its beginning known to `start_sd`.
double line_covariance(double week, double other, double start_sd, double drift_sd,
                       const Settings& settings) {
    return start_sd * start_sd + drift_sd * drift_sd * week * other +
           settings.walk_log10 * settings.walk_log10 * std::min(week, other);
}

Matrix covariance(std::span<const Sitting> sittings, double start_sd, double drift_sd, bool with_noise,
                  const Settings& settings) {
    Matrix matrix(sittings.size(), Row(sittings.size()));
    const double first = sittings.front().week;
    for (std::size_t i = 0; i < sittings.size(); ++i)
        for (std::size_t j = 0; j < sittings.size(); ++j)
            matrix[i][j] = line_covariance(sittings[i].week - first, sittings[j].week - first, start_sd,
                                           drift_sd, settings) +
                           (with_noise && i == j ? noise_variance(sittings[i], settings) : 0.0);
    return matrix;
}

void judge_drift(std::span<const Sitting> sittings, const Settings& settings, Design& found) {
    constexpr double free_start_sd = 5.0;  // log10; wide enough that only differences count
    const Matrix lower = cholesky(covariance(sittings, free_start_sd, 0.0, true, settings));
    Row weeks;
    for (const Sitting& sitting : sittings) weeks.push_back(sitting.week - sittings.front().week);
    Row weights = solved(lower, weeks);
    double information = 0.0;
    for (std::size_t i = 0; i < weeks.size(); ++i) information += weeks[i] * weights[i];
    double square = 0.0;
    for (std::size_t i = 0; i < weeks.size(); ++i) {
        weights[i] /= information;
        square += weights[i] * weights[i] * noise_variance(sittings[i], settings);
    }
    found.drift_se = 1.0 / std::sqrt(information);
    found.still_drift_se = std::hypot(std::sqrt(square), mixing_sd(sittings, weights));
}

}  // namespace

Design design(std::span<const Sitting> sittings, double prior_sd_log10, const Settings& settings) {
    SIPLADDER_EXPECT(!sittings.empty());
    const Matrix line = covariance(sittings, prior_sd_log10, settings.drift_sd_log10, false, settings);
    const Matrix lower =
        cholesky(covariance(sittings, prior_sd_log10, settings.drift_sd_log10, true, settings));
    Design found;
    Matrix gains;
    for (std::size_t i = 0; i < sittings.size(); ++i) {
        gains.push_back(solved(lower, line[i]));
        found.line_mixing_sd.push_back(mixing_sd(sittings, gains[i]));
        Row own = line[i];
        own[i] += settings.jitter_log10 * settings.jitter_log10;
        found.smoothed_mixing_sd.push_back(mixing_sd(sittings, solved(lower, own)));
    }
    if (!(sittings.back().week > sittings.front().week)) return found;
    Row change = gains.back();
    for (std::size_t i = 0; i < change.size(); ++i) change[i] -= gains.front()[i];
    found.change_mixing_sd = mixing_sd(sittings, change);
    judge_drift(sittings, settings, found);
    return found;
}

Design drift_design(std::span<const Sitting> sittings, const Settings& settings) {
    SIPLADDER_EXPECT(sittings.size() > 1);
    Design found;
    judge_drift(sittings, settings, found);
    return found;
}

double calibrated_cut(const Design& design, double drift_sd_log10, const Settings& settings) {
    SIPLADDER_EXPECT(drift_sd_log10 > 0.0);
    constexpr double most = 0.99;  // of the prior's SD: something was learned
    const double prior = settings.drift_sd_log10;
    // P follows from what the fit believes to have learned, which under a wide prior of widths and lapses is
    // less than what the answers tell; how the estimate spreads is the answers' own.
    const double sd = std::min(drift_sd_log10, most * prior);
    const double information = 1.0 / (sd * sd) - 1.0 / (prior * prior);
    return below(quantile(1.0 - settings.false_alarms) * sd * information * design.still_drift_se);
}

double power(const Design& design, double drift_log10, const Settings& settings) {
    return below(-drift_log10 / design.still_drift_se - quantile(1.0 - settings.false_alarms));
}

double drift_seen(const Design& design, double probability, const Settings& settings) {
    return design.still_drift_se * (quantile(1.0 - settings.false_alarms) + quantile(probability));
}

}  // namespace sipladder::trend::design
