#pragma once

#include "engine/problem.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace sipladder {

/// From one date to another, both included; each a day, a month or a year: 2026-03-01, 2026-03, 2026.
struct DateSpan {
    std::string from;  ///< its first day counts; empty: from the first of all
    std::string to;    ///< its last day counts; empty: to the last of all

    /// @param date  YYYY-MM-DD
    bool holds(std::string_view date) const;

    bool operator==(const DateSpan&) const = default;
};

/// What is wrong with a date as typed, blanks around it allowed; nothing where it is one, or empty.
std::optional<Problem> wrong_with_date(std::string_view typed, const std::string& where);
/// What is wrong with two dates that are right by themselves: the later one first. @param where  of the
/// second
std::optional<Problem> wrong_with_order(const DateSpan& span, const std::string& where);
/// "2026-03-01:2026-03-29"; either may be empty.
/// @throws Refused  naming `where`
DateSpan date_span_from_typed(std::string_view typed, const std::string& where);

}  // namespace sipladder
