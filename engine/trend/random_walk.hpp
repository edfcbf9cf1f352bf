#pragma once

#include "engine/threshold/estimate.hpp"

#include <cstddef>
#include <span>
#include <vector>

/// A random walk seen through any likelihoods, on a lattice of equal steps: filter, smoother and what joins
/// the two ends.
namespace sipladder::trend {

/// Weights of a symmetrical kernel, from the middle outwards: [0] is the middle's.
using Kernel = std::vector<double>;
/// A normal of this SD on a lattice: its variance is kept for any SD, however small against the step.
Kernel normal_kernel(double sd, double step);

/// values convolved with the kernel. @param keeps_ends  true: beyond its ends the function stays what it is
/// there (likelihoods); false: there is nothing (probabilities)
void convolve(std::span<const double> values, const Kernel& kernel, bool keeps_ends, std::span<double> out);

/// out[i] = values at i + by, `by` in steps and of any sign; between the points a cubic through four of them,
/// beyond the ends what stands there. Never below 0.
void shifted(std::span<const double> values, double by, std::span<double> out);

/// Likelihoods of the walk's place, one a moment, on one lattice; kernels[k] leads from moment k to k + 1.
struct WalkInput {
    std::span<const double> start;  ///< probabilities at the first moment
    std::span<const std::span<const double>> likelihoods;
    std::span<const Kernel> kernels;
};

/// Buffers of the passes, used again from walk to walk.
class WalkPasses {
  public:
    /// Forward. @return ln of the probability of everything seen
    double filter(const WalkInput& input);
    /// After a forward pass of the same input: how far the last place lies from the first.
    struct Moments {
        double mean{};
        double variance{};
    };
    Moments change(const WalkInput& input, std::span<const double> lattice);
    /// Backward, after a forward pass of the same input.
    void smooth(const WalkInput& input);

    /// After `filter`: probabilities given what was seen up to and with moment k.
    std::span<const double> filtered(std::size_t k) const { return row(filtered_, k); }
    /// After `filter`: probabilities given what was seen before moment k.
    std::span<const double> predicted(std::size_t k) const { return row(predicted_, k); }
    /// After `smooth`: probabilities given everything but what was seen at moment k; times the likelihood of
    /// moment k they are those given everything.
    std::span<const double> without(std::size_t k) const { return row(without_, k); }

  private:
    std::span<const double> row(const std::vector<double>& rows, std::size_t k) const {
        return {rows.data() + k * width_, width_};
    }
    std::span<double> row(std::vector<double>& rows, std::size_t k) const {
        return {rows.data() + k * width_, width_};
    }

    std::size_t width_ = 0;
    std::vector<double> filtered_;
    std::vector<double> predicted_;
    std::vector<double> without_;
    std::vector<double> backward_;
    std::vector<double> scratch_;
    std::vector<double> first_;
    std::vector<double> second_;
};

}  // namespace sipladder::trend
