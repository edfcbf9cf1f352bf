#pragma once

#include "tools/benchmark/report.hpp"

#include <cstddef>

namespace sipladder::benchmark {

/// A journal after long use, at full and at quarter size: opening, appending, reading a person's weeks,
/// exporting. Its rows are one invented sitting told over and over under ids of their own.
/// @param people  at full size, 17 sittings of 12 answers each
void add_long_use(Report& report, std::size_t people);

}  // namespace sipladder::benchmark
