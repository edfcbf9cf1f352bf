#include "engine/random.hpp"
#include "tests/support/within.hpp"
#include "tools/benchmark/crossing.hpp"
#include "tools/benchmark/habit_sections.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

// Certainty, graded cups and own history on simulated people, as sipladder-bench runs them. SIPLADDER_LONG=1
// asks 1000 people in place of 12.

using namespace sipladder;
using namespace sipladder::benchmark;
using sipladder::tests::within;

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

TEST_CASE(
    "cups to an RMSE are found where errors fall as cups grow, with a standard error that many runs show") {
    const std::vector<std::size_t> checkpoints = every(8, 40);
    constexpr std::size_t people = 300;
    constexpr int runs = 200;
    const auto errors_of = [&](Random random, double factor) {
        Outcome outcome;
        outcome.errors.assign(checkpoints.size(), std::vector<double>(people));
        for (std::size_t i = 0; i < people; ++i) {
            const double luck = random.normal();  // of the person, and of the moment
            for (std::size_t k = 0; k < checkpoints.size(); ++k) {
                const double cups = 3.0 * static_cast<double>(checkpoints[k]);
                const double error = 0.12 * std::sqrt(factor * 60.0 / cups);
                outcome.errors[k][i] = error * (0.8 * luck + 0.6 * random.normal());
            }
        }
        return outcome;
    };
    double sum = 0.0;
    double square = 0.0;
    double claimed = 0.0;
    for (std::uint64_t run = 0; run < runs; ++run) {
        const auto found = crossing(errors_of(Random{Seed{run}}, 1.0), checkpoints, 3.0, 0.12).cups;
        sum += found.value / runs;
        square += found.value * found.value / runs;
        claimed += found.standard_error / runs;
    }
    const double spread = std::sqrt(square - sum * sum);
    CHECK(within(sum, 60.0, 4.0 * spread / std::sqrt(runs) + 0.3));
    CHECK(within(claimed, spread, 0.0, 0.2));
    // The same people and luck, a tenth more cups for everybody: hardly any doubt is left.
    const auto one = crossing(errors_of(Random{Seed{5}}, 1.1), checkpoints, 3.0, 0.12);
    const auto other = crossing(errors_of(Random{Seed{5}}, 1.0), checkpoints, 3.0, 0.12);
    const auto more = cups_more(one, other);
    CHECK(within(more.value, 0.1 * other.cups.value, 4.0 * more.standard_error));
    CHECK(more.standard_error < 0.3 * one.cups.standard_error);
    CHECK(std::isnan(crossing(errors_of(Random{Seed{5}}, 9.0), checkpoints, 3.0, 0.12).cups.value));
}
