#pragma once

#include "engine/solution/ladder.hpp"
#include "engine/threshold/posterior.hpp"
#include "engine/threshold/warnings.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace sipladder::threshold {

/// One person's threshold with everything that is needed to judge it. Interval: equal-tailed 95 %.
struct Threshold {
    double log10{};  ///< posterior mean of theta (or the maximum-likelihood value)
    double lower_log10{};
    double upper_log10{};
    double sd_log10{};         ///< mixing uncertainty included
    double mixing_sd_log10{};  ///< the part of sd_log10 that comes from mixing
    double width_log10{};      ///< posterior geometric mean
    double lapse{};            ///< posterior mean
    double log_evidence{};  ///< ln of the answers' probability under the prior, without binomial coefficients
    Scale scale{};
    std::string prior;  ///< which prior, in words
    std::vector<Warning> warnings;
    std::vector<double>
        theta_grid_log10;  ///< for ridges: cell centres and probability per cell, mixing included
    std::vector<double> theta_density;

    double value() const;  ///< 10^log10
    double lower() const;
    double upper() const;
};

/// One answer as the fits see it.
struct Answered {
    std::size_t level{};  ///< index into the mixed ladder
    bool correct{};
    std::optional<Certainty> certainty = {};  ///< for `certainty_threshold` only
};

/// The threshold from the answers to a ladder as mixed: fine grid, rung errors by sensitivity, common error
/// in full.
Threshold threshold(const solution::MixedLadder& ladder, const std::vector<Answered>& answers,
                    const Prior& prior, const Task& task);

/// How a threshold from counts is to be made.
struct FitSettings {
    Scale scale = Scale::g_per_L;
    double u_shared_log10 = 0.0;  ///< common to all levels (stock, purity, syringe)
    Grid grid = fine_grid;
    Shape shape = Shape::logistic;
};

/// The threshold from pooled answers. @throws Refused  for counts or a prior that cannot be used
Threshold threshold(std::span<const Counts> counts, const Prior& prior, const Task& task,
                    const FitSettings& settings = {});

/// Fills in value, interval, SD and ridge of a threshold from the marginal of theta, blurred by the mixing.
/// @param step  width of a theta cell, log10
void locate(Threshold& result, std::span<const double> thetas, double step, std::span<const double> marginal,
            double mixing_sd_log10);

/// Answers pooled by level of the ladder, weakest first, levels never served left out, each with its own
/// mixing uncertainty. @pre every level index lies within the ladder
std::vector<Counts> counts_of(const solution::MixedLadder& ladder, const std::vector<Answered>& answers);

/// log10 of each level as mixed, weakest first: what `next_level` wants.
std::vector<double> levels_log10(const solution::MixedLadder& ladder);

/// d(posterior mean of theta) / d(x of each of `counts`), for a posterior that holds these counts: the
/// posterior covariance of theta with d(log-likelihood)/dx.
std::vector<double> sensitivities(const Posterior& posterior, std::span<const Counts> counts);

}  // namespace sipladder::threshold
