#pragma once

#include "engine/threshold/grid_likelihood.hpp"
#include "engine/trend/random_walk.hpp"
#include "engine/trend/trend.hpp"

#include <cstddef>
#include <span>
#include <vector>

/// The joint fit of the sittings of one stretch; for trend only.
namespace sipladder::trend::line {

/// The line's end under one width, lapse and drift.
struct End {
    double weight{};
    double drift{};
    double mean{};  ///< of the last place less the drift so far
    double variance{};
};

/// Distributions that a fit leaves: probabilities on the thetas of the grid, or what describes them.
struct Fit {
    std::vector<std::vector<double>> line;      ///< [sitting][theta]
    std::vector<std::vector<double>> smoothed;  ///< [sitting][theta]
    std::vector<double> node_weights;           ///< [width][lapse]
    std::vector<double> drifts;  ///< ascending, equal steps; one of them where there is no drift
    std::vector<double> drift_weights;
    std::vector<End> changes;  ///< of last less first, drift included, as normal pieces (`drift` unused)
    std::vector<End> ends;
    double log_evidence{};
};

/// @param weeks  ascending, of the likelihoods
Fit fit(const threshold::GridLikelihood& grid, std::span<const threshold::GridLikelihood::Cells> likelihoods,
        std::span<const double> weeks, const Settings& settings);

/// Mean, SD and interval of a mixture of normals; each piece widened by `error_sd`.
threshold::Estimate mixture(std::span<const End> pieces, double error_sd);
/// Probability of a mixture below 0.
double below_zero(std::span<const End> pieces, double error_sd);

}  // namespace sipladder::trend::line
