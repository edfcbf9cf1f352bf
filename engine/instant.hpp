#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace sipladder {

/// A moment, handed in from outside: nothing here reads a clock. Durations use the monotonic part only, so a
/// clock that is set back never shortens a rest.
struct Instant {
    std::int64_t utc_ms{};  ///< milliseconds since 1970-01-01T00:00:00Z
    int offset_min{};       ///< local time minus UTC, minutes, -1440 to 1440
    std::int64_t
        monotonic_ms{};  ///< milliseconds of a clock that never runs backwards; comparable within one run

    bool operator==(const Instant&) const = default;
};

/// ISO 8601 with milliseconds and offset, e.g. 2026-03-01T19:05:00.000+01:00 (local time and its offset).
std::string to_iso8601(const Instant& instant);
/// Local calendar date, YYYY-MM-DD.
std::string to_date(const Instant& instant);
/// The inverse of to_iso8601; milliseconds may be left out, the offset may be Z. The monotonic part is 0.
/// @throws Refused naming `where` if the text is no such moment
Instant instant_from_iso8601(std::string_view text, const std::string& where);
/// Noon in UTC of a day as somebody types it, "2026-11-26". @throws Refused naming `where` if it is none
Instant noon_from_day(std::string_view day, const std::string& where);

}  // namespace sipladder
