#pragma once

#include "tools/benchmark/methods.hpp"
#include "tools/benchmark/report.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

/// What the sections on certainty, graded cups and own history share.
namespace sipladder::benchmark {

/// Cups until the RMSE is at `wanted`.
struct Crossing {
    simulate::Figure cups;          ///< NaN if never, or only before or after all checkpoints
    std::vector<double> influence;  ///< of each person on the cups, times the number of people
};
/// By a straight line of ln(mean squared error) over ln(cups), through the checkpoints within a third around
/// the crossing: a single pair of neighbours differs by luck. Standard error by the people's influence on it.
Crossing crossing(const Outcome& outcome, std::span<const std::size_t> checkpoints, double cups_a_checkpoint,
                  double wanted);
/// Cups that one method takes more than another, of the same people (paired).
simulate::Figure cups_more(const Crossing& one, const Crossing& other);

/// First, first + step … last.
std::vector<std::size_t> every(std::size_t first, std::size_t last, std::size_t step = 1);

Goal at_most(std::string what, simulate::Figure measured, double limit);
Goal at_least(std::string what, simulate::Figure measured, double limit);

}  // namespace sipladder::benchmark
