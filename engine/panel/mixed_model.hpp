#pragma once

#include "engine/panel/panel.hpp"
#include "engine/threshold/psychometric.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace sipladder::panel {

/// One binomial count of one group.
struct GroupRow {
    std::size_t group{};
    std::vector<double> x;  ///< what its fixed effects are multiplied with
    std::size_t presentations{};
    std::size_t correct{};
};

/// Greatest marginal likelihood of P = g + (1 - g) / (1 + exp(-(x · fixed + u))), u ~ Normal(0, sd) a group.
struct RandomIntercept {
    std::vector<double> fixed;
    double sd{};
    std::vector<double> se_fixed;  ///< from the observed information
    double se_log_sd{};
    double log_likelihood{};         ///< with binomial coefficients
    std::vector<double> effects;     ///< posterior mean of u a group, at the estimates
    std::vector<double> effects_sd;  ///< and its SD
    bool converged = false;
};

/// The random effect is integrated by the trapezium rule on 161 points over ±8 SD, which is exact to more
/// digits than adaptive quadrature with 25 points is.
/// @throws Refused  for rows of unequal length, without groups, or more right than presented
/// @checked         tests/published/mixed_model_test.cpp
RandomIntercept random_intercept(std::span<const GroupRow> rows, double guess);
/// The marginal log-likelihood at given values, with binomial coefficients.
double random_intercept_log_likelihood(std::span<const GroupRow> rows, double guess,
                                       std::span<const double> fixed, double sd);

/// A panel as a mixed-model package would fit it: one width, no lapses, no prior.
struct MixedModel {
    double mean_log10{};
    double spread_log10{};
    double width_log10{};
    double log_likelihood{};
    std::vector<double> people_log10;  ///< posterior means at the estimates
    std::vector<double> people_sd_log10;
    bool converged = false;
};
/// @throws Refused  as `pooled`, and for fewer than two levels
MixedModel mixed_model(std::span<const Member> members, const threshold::Task& task);

}  // namespace sipladder::panel
