#pragma once

#include "engine/threshold/posterior.hpp"

#include <span>
#include <vector>

namespace sipladder::threshold {

/// Probability of a right answer at one level: posterior mean and equal-tailed 95 % band, at this level
/// alone.
struct CurvePoint {
    double x_log10{};
    double p{};
    double lower{};
    double upper{};
};

/// The band for the chart and for `curve[]`. The levels are taken as exact: mixing uncertainty is in the
/// threshold. A grid between coarse and fine (`band_grid`) is exact to a pixel and quick.
std::vector<CurvePoint> curve_band(const Posterior& posterior, std::span<const double> xs_log10);
constexpr Grid band_grid{151, 0.031, 12};

}  // namespace sipladder::threshold
