#pragma once

#include "tools/benchmark/report.hpp"

#include <cstddef>

namespace sipladder::benchmark {

/// Memory over hours of simulated use of the window: places gone through, rows opened, ladders planned,
/// drills tasted, every screen drawn without a display, on a journal in a file and by a clock that is moved
/// on.
/// @param hours  simulated; about a minute of computing each
void add_hours_of_use(Report& report, std::size_t hours);

}  // namespace sipladder::benchmark
