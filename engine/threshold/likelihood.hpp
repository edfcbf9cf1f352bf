#pragma once

#include "engine/threshold/posterior.hpp"
#include "engine/threshold/threshold.hpp"

#include <optional>
#include <span>
#include <vector>

namespace sipladder::threshold {

struct LikelihoodSettings {
    std::optional<double> lapse = 0.0;  ///< the lapse rate if known; nothing: fitted between 0 and most_lapse
    double most_lapse = 0.1;            ///< common practice, no source; a free rate needs a bound
    Shape shape = Shape::logistic;
};

/// The curve of greatest likelihood, no prior. Answers at equal levels are pooled first.
struct LikelihoodFit {
    double theta_log10{};
    double slope_per_log10{};  ///< 1/s; infinite where `separable`
    double width_log10{};      ///< 10 to 90 %; 0 where `separable`
    double lapse{};
    double log_likelihood{};             ///< of the counts: with binomial coefficients
    double log_likelihood_of_answers{};  ///< of the answers in their order: without
    double deviance{};                   ///< against one free share per level
    int deviance_df{};                   ///< levels less fitted parameters
    /// Likelihood-ratio 95 % interval: where twice the fall of the profile likelihood is 3.841; -infinity or
    /// infinity where the answers set no limit.
    double lower_log10{};
    double upper_log10{};
    /// From the observed and the expected (Fisher) information; nothing where no smooth maximum exists. With
    /// the lapse at its bound they are those of a known lapse.
    std::optional<double> se_theta_observed;
    std::optional<double> se_slope_observed;
    std::optional<double> se_lapse_observed;
    std::optional<double> se_theta_expected;
    std::optional<double> se_slope_expected;
    /// The likelihood has no maximum: it rises towards a step as the slope grows. theta is then the middle of
    /// where that step may be, and log-likelihood, deviance and interval are the limit's.
    bool separable = false;
    double step_log_likelihood{};  ///< the best step's, with binomial coefficients
    std::vector<Warning> warnings;
};

/// @throws Refused  for fewer than two levels with answers, more right than presented, or rates out of range
/// @checked tests/published/psychometric_likelihood_test.cpp
LikelihoodFit maximum_likelihood(std::span<const Counts> counts, const Task& task,
                                 const LikelihoodSettings& settings = {});

/// The fit in the shape that reports use. The common mixing uncertainty widens the interval in squares.
/// sd_log10 is the observed-information standard error with it, infinite where there is none.
Threshold as_threshold(const LikelihoodFit& fit, Scale scale, double u_shared_log10 = 0.0);

}  // namespace sipladder::threshold
