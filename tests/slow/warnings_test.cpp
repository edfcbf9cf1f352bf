// Nobody heeds a warning that cries without cause: at most 5 in 100 ordinary sittings see any one of them.
// And one that never comes is no warning. SIPLADDER_LONG=1 asks 4000 people in place of 300.

#include "tools/benchmark/accuracy.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>

using namespace sipladder;
using namespace sipladder::benchmark;

TEST_CASE("warnings seldom come without cause, and come with it") {
    const bool is_long = std::getenv("SIPLADDER_LONG") != nullptr;
    Run run;
    run.people = is_long ? 4000 : 120;
    run.seed = Seed{20260202};
    Report report;
    add_warnings(report, run);
    for (const Goal& goal : report.goals) {
        const double allowance = is_long ? 0.0 : 3.0 * std::max(goal.measured.standard_error, 0.02);
        CAPTURE(goal.what);
        CHECK(goal.measured.value <= 0.05 + allowance);
    }
    const Table& power = report.tables.back();
    REQUIRE(power.id == "power");
    for (const Row& row : power.rows) {
        if (row.name.starts_with(' ')) continue;
        MESSAGE(row.name, ": ", row.cells.front()->value, " after 12, ", row.cells.back()->value,
                " after 48");
        const bool sure = row.name.starts_with("cannot taste") || row.name.starts_with("tastes the weakest");
        CHECK(row.cells.back()->value > (sure ? 0.6 : 0.0));
    }
}
