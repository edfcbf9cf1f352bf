#pragma once

#include "engine/solution/ladder.hpp"
#include "engine/threshold/habit_posterior.hpp"
#include "engine/threshold/threshold.hpp"

#include <cstddef>
#include <span>
#include <vector>

/// From a posterior with habits to a threshold; for the fits of certainty and of graded cups.
namespace sipladder::threshold {

/// How often each outcome was given at one level.
struct OutcomeCounts {
    std::size_t level{};  ///< index into the mixed ladder
    std::vector<std::size_t> outcomes;
};

/// Grids for posteriors with habits: theta cells narrow beside any interval, widths few.
constexpr Grid coarse_habit_grid{76, 0.05, 6};
constexpr Grid fine_habit_grid{151, 0.03, 10};

/// Probability of each outcome at each distance, habits and lapse at their posterior shares:
/// [distance][lane].
std::vector<double> mean_shares(const HabitPosterior& posterior);

/// d(posterior mean of theta) / d(x of each of `counts`), the habit taken at its posterior shares: the
/// posterior covariance of theta with d(log-likelihood)/dx.
std::vector<double> sensitivities(const HabitPosterior& posterior, std::span<const double> levels_log10,
                                  std::span<const OutcomeCounts> counts);

/// Value, interval, SD, ridge, width, lapse, evidence and prior of a threshold, mixing included; no warnings.
/// @param posterior  holds exactly these counts, and perhaps blanks
Threshold threshold_of(const HabitPosterior& posterior, const solution::MixedLadder& ladder,
                       std::span<const OutcomeCounts> counts);

}  // namespace sipladder::threshold
