#include "tools/benchmark/habit_sections.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <string>

// Certainty, graded cups and own history on simulated people, as sipladder-bench runs them. SIPLADDER_LONG=1
// asks 1000 people in place of 12.

using namespace sipladder;
using namespace sipladder::benchmark;

namespace {

Report report_of(void (*section)(Report&, const Run&)) {
    Run run;
    run.people = std::getenv("SIPLADDER_LONG") != nullptr ? 1000 : 12;
    Report report;
    section(report, run);
    return report;
}

/// Columns that begin with `what`, of every row of this program's own fit.
template <class Check>
void every_own(const Report& report, const std::string& what, Check check) {
    std::size_t seen = 0;
    for (const Table& table : report.tables)
        for (const Row& row : table.rows)
            for (std::size_t i = 0; i < table.columns.size(); ++i)
                if (row.name.find("Sipladder") != std::string::npos && table.columns[i].starts_with(what)) {
                    INFO(row.name, ", ", table.columns[i], ": ", row.cells[i]->value);
                    check(*row.cells[i]);
                    ++seen;
                }
    CHECK(seen > 0);
}

void check_section(void (*section)(Report&, const Run&)) {
    const Report report = report_of(section);
    every_own(report, "coverage", [](const simulate::Figure& coverage) {
        // Below the goal by no more than luck, whatever the number of people.
        CHECK(coverage.value >= 0.93 - 3.0 * std::max(coverage.standard_error, 0.005));
    });
    every_own(report, "RMSE", [](const simulate::Figure& rmse) { CHECK(rmse.value < 0.35); });
}

}  // namespace

TEST_CASE("thresholds with certainty hold the truth, for certainty of every kind") {
    check_section(add_certainty);
}

TEST_CASE("quick looks hold the truth, with cuts that wander and with noise that grows") {
    check_section(add_quick_look);
}

TEST_CASE("a person who comes back gets an interval that holds the truth") {
    check_section(add_history);
}
