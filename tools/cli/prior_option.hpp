#pragma once

#include "engine/threshold/posterior.hpp"
#include "engine/threshold/prior.hpp"
#include "tools/cli/verb.hpp"

#include <span>
#include <string>

namespace sipladder::cli {

/// The options of `fit` that say what is assumed before the first answer.
struct PriorOptions {
    std::string
        threshold;  ///< flat | substance:ID | normal:MEAN_LOG10,SD; empty: assumed around the levels given
    std::string slope;        ///< lognormal:MEAN_LN,SD of 1/s per log10 unit; empty: the shipped width
    std::string lapse_prior;  ///< beta:A,B; empty: the shipped lapses
    std::string lapse;        ///< free | VALUE; empty: free

    bool has_prior() const { return !threshold.empty() || !slope.empty() || !lapse_prior.empty(); }
};

void add_prior_options(arguments::Command verb, PriorOptions& options);

/// @throws Refused naming the option that cannot be read
threshold::Prior prior_from(const PriorOptions& options, std::span<const threshold::Counts> counts,
                            Scale scale, const Common& common,
                            threshold::Shape shape = threshold::Shape::logistic);

}  // namespace sipladder::cli
