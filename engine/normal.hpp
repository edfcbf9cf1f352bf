#pragma once

#include <cmath>
#include <numbers>

/// The standard normal distribution. Each tail keeps its relative accuracy.
namespace sipladder {

/// Its 97.5 % quantile, for intervals that hold 95 %. Source: R 4.2.2, qnorm(0.975).
inline constexpr double normal_975 = 1.959963984540054;

/// Probability of a value below z; any z, infinities too.
inline double normal_below(double z) {
    return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

/// Probability of a value above z.
inline double normal_above(double z) {
    return 0.5 * std::erfc(z / std::numbers::sqrt2);
}

/// Density at z.
inline double normal_density(double z) {
    return std::exp(-0.5 * z * z) * std::numbers::inv_sqrtpi / std::numbers::sqrt2;
}

}  // namespace sipladder
