// Dates of one form sort as their texts do, so a span compares texts; the shorter one decides how much of a
// date is looked at.

#include "engine/date_span.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <chrono>

namespace sipladder {

namespace {

constexpr std::string_view pattern = "0000-00-00";
constexpr std::size_t year_length = 4;
constexpr std::size_t month_length = 7;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

int number_in(std::string_view digits) {
    int number = 0;
    for (const char digit : digits) number = 10 * number + (digit - '0');
    return number;
}

bool is_date(std::string_view text) {
    if (text.size() != year_length && text.size() != month_length && text.size() != pattern.size())
        return false;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (pattern[i] == '-' ? text[i] != '-' : !is_digit(text[i])) return false;
    const int month = text.size() < month_length ? 1 : number_in(text.substr(year_length + 1, 2));
    const int day = text.size() < pattern.size() ? 1 : number_in(text.substr(month_length + 1));
    return std::chrono::year_month_day{std::chrono::year{number_in(text.substr(0, year_length))},
                                       std::chrono::month{static_cast<unsigned>(month)},
                                       std::chrono::day{static_cast<unsigned>(day)}}
        .ok();
}

}  // namespace

bool DateSpan::holds(std::string_view date) const {
    return (from.empty() || date.substr(0, from.size()) >= from) &&
           (to.empty() || date.substr(0, to.size()) <= to);
}

std::optional<Problem> wrong_with_date(std::string_view typed, const std::string& where) {
    const std::string date{trimmed(typed)};
    if (date.empty() || is_date(date)) return std::nullopt;
    return Problem{where, "is \"" + date + "\"", "a date, such as 2026-03-01, 2026-03 or 2026"};
}

std::optional<Problem> wrong_with_order(const DateSpan& span, const std::string& where) {
    const std::size_t both = std::min(span.from.size(), span.to.size());
    if (both == 0 || span.from.substr(0, both) <= span.to.substr(0, both)) return std::nullopt;
    return Problem{where, "is \"" + span.to + "\", before " + span.from, "the earlier date first"};
}

DateSpan date_span_from_typed(std::string_view typed, const std::string& where) {
    const std::size_t colon = typed.find(':');
    if (colon == std::string_view::npos)
        throw Refused(where, "is \"" + std::string(typed) + "\"", "two dates, such as 2026-03-01:2026-03-29");
    const std::string_view from = trimmed(typed.substr(0, colon));
    const std::string_view to = trimmed(typed.substr(colon + 1));
    for (const std::string_view date : {from, to})
        if (const auto wrong = wrong_with_date(date, where)) throw Refused({*wrong});
    DateSpan span{std::string(from), std::string(to)};
    if (const auto wrong = wrong_with_order(span, where)) throw Refused({*wrong});
    return span;
}

}  // namespace sipladder
