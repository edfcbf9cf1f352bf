#pragma once

#include "tools/benchmark/report.hpp"

namespace sipladder::benchmark {

/// How long choice, update and fit take beside the textbook's expected joint entropy, on one core, in the
/// same run.
/// @param rounds  of each measurement; the median is taken
void add_speed(Report& report, std::size_t rounds);

}  // namespace sipladder::benchmark
