#include "tools/benchmark/timing.hpp"

#include <algorithm>
#include <chrono>
#include <vector>

namespace sipladder::benchmark {

namespace {

constexpr double us_in_ms = 1000.0;

}  // namespace

double median_us(std::size_t rounds, const std::function<void(std::size_t)>& work) {
    std::vector<double> took;
    took.reserve(rounds);
    for (std::size_t round = 0; round < rounds; ++round) {
        const auto start = std::chrono::steady_clock::now();
        work(round);
        took.push_back(
            std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - start).count());
    }
    const auto middle = took.begin() + static_cast<std::ptrdiff_t>(took.size() / 2);
    std::nth_element(took.begin(), middle, took.end());
    return *middle;
}

double median_ms(std::size_t rounds, const std::function<void(std::size_t)>& work) {
    return median_us(rounds, work) / us_in_ms;
}

double once_ms(const std::function<void()>& work) {
    return median_ms(1, [&](std::size_t) { work(); });
}

}  // namespace sipladder::benchmark
