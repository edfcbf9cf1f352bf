#include "engine/threshold/estimate.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/posterior.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::threshold {

Estimate estimate_of(std::span<const double> centres, double step, std::span<const double> probabilities) {
    SIPLADDER_EXPECT(!centres.empty() && centres.size() == probabilities.size());
    Estimate found;
    for (std::size_t i = 0; i < centres.size(); ++i) found.log10 += probabilities[i] * centres[i];
    double square = 0.0;
    for (std::size_t i = 0; i < centres.size(); ++i)
        square += probabilities[i] * (centres[i] - found.log10) * (centres[i] - found.log10);
    found.sd_log10 = std::sqrt(square);
    found.lower_log10 = cell_quantile(centres, step, probabilities, 0.025);
    found.upper_log10 = cell_quantile(centres, step, probabilities, 0.975);
    return found;
}

Estimate widened(const Estimate& estimate, double error_sd_log10) {
    if (error_sd_log10 <= 0.0 || estimate.sd_log10 <= 0.0) return estimate;
    const double total = std::hypot(estimate.sd_log10, error_sd_log10);
    const double growth = total / estimate.sd_log10;
    return {estimate.log10, estimate.log10 - growth * (estimate.log10 - estimate.lower_log10),
            estimate.log10 + growth * (estimate.upper_log10 - estimate.log10), total};
}

}  // namespace sipladder::threshold
