#include "tools/benchmark/weeks.hpp"

#include "engine/trend/rota.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

// The bench sections of weeks and classes on a few people, beside their plain references. SIPLADDER_LONG=1
// asks 2000 people and 300 classes, as the bench does, and holds the program to its goals.

using namespace sipladder;
using namespace sipladder::benchmark;

namespace {

bool is_long() {
    return std::getenv("SIPLADDER_LONG") != nullptr;
}

Report run_of(void (*section)(Report&, const Run&), std::size_t people) {
    Run run;
    run.people = is_long() ? 4000 : people;
    Report report;
    section(report, run);
    return report;
}

simulate::Figure cell(const Report& report, const std::string& table, std::size_t row, std::size_t column) {
    const auto found = std::find_if(report.tables.begin(), report.tables.end(),
                                    [&](const Table& one) { return one.id == table; });
    REQUIRE(found != report.tables.end());
    return found->rows.at(row).cells.at(column).value();
}

void check_goals(const Report& report) {
    if (!is_long()) return;
    for (const Goal& goal : report.goals) {
        CAPTURE(goal.what);
        CAPTURE(goal.measured.value);
        CHECK(goal.met);
    }
}

}  // namespace

TEST_CASE("a person over weeks is found as well as the plain reference finds them") {
    const Report report = run_of(add_weeks, 40);
    for (const std::size_t own : {std::size_t{0}, std::size_t{2}}) {
        CHECK(cell(report, "weeks", own, 0).value < 1.08 * cell(report, "weeks", own + 1, 0).value);
        CHECK(cell(report, "weeks", own, 2).value < 1.12 * cell(report, "weeks", own + 1, 2).value);
        CHECK(cell(report, "weeks", own, 1).value > 0.84);
        CHECK(cell(report, "weeks", own, 3).value > 0.76);
    }
    // False alarms of 5 % at the program's own cut: 20 people without drift seldom give more than three.
    CHECK(cell(report, "weeks_cut", 0, 0).value <= 0.2);
    check_goals(report);
    // What a rota of eight sittings of 16 is said to show beforehand agrees with the sittings themselves: a
    // drift of 0.05 a week falls by 0.35.
    const trend::Smallest smallest =
        trend::smallest_fall({.sittings = 8, .presentations = 16, .weeks_between = 1.0});
    CHECK(smallest.half_log10 < 0.35);
    CHECK(smallest.four_in_five_log10 > 0.35);
    CHECK(std::abs(cell(report, "weeks_cut", 0, 2).value - 0.6) < 0.08);
}

TEST_CASE("a class is pooled as well as the plain reference pools it") {
    const Report report = run_of(add_class, 400);
    for (const std::size_t own : {std::size_t{0}, std::size_t{3}}) {
        CHECK(cell(report, "class", own, 0).value < 1.05 * cell(report, "class", own + 1, 0).value);
        CHECK(cell(report, "class", own, 2).value < 1.15 * cell(report, "class", own + 1, 2).value);
        CHECK(cell(report, "class", own, 1).value > 0.91);
        CHECK(cell(report, "class", own, 5).value < 0.15);
    }
    check_goals(report);
}
