// What the benchmark shows with thousands of people, kept true by a few hundred: honest intervals, no more
// error than a plain method written apart, and people who break the model. SIPLADDER_LONG=1 asks 4000 and
// judges strictly.

#include "tools/benchmark/methods.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cstdlib>
#include <memory>

using namespace sipladder;
using namespace sipladder::benchmark;
using simulate::Figure;

namespace {

bool is_long() {
    return std::getenv("SIPLADDER_LONG") != nullptr;
}

/// A bounded run can only refute: it fails when a figure is beyond its goal by three standard errors.
double allowance(const Figure& figure) {
    return is_long() ? 0.0 : 3.0 * figure.standard_error;
}

Run run_of(std::size_t few) {
    Run run;
    run.people = is_long() ? 4000 : few;
    run.seed = Seed{20260201};
    return run;
}

constexpr std::array<std::size_t, 2> checkpoints{16, 32};
constexpr threshold::Grid reporting{151, 0.025, 12};

}  // namespace

TEST_CASE(
    "with the right prior the error is that of a plain method written apart, and the interval holds 95 in "
    "100") {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    const std::vector<Method> methods{own_method("own", matched_engine_prior(), levels, reporting),
                                      own_method("shipped", shipped_engine_prior(), levels, reporting),
                                      matched_reference(levels)};
    const auto found = outcomes("", {}, methods, checkpoints, run_of(250));
    for (std::size_t k = 0; k < checkpoints.size(); ++k) {
        const Figure ratio = simulate::rmse_ratio(found[0].errors[k], found[2].errors[k]);
        const Figure cost = simulate::rmse_ratio(found[1].errors[k], found[0].errors[k]);
        const Figure held = coverage_of(found[0], k);
        const Figure held_shipped = coverage_of(found[1], k);
        MESSAGE(checkpoints[k], " presentations: RMSE over the reference's ", ratio.value, " (",
                ratio.standard_error, "), coverage ", held.value, " (", held.standard_error,
                "); shipped prior: RMSE over matched ", cost.value, " (", cost.standard_error, "), coverage ",
                held_shipped.value, " (", held_shipped.standard_error, ")");
        CHECK(ratio.value <= 1.02 + allowance(ratio));
        CHECK(held.value >= 0.94 - allowance(held));
        CHECK(held.value <= 0.97 + allowance(held));
        CHECK(held_shipped.value >= 0.94 - allowance(held_shipped));
        CHECK(held_shipped.value <= 0.98 + allowance(held_shipped));
        if (checkpoints[k] == 16) CHECK(cost.value <= 1.05 + allowance(cost));
    }
}

TEST_CASE(
    "people with many lapses or a leaning to one place are still inside the interval of the shipped prior") {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    const std::vector<Method> methods{own_method("shipped", shipped_engine_prior(), levels, reporting)};
    simulate::Population lapsing;
    lapsing.lapse = 0.10;
    simulate::Population leaning;
    leaning.habits.place_bias = std::make_shared<const drills::PlaceBias>(1.0);
    for (const simulate::Population& population : {lapsing, leaning}) {
        const auto found = outcomes("", population, methods, checkpoints, run_of(150));
        for (std::size_t k = 0; k < checkpoints.size(); ++k) {
            const Figure held = coverage_of(found[0], k);
            MESSAGE("coverage ", held.value, " (", held.standard_error, ")");
            CHECK(held.value >= 0.94 - allowance(held));
        }
    }
}

TEST_CASE("the bound holds for the floor in practice, and both for this program") {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    const std::vector<Method> methods{own_method("own", matched_engine_prior(), levels, reporting),
                                      floor_in_practice()};
    const auto found = outcomes("", {}, methods, checkpoints, run_of(80));
    for (std::size_t k = 0; k < checkpoints.size(); ++k) {
        const Figure floor = simulate::rmse_of(found[1].errors[k]);
        const Figure more = simulate::rmse_ratio(found[0].errors[k], found[1].errors[k]);
        CHECK(floor.value > bound(checkpoints[k]) - 3.0 * floor.standard_error);
        CHECK(more.value > 1.0 - 3.0 * more.standard_error);
    }
    // Computed apart, for the same population (section on limits of this project's simulations): 0.127 and
    // 0.093.
    CHECK(std::abs(bound(16) - 0.127) < 0.001);
    CHECK(std::abs(bound(32) - 0.093) < 0.001);
}
