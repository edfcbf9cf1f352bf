#pragma once

#include "engine/threshold/estimate.hpp"
#include "engine/threshold/grid_likelihood.hpp"
#include "engine/threshold/habit_likelihood.hpp"
#include "engine/trend/trend.hpp"

#include <span>
#include <vector>

/// The likelihoods of all sittings of one person on one grid; for fits of this folder only.
namespace sipladder::trend {

/// What certainty and grades tell of a sitting's theta.
struct Told {
    std::vector<threshold::HabitLikelihood::Found> found;
    double information{};  ///< 1/SD²: what they take from the prior's
};

/// Everything that the fits of one person share. It refers to the sittings and settings it was made from.
struct Record {
    std::span<const Sitting> sittings;
    const Settings& settings;
    double prior_sd{};
    threshold::GridLikelihood grid;
    std::vector<threshold::GridLikelihood::Cells> cells;
    std::vector<Told> told;
    std::vector<double> rung_errors;
    std::vector<threshold::Estimate> own;  ///< mixing included
};

/// Width and lapse of the person, as means over the nodes of the grid.
struct Typical {
    double width_log10{};
    double lapse{};
};

/// @throws Refused  for no sittings, weeks that do not ascend, answers or settings that cannot be used
Record record_of(std::span<const Sitting> sittings, const threshold::Prior& prior,
                 const threshold::Task& task, const Settings& settings);

/// @param node_weights  [width][lapse]
Typical typical(const threshold::GridLikelihood& grid, std::span<const double> node_weights);

/// SD that a sitting's own answers give its threshold, where a fit sees it: `thetas` are its probabilities.
double answers_sd(const Record& record, std::size_t sitting, std::span<const double> thetas,
                  const Typical& person);

}  // namespace sipladder::trend
