#include "engine/instant.hpp"

#include "engine/problem.hpp"

#include <charconv>
#include <chrono>
#include <cstdlib>
#include <optional>

namespace sipladder {

namespace {

std::string padded(std::int64_t value, std::size_t width) {
    std::string digits = std::to_string(value);
    return digits.size() >= width ? digits : std::string(width - digits.size(), '0') + digits;
}

struct Civil {
    std::chrono::year_month_day date;
    std::chrono::hh_mm_ss<std::chrono::milliseconds> time;
};

Civil local_civil(const Instant& instant) {
    const std::chrono::sys_time<std::chrono::milliseconds> local{
        std::chrono::milliseconds{instant.utc_ms + std::int64_t{instant.offset_min} * 60'000}};
    const auto day = std::chrono::floor<std::chrono::days>(local);
    return {std::chrono::year_month_day{day}, std::chrono::hh_mm_ss{local - day}};
}

/// Reads fixed-width fields from the front of a text.
class Reader {
  public:
    explicit Reader(std::string_view text) : rest_(text) {}

    bool literal(char c) {
        if (!rest_.starts_with(c)) return false;
        rest_.remove_prefix(1);
        return true;
    }
    bool digits(std::size_t count, int& value) {
        if (rest_.size() < count) return false;
        const std::string_view field = rest_.substr(0, count);
        if (field.find_first_not_of("0123456789") != std::string_view::npos) return false;
        std::from_chars(field.data(), field.data() + count, value);
        rest_.remove_prefix(count);
        return true;
    }
    bool done() const { return rest_.empty(); }

  private:
    std::string_view rest_;
};

bool read_offset(Reader& in, int& offset_min) {
    offset_min = 0;
    if (in.literal('Z')) return true;
    const bool west = in.literal('-');
    if (!west && !in.literal('+')) return false;
    int hours{};
    int minutes{};
    if (!in.digits(2, hours) || !in.literal(':') || !in.digits(2, minutes) || hours > 23 || minutes > 59)
        return false;
    offset_min = (west ? -1 : 1) * (hours * 60 + minutes);
    return true;
}

/// Nothing if the text is no such moment.
std::optional<Instant> moment_in(std::string_view text) {
    Reader in(text);
    int year{}, month{}, day{}, hour{}, minute{}, second{}, millisecond{}, offset{};
    bool ok = in.digits(4, year) && in.literal('-') && in.digits(2, month) && in.literal('-') &&
              in.digits(2, day) && in.literal('T') && in.digits(2, hour) && in.literal(':') &&
              in.digits(2, minute) && in.literal(':') && in.digits(2, second);
    if (ok && in.literal('.')) ok = in.digits(3, millisecond);
    ok = ok && read_offset(in, offset) && in.done() && hour < 24 && minute < 60 && second < 60;
    const std::chrono::year_month_day date{std::chrono::year{year},
                                           std::chrono::month{static_cast<unsigned>(month)},
                                           std::chrono::day{static_cast<unsigned>(day)}};
    if (!ok || !date.ok()) return std::nullopt;
    const auto days = std::chrono::sys_days{date}.time_since_epoch();
    const auto since = std::chrono::milliseconds{days} + std::chrono::hours{hour} +
                       std::chrono::minutes{minute - offset} + std::chrono::seconds{second} +
                       std::chrono::milliseconds{millisecond};
    return Instant{since.count(), offset, 0};
}

}  // namespace

std::string to_date(const Instant& instant) {
    const auto date = local_civil(instant).date;
    return padded(int{date.year()}, 4) + "-" + padded(unsigned{date.month()}, 2) + "-" +
           padded(unsigned{date.day()}, 2);
}

std::string to_iso8601(const Instant& instant) {
    const auto time = local_civil(instant).time;
    const int offset = std::abs(instant.offset_min);
    return to_date(instant) + "T" + padded(time.hours().count(), 2) + ":" +
           padded(time.minutes().count(), 2) + ":" + padded(time.seconds().count(), 2) + "." +
           padded(time.subseconds().count(), 3) + (instant.offset_min < 0 ? "-" : "+") +
           padded(offset / 60, 2) + ":" + padded(offset % 60, 2);
}

Instant instant_from_iso8601(std::string_view text, const std::string& where) {
    if (const std::optional<Instant> read = moment_in(text)) return *read;
    throw Refused(where, "\"" + std::string(text) + "\" is no moment",
                  "a moment reads like 2026-03-01T19:05:00.000+01:00");
}

Instant noon_from_day(std::string_view day, const std::string& where) {
    if (const std::optional<Instant> read = moment_in(std::string(day) + "T12:00:00Z")) return *read;
    throw Refused(where, "\"" + std::string(day) + "\" is no day", "a day reads like 2026-11-26");
}

}  // namespace sipladder
