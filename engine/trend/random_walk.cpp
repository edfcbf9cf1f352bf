#include "engine/trend/random_walk.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

// The forward-backward passes of a hidden Markov chain, on a lattice of points. The walk itself has no drift:
// whoever wants one shifts the likelihoods, so that no step has to fall between lattice points, where
// rounding to them would make the walk wander more than it does. Each row is scaled to sum to 1, and the logs
// of the scales add up to the evidence.

namespace sipladder::trend {

namespace {

double scale_to_one(std::span<double> values) {
    const double total = std::accumulate(values.begin(), values.end(), 0.0);
    SIPLADDER_EXPECT(total > 0.0);
    const double scale = 1.0 / total;
    for (double& value : values) value *= scale;
    return total;
}

}  // namespace

Kernel normal_kernel(double sd, double step) {
    SIPLADDER_EXPECT(sd >= 0.0 && step > 0.0);
    const double variance = sd * sd / (step * step);
    if (variance == 0.0) return {1.0};
    // Three weights keep any small variance exactly; a sampled normal keeps it to 0.1 % from here on.
    constexpr double sampled_from = 0.6;
    if (variance < sampled_from) return {1.0 - variance, 0.5 * variance};
    constexpr double reach = 4.5;  // standard deviations
    Kernel kernel;
    const auto most = static_cast<std::size_t>(std::ceil(reach * std::sqrt(variance)));
    double total = 0.0;
    for (std::size_t i = 0; i <= most; ++i) {
        const auto at = static_cast<double>(i);
        kernel.push_back(std::exp(-0.5 * at * at / variance));
        total += i == 0 ? kernel[i] : 2.0 * kernel[i];
    }
    for (double& weight : kernel) weight /= total;
    return kernel;
}

void convolve(std::span<const double> values, const Kernel& kernel, bool keeps_ends, std::span<double> out) {
    const std::size_t count = values.size();
    SIPLADDER_EXPECT(out.size() == count && !kernel.empty());
    for (std::size_t i = 0; i < count; ++i) out[i] = kernel[0] * values[i];
    for (std::size_t j = 1; j < kernel.size(); ++j) {
        const double weight = kernel[j];
        const std::size_t inside = count > j ? count - j : 0;
        for (std::size_t i = 0; i < inside; ++i) out[i] += weight * values[i + j];
        for (std::size_t i = 0; i < inside; ++i) out[i + j] += weight * values[i];
        if (!keeps_ends) continue;
        for (std::size_t i = inside; i < count; ++i) out[i] += weight * values[count - 1];
        for (std::size_t i = 0; i < std::min(j, count); ++i) out[i] += weight * values[0];
    }
}

void shifted(std::span<const double> values, double by, std::span<double> out) {
    const auto count = static_cast<long>(values.size());
    const double whole = std::floor(by);
    const double part = by - whole;
    // Lagrange's cubic through the points at -1, 0, 1, 2.
    const double weights[] = {
        -part * (part - 1.0) * (part - 2.0) / 6.0, (part + 1.0) * (part - 1.0) * (part - 2.0) / 2.0,
        -(part + 1.0) * part * (part - 2.0) / 2.0, (part + 1.0) * part * (part - 1.0) / 6.0};
    constexpr double farthest = 1e6;  // steps; beyond any lattice
    const long from = static_cast<long>(std::clamp(whole, -farthest, farthest)) - 1;
    const auto value = [&](long at) {
        return values[static_cast<std::size_t>(std::clamp(at, 0L, count - 1))];
    };
    // Inside, all four points are there; the loop over them alone is what the compiler can do two at a time.
    const long first = std::clamp(-from, 0L, count);
    const long last = std::clamp(count - 3 - from, first, count);
    const double* four = values.data() + from;
    double* into = out.data();
    for (long i = first; i < last; ++i) {
        const double sum = weights[0] * four[i] + weights[1] * four[i + 1] + weights[2] * four[i + 2] +
                           weights[3] * four[i + 3];
        into[i] = sum > 0.0 ? sum : 0.0;
    }
    for (long i = 0; i < count; ++i) {
        if (i == first) i = last;
        if (i >= count) break;
        double sum = 0.0;
        for (long j = 0; j < 4; ++j) sum += weights[j] * value(i + from + j);
        into[i] = std::max(sum, 0.0);
    }
}

double WalkPasses::filter(const WalkInput& input) {
    const std::size_t moments = input.likelihoods.size();
    SIPLADDER_EXPECT(moments > 0 && input.kernels.size() + 1 == moments);
    width_ = input.start.size();
    filtered_.resize(moments * width_);
    predicted_.resize(moments * width_);
    double ln = 0.0;
    for (std::size_t k = 0; k < moments; ++k) {
        const std::span<double> before = row(predicted_, k);
        if (k == 0)
            std::copy(input.start.begin(), input.start.end(), before.begin());
        else
            convolve(row(filtered_, k - 1), input.kernels[k - 1], false, before);
        const std::span<double> after = row(filtered_, k);
        const std::span<const double> seen = input.likelihoods[k];
        for (std::size_t i = 0; i < width_; ++i) after[i] = before[i] * seen[i];
        ln += std::log(scale_to_one(after));
    }
    return ln;
}

WalkPasses::Moments WalkPasses::change(const WalkInput& input, std::span<const double> lattice) {
    const std::size_t moments = input.likelihoods.size();
    // first_ and second_: the start's moments times the filtered probability, of each present place.
    first_.resize(width_);
    second_.resize(width_);
    scratch_.resize(width_);
    for (std::size_t i = 0; i < width_; ++i) {
        first_[i] = lattice[i] * row(filtered_, 0)[i];
        second_[i] = lattice[i] * first_[i];
    }
    for (std::size_t k = 1; k < moments; ++k) {
        const std::span<const double> seen = input.likelihoods[k];
        const double scale = 1.0 / std::inner_product(seen.begin(), seen.end(), predicted(k).begin(), 0.0);
        for (std::vector<double>* moment : {&first_, &second_}) {
            convolve(*moment, input.kernels[k - 1], false, scratch_);
            for (std::size_t i = 0; i < width_; ++i) (*moment)[i] = scale * scratch_[i] * seen[i];
        }
    }
    const std::span<const double> last = filtered(moments - 1);
    double mean_first = 0.0;
    double mean_last = 0.0;
    double square = 0.0;
    for (std::size_t i = 0; i < width_; ++i) {
        mean_first += first_[i];
        mean_last += lattice[i] * last[i];
        square += second_[i] - 2.0 * lattice[i] * first_[i] + lattice[i] * lattice[i] * last[i];
    }
    const double mean = mean_last - mean_first;
    return {mean, std::max(square - mean * mean, 0.0)};
}

void WalkPasses::smooth(const WalkInput& input) {
    const std::size_t moments = input.likelihoods.size();
    SIPLADDER_EXPECT(predicted_.size() >= moments * width_);
    without_.resize(moments * width_);
    scratch_.resize(width_);
    backward_.assign(width_, 1.0);
    for (std::size_t k = moments; k-- > 0;) {
        const std::span<double> others = row(without_, k);
        const std::span<const double> before = predicted(k);
        for (std::size_t i = 0; i < width_; ++i) others[i] = before[i] * backward_[i];
        scale_to_one(others);
        if (k == 0) break;
        const std::span<const double> seen = input.likelihoods[k];
        for (std::size_t i = 0; i < width_; ++i) scratch_[i] = backward_[i] * seen[i];
        convolve(scratch_, input.kernels[k - 1], false, backward_);
        const double most = *std::max_element(backward_.begin(), backward_.end());
        SIPLADDER_EXPECT(most > 0.0);
        const double scale = 1.0 / most;
        for (double& value : backward_) value *= scale;
    }
}

}  // namespace sipladder::trend
