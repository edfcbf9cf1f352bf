#pragma once

#include "tools/benchmark/report.hpp"

#include <cstddef>

namespace sipladder::benchmark {

/// Time of what a person waits for: start, a frame, an answer, a class on paper; each beside what
/// the same work costs at the least, done as plainly as the machine allows.
/// @param rounds  of the short ones; the long ones run once or thrice
void add_paths(Report& report, std::size_t rounds);

}  // namespace sipladder::benchmark
