#include "engine/threshold/likelihood.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/likelihood_surface.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

// With a free slope a sixth of adaptive sittings have no finite maximum: the likelihood keeps rising towards
// a step. The best step has a closed form, so that is found by comparing, not by watching an optimiser run
// away.

namespace sipladder::threshold {

namespace {

using likelihood::Point;
using likelihood::Surface;

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double chi_squared_95 = 3.841458820694124;  // 0.95 quantile, one degree of freedom

void check_settings(std::span<const Counts> counts, const Task& task, const LikelihoodSettings& settings) {
    if (!(task.guess >= 0.0 && task.guess < 1.0))
        throw Refused("task guess", "is " + exact(task.guess), "0 to below 1");
    const double most = settings.lapse ? *settings.lapse : settings.most_lapse;
    if (!(most >= 0.0 && most < 1.0 - task.guess))
        throw Refused("lapse", "is " + exact(most), "0 to below " + exact(1.0 - task.guess));
    for (const Counts& at : counts) {
        if (!std::isfinite(at.x_log10))
            throw Refused("level", "is not a finite number", "a concentration above 0");
        if (at.correct > at.presentations)
            throw Refused("correct", std::to_string(at.correct) + " of " + std::to_string(at.presentations),
                          "no more right answers than presentations");
    }
}

/// ln of the binomial coefficients, and the log-likelihood with one free share per level.
struct Counted {
    double ln_coefficients{};
    double ln_saturated{};
};

Counted counted(const Surface& surface) {
    Counted result;
    for (const likelihood::Level& level : surface.levels) {
        const double n = level.presentations;
        const double k = level.correct;
        constexpr double counted_one_by_one = 1e4;  // keeps more digits than differences of ln gamma do
        if (std::min(k, n - k) > counted_one_by_one)
            result.ln_coefficients += std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
        else
            for (long i = 1; static_cast<double>(i) <= std::min(k, n - k); ++i)
                result.ln_coefficients +=
                    std::log((n - std::min(k, n - k) + static_cast<double>(i)) / static_cast<double>(i));
        if (k > 0.0) result.ln_saturated += k * std::log(k / n);
        if (k < n) result.ln_saturated += (n - k) * std::log1p(-k / n);
    }
    return result;
}

/// The best that a flat line does: one share for all levels, as far as guess and lapse allow it.
double flat_log_likelihood(const Surface& surface) {
    double right = 0.0;
    double all = 0.0;
    for (const likelihood::Level& level : surface.levels) {
        right += level.correct;
        all += level.presentations;
    }
    const double p = std::clamp(right / all, surface.guess, 1.0 - surface.least_lapse);
    double ln = 0.0;
    if (right > 0.0) ln += right * std::log(std::max(p, likelihood::least_probability));
    if (right < all) ln += (all - right) * std::log(std::max(1.0 - p, likelihood::least_probability));
    return ln;
}

/// From the best theta outwards to where the profile has fallen by `fall`; infinite where it never does.
double interval_end(const Surface& surface, double theta, double best_ln, double towards) {
    constexpr double fall = 0.5 * chi_squared_95;
    constexpr double far = 40.0;  // ranges of the levels
    double inside = theta;
    double stride = 0.004;
    double outside = theta;
    do {
        inside = outside;
        outside = inside + towards * stride;
        stride *= 1.25;
        if (std::abs(outside) > far) return towards * infinite;
    } while (best_ln - likelihood::profile(surface, outside) < fall);
    constexpr int halvings = 40;
    for (int i = 0; i < halvings; ++i) {
        const double middle = 0.5 * (inside + outside);
        (best_ln - likelihood::profile(surface, middle) < fall ? inside : outside) = middle;
    }
    return 0.5 * (inside + outside);
}

void add_errors(const Surface& surface, const Point& at, double range, LikelihoodFit& fit) {
    const likelihood::Value value = likelihood::value_at(surface, at);
    constexpr double at_bound = 1e-9;
    const bool lapse_inside = surface.lapse_is_free() && at[2] > surface.least_lapse + at_bound &&
                              at[2] < surface.most_lapse - at_bound;
    const std::array<bool, 3> free{true, true, lapse_inside};
    likelihood::Matrix covariance{};
    if (likelihood::invert(value.observed, free, covariance)) {
        fit.se_theta_observed = range * std::sqrt(covariance[0][0]);
        fit.se_slope_observed = fit.slope_per_log10 * std::sqrt(covariance[1][1]);
        if (lapse_inside) fit.se_lapse_observed = std::sqrt(covariance[2][2]);
    }
    if (likelihood::invert(value.expected, free, covariance)) {
        fit.se_theta_expected = range * std::sqrt(covariance[0][0]);
        fit.se_slope_expected = fit.slope_per_log10 * std::sqrt(covariance[1][1]);
    }
}

void warn(const likelihood::Step& step, bool rises, LikelihoodFit& fit) {
    if (step.is_below_all && fit.separable) {
        fit.warnings.push_back(
            {Warning::Kind::all_correct,
             "Answers are as good at the weakest level as at the strongest: without a prior it can "
             "only be said that the threshold lies below this ladder. Mix a weaker one."});
    } else if ((step.is_above_all && fit.separable) || !rises) {
        fit.warnings.push_back(
            {Warning::Kind::guessing,
             "The share of right answers does not rise with the level: without a prior no threshold "
             "can be placed. Mix a stronger ladder, or taste again when rested."});
    } else if (fit.separable) {
        fit.warnings.push_back(
            {Warning::Kind::separable,
             "The answers jump from chance to certainty between two neighbouring levels: the "
             "steepness cannot be told without a prior, and the threshold only to within these "
             "levels."});
    }
}

}  // namespace

LikelihoodFit maximum_likelihood(std::span<const Counts> counts, const Task& task,
                                 const LikelihoodSettings& settings) {
    check_settings(counts, task, settings);
    const likelihood::Placed scaling = likelihood::placed(counts, task, settings);
    const Surface& surface = scaling.surface;

    const Point curve = likelihood::best_curve(surface);
    const likelihood::Step step = likelihood::best_step(surface);
    const double curve_ln = likelihood::log_likelihood(surface, curve);
    constexpr double no_gain = 1e-6;  // a curve must beat the step and the flat line by more than rounding
    LikelihoodFit fit;
    fit.separable = step.ln >= curve_ln - no_gain;
    const double theta = fit.separable ? step.theta : curve[0];
    const double best_ln = fit.separable ? step.ln : curve_ln;
    fit.theta_log10 = scaling.out(theta);
    fit.lapse = fit.separable ? step.lapse : curve[2];
    fit.slope_per_log10 = fit.separable ? infinite : std::exp(curve[1]) / scaling.range;
    fit.width_log10 = width_in_s(settings.shape) / fit.slope_per_log10;

    const Counted parts = counted(surface);
    fit.log_likelihood_of_answers = best_ln;
    fit.log_likelihood = best_ln + parts.ln_coefficients;
    fit.step_log_likelihood = step.ln + parts.ln_coefficients;
    fit.deviance = std::max(2.0 * (parts.ln_saturated - best_ln), 0.0);
    fit.deviance_df = static_cast<int>(surface.levels.size()) - (surface.lapse_is_free() ? 3 : 2);
    fit.lower_log10 = scaling.out(interval_end(surface, theta, best_ln, -1.0));
    fit.upper_log10 = scaling.out(interval_end(surface, theta, best_ln, 1.0));
    const bool rises = best_ln > flat_log_likelihood(surface) + no_gain;
    if (!fit.separable && rises) add_errors(surface, curve, scaling.range, fit);
    warn(step, rises, fit);
    return fit;
}

Threshold as_threshold(const LikelihoodFit& fit, Scale scale, double u_shared_log10) {
    Threshold result;
    result.log10 = fit.theta_log10;
    result.lower_log10 =
        fit.theta_log10 - std::hypot(fit.theta_log10 - fit.lower_log10, normal_975 * u_shared_log10);
    result.upper_log10 =
        fit.theta_log10 + std::hypot(fit.upper_log10 - fit.theta_log10, normal_975 * u_shared_log10);
    result.sd_log10 = fit.se_theta_observed ? std::hypot(*fit.se_theta_observed, u_shared_log10) : infinite;
    result.mixing_sd_log10 = u_shared_log10;
    result.width_log10 = fit.width_log10;
    result.lapse = fit.lapse;
    result.scale = scale;
    result.prior = "none (maximum likelihood)";
    result.warnings = fit.warnings;
    return result;
}

}  // namespace sipladder::threshold
