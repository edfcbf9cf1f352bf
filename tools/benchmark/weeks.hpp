#pragma once

#include "tools/benchmark/methods.hpp"
#include "tools/benchmark/report.hpp"

namespace sipladder::benchmark {

/// A person over weeks, beside the plain reference: accuracy, honesty, power and false alarms. Half as many
/// people as the run names, each once with a drift and once without.
void add_weeks(Report& report, const Run& run);
/// Classes of twenty, beside the plain reference; 75 classes for a thousand people.
void add_class(Report& report, const Run& run);
/// How long a large panel and a long trend take.
void add_weeks_speed(Report& report, std::size_t rounds);

}  // namespace sipladder::benchmark
