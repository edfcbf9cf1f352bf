#pragma once

#include <cstddef>
#include <vector>

namespace sipladder::drills::classroom {

/// Serving orders of so many single samples in which every sample stands in every place equally often and
/// follows every other equally often: `samples` orders for an even number, twice as many for an odd one.
/// @param samples  1 to 60
/// @return         orders; each holds 0 … samples - 1 once
/// @source  williams_1949
/// @checked tests/classroom/service_test.cpp
std::vector<std::vector<std::size_t>> williams_orders(std::size_t samples);

}  // namespace sipladder::drills::classroom
