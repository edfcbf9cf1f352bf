#pragma once

#include "engine/threshold/posterior.hpp"

#include <cstddef>
#include <vector>

namespace sipladder::chart {

/// The share of right answers that the posterior expects at each x: mean, and equal-tailed 95 % at each x by
/// itself.
struct CurveBand {
    std::vector<double> x_log10;
    std::vector<double> mean;
    std::vector<double> lower;
    std::vector<double> upper;
};

/// The band of a posterior at `points` values from one log10 level to another. @param points  2 or more
CurveBand curve_band(const threshold::Posterior& posterior, double from_log10, double to_log10,
                     std::size_t points = 81);

}  // namespace sipladder::chart
