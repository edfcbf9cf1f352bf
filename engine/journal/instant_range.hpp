#pragma once

#include <cstdint>

/// Moments that a row may bear: what lies beyond was damaged or made up, and would overflow a calendar.
namespace sipladder::journal {

constexpr std::int64_t earliest_utc_ms = -2'208'988'800'000;  // 1900-01-01
constexpr std::int64_t latest_utc_ms = 253'402'214'400'000;   // 9999-12-31
constexpr int most_offset_min = 1440;
constexpr std::int64_t most_monotonic_ms = 1'000'000'000'000'000'000;

}  // namespace sipladder::journal
