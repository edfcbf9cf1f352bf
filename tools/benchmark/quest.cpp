#include "tools/benchmark/quest.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>

// As the published program does it: intensities are rounded to the grid, the offset that puts `p_threshold`
// at the threshold comes from straight-line interpolation of the tabulated curve, quantiles from a running
// sum that counts each point in full (half a grain too high), and the next place is the quantile of the
// "ideal" order, from the curve's two ends.

namespace sipladder::benchmark {

Quest::Quest(const QuestParameters& parameters)
    : parameters_(parameters),
      half_(static_cast<long>(std::ceil(parameters.range / parameters.grain / 2.0))) {
    SIPLADDER_EXPECT(parameters.grain > 0.0 && parameters.range > 0.0 && parameters.guess_sd > 0.0);
    double total = 0.0;
    for (long i = -half_; i <= half_; ++i) {
        const double z = static_cast<double>(i) * parameters_.grain / parameters_.guess_sd;
        pdf_.push_back(std::exp(-0.5 * z * z));
        total += pdf_.back();
    }
    for (double& p : pdf_) p /= total;
    find_threshold_offset();
    for (long k = -2 * half_; k <= 2 * half_; ++k)
        right_.push_back(share_right(static_cast<double>(k) * parameters_.grain));
    find_quantile_order();
}

double Quest::share_right(double above_threshold_log10) const {
    const double detected =
        1.0 - (1.0 - parameters_.gamma) *
                  std::exp(-std::pow(10.0, parameters_.beta * (above_threshold_log10 + x_threshold_)));
    return parameters_.delta * parameters_.gamma + (1.0 - parameters_.delta) * detected;
}

void Quest::find_threshold_offset() {
    double before = share_right(static_cast<double>(-2 * half_) * parameters_.grain);
    for (long k = -2 * half_ + 1; k <= 2 * half_; ++k) {
        const double here = share_right(static_cast<double>(k) * parameters_.grain);
        if (before < parameters_.p_threshold && here >= parameters_.p_threshold) {
            const double part = (parameters_.p_threshold - before) / (here - before);
            x_threshold_ = (static_cast<double>(k - 1) + part) * parameters_.grain;
            return;
        }
        before = here;
    }
    SIPLADDER_EXPECT(false);  // the curve does not pass p_threshold within the range
}

void Quest::find_quantile_order() {
    const double low = right_.front();
    const double high = right_.back();
    double e = high * std::log(high) - low * std::log(low) + (1.0 - high) * std::log(1.0 - high) -
               (1.0 - low) * std::log(1.0 - low);
    e = 1.0 / (1.0 + std::exp(e / (low - high)));
    quantile_order_ = (e - low) / (high - low);
}

void Quest::update(double intensity_log10, bool correct) {
    const double rounded = std::round((intensity_log10 - parameters_.guess) / parameters_.grain);
    const long column = std::clamp(static_cast<long>(rounded), -half_, half_);
    double total = 0.0;
    for (long i = -half_; i <= half_; ++i) {
        const double right = right_[static_cast<std::size_t>(column - i + 2 * half_)];
        double& p = pdf_[static_cast<std::size_t>(i + half_)];
        p *= correct ? right : 1.0 - right;
        total += p;
    }
    for (double& p : pdf_) p /= total;
}

double Quest::mean() const {
    double sum = 0.0;
    for (std::size_t i = 0; i < pdf_.size(); ++i)
        sum += pdf_[i] * static_cast<double>(static_cast<long>(i) - half_);
    return parameters_.guess + parameters_.grain * sum;
}

double Quest::sd() const {
    double sum = 0.0;
    double square = 0.0;
    for (std::size_t i = 0; i < pdf_.size(); ++i) {
        const double at = parameters_.grain * static_cast<double>(static_cast<long>(i) - half_);
        sum += pdf_[i] * at;
        square += pdf_[i] * at * at;
    }
    return std::sqrt(std::max(square - sum * sum, 0.0));
}

double Quest::mode() const {
    const auto top = std::max_element(pdf_.begin(), pdf_.end()) - pdf_.begin();
    return parameters_.guess + parameters_.grain * static_cast<double>(top - half_);
}

double Quest::quantile(double order) const {
    double running = 0.0;
    for (std::size_t i = 0; i < pdf_.size(); ++i) {
        const double next = running + pdf_[i];
        if (next >= order && pdf_[i] > 0.0) {
            const double part = i == 0 ? 0.0 : (order - running) / pdf_[i] - 1.0;
            return parameters_.guess +
                   parameters_.grain * (static_cast<double>(static_cast<long>(i) - half_) + part);
        }
        running = next;
    }
    return parameters_.guess + parameters_.grain * static_cast<double>(half_);
}

}  // namespace sipladder::benchmark
