#include "engine/trend/design.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"

#include <boost/math/special_functions/erf.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

// With normal likelihoods the joint fit is linear in the sittings' values: line = G y. A mixing error of one
// mix moves all its sittings alike, so what it does to the line is the sum of their weights times the error;
// over one mix throughout it drops out of every change by itself. The drift is judged by P(drift < 0), which
// the prior shrinks towards 1/2; from the same weights follows how P spreads over people who do not drift,
// and so where the cut has to be.

namespace sipladder::trend::design {

namespace {

using Row = std::vector<double>;

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

double quantile(double p) {
    return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * p);
}

double noise_variance(const Sitting& sitting, const Settings& settings) {
    return settings.jitter_log10 * settings.jitter_log10 + sitting.sd_log10 * sitting.sd_log10;
}

/// The sittings' values as the fit takes them: a walk that begins somewhere, drifts, and is seen with noise.
/// Solves for their covariance in as many steps as there are sittings, by the innovations of the walk (the
/// Kalman filter's factors) and one correction for the drift, which moves all of them together.
class Seen {
  public:
    Seen(std::span<const Sitting> sittings, double start_sd, double drift_sd, const Settings& settings)
        : start_(start_sd * start_sd),
          drift_(drift_sd * drift_sd),
          step_(settings.walk_log10 * settings.walk_log10) {
        double variance = start_;
        for (std::size_t i = 0; i < sittings.size(); ++i) {
            weeks_.push_back(sittings[i].week - sittings.front().week);
            if (i > 0) variance += step_ * (weeks_[i] - weeks_[i - 1]);
            innovations_.push_back(variance + noise_variance(sittings[i], settings));
            gains_.push_back(variance / innovations_[i]);
            variance *= 1.0 - gains_[i];
        }
        if (drift_ > 0.0) {
            pulled_ = without_drift(weeks_);
            pull_ = 1.0 / (1.0 / drift_ + dot(weeks_, pulled_));
        }
    }

    const Row& weeks() const { return weeks_; }
    /// Covariance of the line itself at one sitting with all others.
    Row line(std::size_t at) const {
        Row row;
        for (const double week : weeks_)
            row.push_back(start_ + drift_ * week * weeks_[at] + step_ * std::min(week, weeks_[at]));
        return row;
    }
    /// x of covariance x = b.
    Row solved(const Row& b) const {
        Row x = without_drift(b);
        if (drift_ > 0.0) {
            const double pull = pull_ * dot(weeks_, x);
            for (std::size_t i = 0; i < x.size(); ++i) x[i] -= pull * pulled_[i];
        }
        return x;
    }
    static double dot(const Row& a, const Row& b) {
        return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
    }

  private:
    Row without_drift(Row b) const {
        double expected = 0.0;
        for (std::size_t i = 0; i < b.size(); ++i) {
            b[i] -= expected;
            expected += gains_[i] * b[i];
            b[i] /= innovations_[i];
        }
        double later = 0.0;
        for (std::size_t i = b.size(); i-- > 0;) {
            const double own = b[i];
            b[i] = own - gains_[i] * later;
            later = own + (1.0 - gains_[i]) * later;
        }
        return b;
    }

    double start_;
    double drift_;
    double step_;
    Row weeks_;
    Row innovations_;  // variances
    Row gains_;
    Row pulled_;
    double pull_ = 0.0;
};

void judge_drift(std::span<const Sitting> sittings, const Settings& settings, Design& found) {
    constexpr double free_start_sd = 5.0;  // log10; wide enough that only differences count
    const Seen seen(sittings, free_start_sd, 0.0, settings);
    Row weights = seen.solved(seen.weeks());
    const double information = Seen::dot(seen.weeks(), weights);
    double square = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        weights[i] /= information;
        square += weights[i] * weights[i] * noise_variance(sittings[i], settings);
    }
    found.drift_se = 1.0 / std::sqrt(information);
    found.still_drift_se = std::hypot(std::sqrt(square), mixing_sd(sittings, weights));
}

}  // namespace

Design design(std::span<const Sitting> sittings, double prior_sd_log10, const Settings& settings) {
    SIPLADDER_EXPECT(!sittings.empty());
    const Seen seen(sittings, prior_sd_log10, settings.drift_sd_log10, settings);
    Design found;
    Row first;
    Row last;
    for (std::size_t i = 0; i < sittings.size(); ++i) {
        Row own = seen.line(i);
        last = seen.solved(own);
        found.line_mixing_sd.push_back(mixing_sd(sittings, last));
        if (i == 0) first = last;
        own[i] += settings.jitter_log10 * settings.jitter_log10;
        found.smoothed_mixing_sd.push_back(mixing_sd(sittings, seen.solved(own)));
    }
    if (!(sittings.back().week > sittings.front().week)) return found;
    Row change = last;
    for (std::size_t i = 0; i < change.size(); ++i) change[i] -= first[i];
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
    return normal_below(quantile(1.0 - settings.false_alarms) * sd * information * design.still_drift_se);
}

double power(const Design& design, double drift_log10, const Settings& settings) {
    return normal_below(-drift_log10 / design.still_drift_se - quantile(1.0 - settings.false_alarms));
}

double drift_seen(const Design& design, double probability, const Settings& settings) {
    return design.still_drift_se * (quantile(1.0 - settings.false_alarms) + quantile(probability));
}

}  // namespace sipladder::trend::design
