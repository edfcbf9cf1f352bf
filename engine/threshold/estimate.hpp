#pragma once

#include <span>

namespace sipladder::threshold {

/// A value on the log10 axis with its equal-tailed 95 % interval.
struct Estimate {
    double log10{};
    double lower_log10{};
    double upper_log10{};
    double sd_log10{};

    bool operator==(const Estimate&) const = default;
};

/// Mean, SD and interval of probabilities on cells of equal width; quantiles at the cells' edges.
/// @pre the probabilities sum to 1
Estimate estimate_of(std::span<const double> centres, double step, std::span<const double> probabilities);

/// The same with an independent normal error added: SDs add in squares, and each half of the interval grows
/// as the SD does.
Estimate widened(const Estimate& estimate, double error_sd_log10);

}  // namespace sipladder::threshold
