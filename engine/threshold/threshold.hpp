#pragma once

#include "engine/solution/ladder.hpp"
#include "engine/threshold/posterior.hpp"

#include <string>
#include <vector>

namespace sipladder::threshold {

/// A thing the person should know of before believing the number.
struct Warning {
    enum class Kind {
        too_few,
        guessing,
        all_correct,
        against_prior,
        grid_edge,
        separable,
        lapses,
        position_habit
    };
    Kind kind{};
    std::string text;
};

/// One person's threshold with everything that is needed to judge it. Interval: equal-tailed 95 %.
struct Threshold {
    double log10{};  ///< posterior mean of theta (or the maximum-likelihood value)
    double lower_log10{};
    double upper_log10{};
    double sd_log10{};         ///< mixing uncertainty included
    double mixing_sd_log10{};  ///< the part of sd_log10 that comes from mixing
    double width_log10{};
    double lapse{};
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
};

/// The threshold from the answers to a ladder as mixed: fine grid, rung errors by sensitivity, common error
/// in full.
Threshold threshold(const solution::MixedLadder& ladder, const std::vector<Answered>& answers,
                    const Prior& prior, const Task& task);

}  // namespace sipladder::threshold
