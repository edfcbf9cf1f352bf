#include "tools/benchmark/constant_stimuli.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/psychometric.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sipladder::benchmark {

GridLikelihood::GridLikelihood(std::span<const double> levels_log10, double lapse, double beyond) {
    SIPLADDER_EXPECT(!levels_log10.empty());
    constexpr double step = 0.02;
    constexpr double narrowest = 0.1;
    constexpr double widest = 4.0;
    constexpr std::size_t widths = 25;
    widths_ = widths;
    for (double theta = levels_log10.front() - beyond; theta <= levels_log10.back() + beyond; theta += step)
        thetas_.push_back(theta);
    for (const double x : levels_log10) {
        std::vector<double>& right = log_right_.emplace_back();
        std::vector<double>& wrong = log_wrong_.emplace_back();
        for (const double theta : thetas_)
            for (std::size_t w = 0; w < widths; ++w) {
                const double share = static_cast<double>(w) / static_cast<double>(widths - 1);
                const threshold::Curve curve{theta, narrowest * std::pow(widest / narrowest, share), lapse};
                right.push_back(std::log(threshold::right_probability(curve, threshold::three_afc, x)));
                wrong.push_back(
                    std::log(std::max(threshold::wrong_probability(curve, threshold::three_afc, x),
                                      std::numeric_limits<double>::min())));
            }
    }
}

simulate::Estimate GridLikelihood::fit(std::span<const std::size_t> right,
                                       std::span<const std::size_t> served) const {
    SIPLADDER_EXPECT(right.size() == log_right_.size() && served.size() == right.size());
    std::vector<double> log_likelihood(thetas_.size() * widths_, 0.0);
    for (std::size_t level = 0; level < right.size(); ++level) {
        if (served[level] == 0) continue;
        const double yes = static_cast<double>(right[level]);
        const double no = static_cast<double>(served[level]) - yes;
        for (std::size_t i = 0; i < log_likelihood.size(); ++i)
            log_likelihood[i] += yes * log_right_[level][i] + no * log_wrong_[level][i];
    }
    std::vector<double> profile;
    for (std::size_t t = 0; t < thetas_.size(); ++t) {
        const auto row = log_likelihood.begin() + static_cast<std::ptrdiff_t>(t * widths_);
        profile.push_back(*std::max_element(row, row + static_cast<std::ptrdiff_t>(widths_)));
    }
    const auto top = std::max_element(profile.begin(), profile.end());
    constexpr double half_chi_square_95 =
        1.9207;  // half the 0.95 quantile of chi-square, 1 degree of freedom
    const auto inside = [&](double value) { return value >= *top - half_chi_square_95; };
    const auto first = std::find_if(profile.begin(), profile.end(), inside) - profile.begin();
    const auto last = profile.rend() - std::find_if(profile.rbegin(), profile.rend(), inside) - 1;
    const auto theta = [&](std::ptrdiff_t i) { return thetas_[static_cast<std::size_t>(i)]; };
    return {theta(top - profile.begin()), theta(first), theta(last), (theta(last) - theta(first)) / 3.92};
}

}  // namespace sipladder::benchmark
