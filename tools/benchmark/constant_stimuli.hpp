#pragma once

#include "tools/simulate/adaptive.hpp"

#include <cstddef>
#include <span>
#include <vector>

/// Constant stimuli with a likelihood fit: every level as often, then the logistic curve that makes the
/// answers likeliest.
namespace sipladder::benchmark {

/// Maximum likelihood over a grid of threshold and width, with the likelihood-ratio interval of the threshold
/// (width profiled out). On a grid every set of answers has an end, separable ones too.
class GridLikelihood {
  public:
    /// Thresholds over the levels and `beyond` past both ends, widths 0.1 … 4.
    GridLikelihood(std::span<const double> levels_log10, double lapse, double beyond = 0.4);
    /// @param right, served  at each level
    simulate::Estimate fit(std::span<const std::size_t> right, std::span<const std::size_t> served) const;

  private:
    std::vector<double> thetas_;
    std::size_t widths_{};
    std::vector<std::vector<double>> log_right_;  // [level][theta][width]
    std::vector<std::vector<double>> log_wrong_;
};

}  // namespace sipladder::benchmark
