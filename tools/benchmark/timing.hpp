#pragma once

#include <cstddef>
#include <functional>

/// Wall time of work in this process. The median: another program on the same core only ever adds.
namespace sipladder::benchmark {

/// @param work  given the round, from 0
double median_us(std::size_t rounds, const std::function<void(std::size_t)>& work);
double median_ms(std::size_t rounds, const std::function<void(std::size_t)>& work);
/// Once, for what takes long.
double once_ms(const std::function<void()>& work);

}  // namespace sipladder::benchmark
