#include "tools/benchmark/crossing.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace sipladder::benchmark {

simulate::Figure cups_to(const Outcome& outcome, std::span<const std::size_t> checkpoints,
                         double cups_a_checkpoint, double wanted) {
    std::vector<simulate::Figure> rmse;
    for (std::size_t k = 0; k < checkpoints.size(); ++k) rmse.push_back(simulate::rmse_of(outcome.errors[k]));
    const auto cups_at = [&](std::size_t k) {
        return cups_a_checkpoint * static_cast<double>(checkpoints[k]);
    };
    for (std::size_t k = 1; k < rmse.size(); ++k) {
        if (rmse[k].value > wanted) continue;
        constexpr std::size_t around =
            3;  // checkpoints each way for the slope: two neighbours differ by luck
        const std::size_t from = k > around ? k - around : 0;
        const std::size_t to = std::min(k + around, rmse.size() - 1);
        const double slope = (rmse[from].value - rmse[to].value) / (cups_at(to) - cups_at(from));
        const double part = (rmse[k - 1].value - wanted) / (rmse[k - 1].value - rmse[k].value);
        return {cups_at(k - 1) + part * (cups_at(k) - cups_at(k - 1)), rmse[k].standard_error / slope};
    }
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    return {nan, nan};
}

std::vector<std::size_t> every(std::size_t first, std::size_t last, std::size_t step) {
    std::vector<std::size_t> numbers;
    for (std::size_t n = first; n <= last; n += step) numbers.push_back(n);
    return numbers;
}

Goal at_most(std::string what, simulate::Figure measured, double limit) {
    return {std::move(what), "at most " + significant(limit, 3), measured, measured.value <= limit};
}

Goal at_least(std::string what, simulate::Figure measured, double limit) {
    return {std::move(what), "at least " + significant(limit, 3), measured, measured.value >= limit};
}

}  // namespace sipladder::benchmark
