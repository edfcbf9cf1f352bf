#include "engine/date_span.hpp"

#include <doctest/doctest.h>

using namespace sipladder;

namespace {

bool is_date(const char* typed) {
    return !wrong_with_date(typed, "From");
}

}  // namespace

TEST_CASE("a date is a day, a month or a year that there is") {
    for (const char* right : {"2026-03-01", "2026-03", "2026", "2024-02-29", " 2026-12-31 ", ""})
        CHECK_MESSAGE(is_date(right), right);
    for (const char* wrong : {"2026-02-29", "2026-13", "2026-3-1", "26", "2026-", "2026-03-", "2026-03-01T19",
                              "2026/03/01", "1.3.2026", "yesterday", "-026-03-01", "2026-00-10"})
        CHECK_MESSAGE(!is_date(wrong), wrong);
    const auto told = wrong_with_date("2026-13", "From");
    REQUIRE(told);
    CHECK(to_text(*told) == "From: is \"2026-13\"; a date, such as 2026-03-01, 2026-03 or 2026");
}

TEST_CASE("a span holds both its ends, a month and a year as a whole, and without an end everything") {
    const DateSpan march{"2026-03", "2026-03"};
    CHECK(march.holds("2026-03-01"));
    CHECK(march.holds("2026-03-31"));
    CHECK(!march.holds("2026-02-28"));
    CHECK(!march.holds("2026-04-01"));
    const DateSpan mixed{"2026-03-15", "2026"};
    CHECK(!mixed.holds("2026-03-14"));
    CHECK(mixed.holds("2026-12-31"));
    CHECK(!mixed.holds("2027-01-01"));
    CHECK(DateSpan{}.holds("1999-01-01"));
    CHECK(DateSpan{"", "2026-03-01"}.holds("2026-03-01"));
    CHECK(!DateSpan{"", "2026-03-01"}.holds("2026-03-02"));
}

TEST_CASE("two dates with a colon are a span, the earlier first") {
    CHECK(date_span_from_typed("2026-03-01:2026-03-29", "--earlier") == DateSpan{"2026-03-01", "2026-03-29"});
    CHECK(date_span_from_typed("2026-03:", "--earlier") == DateSpan{"2026-03", ""});
    CHECK(date_span_from_typed("2026-03-15:2026-03", "--earlier").holds("2026-03-31"));
    for (const char* wrong : {"2026-03-01", "2026-03-01:soon", "2026-04-01:2026-03-01", "2026-04:2026-03-31"})
        CHECK_THROWS_AS(date_span_from_typed(wrong, "--earlier"), Refused);
}
