#include "engine/text.hpp"

#include "engine/instant.hpp"
#include "engine/problem.hpp"

#include <doctest/doctest.h>

using namespace sipladder;

TEST_CASE("numbers become text with the digits they deserve") {
    CHECK(fixed(-0.0001, 2) == "0.00");
    CHECK(significant(0.0996, 2) == "0.10");
    CHECK(significant(1234.0, 2) == "1200");
    CHECK(with_uncertainty(1.23456, 0.0234) == "1.235 ± 0.023");
    CHECK(percent(0.0283) == "2.8 %");
    CHECK(clock_text(108) == "1:48");
}

TEST_CASE("an interval keeps the decimals of its value") {
    CHECK(with_interval(1.42, 0.81, 2.63) == "1.4 (0.8 to 2.6)");
    CHECK(with_interval(0.112, 0.041, 0.304) == "0.11 (0.04 to 0.30)");
    CHECK(with_interval(1.4, 0.008, 2.6) == "1.400 (0.008 to 2.600)");
}

TEST_CASE("typed numbers take a point or a comma, and nothing else") {
    CHECK(number_from_typed(" 1,02 ") == 1.02);
    CHECK(number_from_typed("1.02") == 1.02);
    CHECK_FALSE(number_from_typed("1.000,5"));
    CHECK_FALSE(number_from_typed("nan"));
    CHECK_FALSE(number_from_typed("1 g"));
    CHECK_FALSE(number_from_file("1,02"));
}

TEST_CASE("a moment goes to ISO 8601 and back") {
    const std::string text = "2026-03-01T19:05:00.250+01:00";
    const Instant instant = instant_from_iso8601(text, "row 3");
    CHECK(to_iso8601(instant) == text);
    CHECK(to_date(instant) == "2026-03-01");
    CHECK(to_iso8601(instant_from_iso8601("2026-03-01T23:30:00-02:30", "")) ==
          "2026-03-01T23:30:00.000-02:30");
    CHECK_THROWS_AS(instant_from_iso8601("2026-02-30T10:00:00Z", "row 3"), Refused);
    CHECK_THROWS_AS(instant_from_iso8601("yesterday", "row 3"), Refused);
    CHECK(noon_from_day("2026-11-26", "--date") == instant_from_iso8601("2026-11-26T12:00:00Z", ""));
    CHECK_THROWS_AS(noon_from_day("2026-13-01", "--date"), Refused);
}

TEST_CASE("the shortest text of a rounded number has no zeros at its end") {
    CHECK(shortest(0.9, 2) == "0.9");
    CHECK(shortest(8.22, 2) == "8.2");
    CHECK(shortest(8.0, 2) == "8");
    CHECK(shortest(100.0, 2) == "100");
    CHECK(shortest(0.0, 2) == "0");
    CHECK(shortest(0.0996, 2) == "0.1");
}

TEST_CASE("what is typed loses its margins, and nothing within") {
    CHECK(trimmed(" \town words, two\r\n") == "own words, two");
    CHECK(trimmed("as it is") == "as it is");
    CHECK(trimmed(" \r\n\t ").empty());
    CHECK(trimmed("").empty());
}

TEST_CASE("a number of things has the word for one or for many") {
    CHECK(counted(0, "cup", "cups") == "0 cups");
    CHECK(counted(1, "cup", "cups") == "1 cup");
    CHECK(counted(12, "row was", "rows were") == "12 rows were");
}
