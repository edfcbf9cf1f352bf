#pragma once

#include "tools/benchmark/methods.hpp"
#include "tools/benchmark/report.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

/// What the sections on certainty, graded cups and own history share.
namespace sipladder::benchmark {

/// Cups until the RMSE is at or below `wanted`, interpolated between checkpoints; NaN if never. Its standard
/// error is that of the RMSE over the slope there.
simulate::Figure cups_to(const Outcome& outcome, std::span<const std::size_t> checkpoints,
                         double cups_a_checkpoint, double wanted);

/// First, first + step … last.
std::vector<std::size_t> every(std::size_t first, std::size_t last, std::size_t step = 1);

Goal at_most(std::string what, simulate::Figure measured, double limit);
Goal at_least(std::string what, simulate::Figure measured, double limit);

}  // namespace sipladder::benchmark
