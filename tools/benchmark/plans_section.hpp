#pragma once

#include "tools/benchmark/report.hpp"

#include <cstddef>

namespace sipladder::benchmark {

/// How long the planner takes on random requests (processor time of one core), and that no plan asks for the
/// impossible. Reads the content folder.
void add_plans(Report& report, std::size_t requests);

}  // namespace sipladder::benchmark
