#include "engine/solution/ladder.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/solution/recipe.hpp"
#include "engine/solution/usual_ladders.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;

namespace {

Ladder sugar(std::vector<double> targets) {
    return Ladder("sugar", "sucrose", Scale::g_per_L, std::move(targets));
}

}  // namespace

TEST_CASE("a ladder refuses levels that do not ascend from above zero") {
    CHECK_NOTHROW(sugar({1.0, 2.0}));
    CHECK_THROWS_AS(sugar({1.0}), Refused);
    CHECK_THROWS_AS(sugar({}), Refused);
    CHECK_THROWS_AS(sugar({1.0, 1.0}), Refused);
    CHECK_THROWS_AS(sugar({2.0, 1.0}), Refused);
    CHECK_THROWS_AS(sugar({0.0, 1.0}), Refused);
    CHECK_THROWS_AS(sugar({1.0, std::numeric_limits<double>::infinity()}), Refused);
    CHECK_THROWS_AS(sugar({std::numeric_limits<double>::quiet_NaN(), 1.0}), Refused);
    CHECK_THROWS_AS(sugar(std::vector<double>(41, 1.0)), Refused);
    CHECK_THROWS_AS(Ladder("spirit", "ethanol", Scale::pct_vol, {50.0, 101.0}), Refused);
}

TEST_CASE("a ladder around a centre has its ratio and its geometric middle") {
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
        Random random(Seed{seed});
        const double centre = std::pow(10.0, -2.0 + 3.0 * random.uniform());
        const Ladder ladder = ladder_around("x", "sucrose", Scale::g_per_L, centre, 6, 3.0);
        CAPTURE(seed);
        const std::vector<double>& levels = ladder.targets();
        REQUIRE(levels.size() == 6);
        double logs = 0.0;
        for (std::size_t i = 0; i < levels.size(); ++i) {
            logs += std::log10(levels[i]);
            if (i > 0) CHECK(std::abs(std::log(levels[i] / levels[i - 1] / 3.0)) < 0.1);  // two digits each
        }
        CHECK(std::abs(logs / 6.0 - std::log10(centre)) < 0.022);
    }
}

TEST_CASE("a ladder around nothing is refused") {
    CHECK_THROWS_AS(ladder_around("x", "sucrose", Scale::g_per_L, 0.0, 6, 3.0), Refused);
    CHECK_THROWS_AS(ladder_around("x", "sucrose", Scale::g_per_L, 1.0, 1, 3.0), Refused);
    CHECK_THROWS_AS(ladder_around("x", "sucrose", Scale::g_per_L, 1.0, 6, 1.0), Refused);
    CHECK_THROWS_AS(ladder_around("x", "ethanol", Scale::pct_vol, 30.0, 6, 3.0), Refused);
}

TEST_CASE(
    "the first ladder is six of ratio 3 around the assumed centre, the next five of 2 around what was "
    "found") {
    Substance sugar;
    sugar.id = "sucrose";
    sugar.prior.centre = 2.3;
    sugar.strongest_cup = 200.0;
    const Ladder first = first_ladder(sugar);
    REQUIRE(first.size() == 6);
    CHECK(std::abs(first.targets().back() / first.targets().front() / 243.0 - 1.0) < 0.05);
    CHECK(std::abs(std::sqrt(first.targets().front() * first.targets().back()) / 2.3 - 1.0) < 0.05);
    const Ladder fine = first_ladder(sugar, Rungs::eight_of_two);
    REQUIRE(fine.size() == 8);
    CHECK(std::abs(fine.targets().back() / fine.targets().front() / 128.0 - 1.0) < 0.05);
    const Ladder next = next_ladder(sugar, 1.4);
    REQUIRE(next.size() == 5);
    CHECK(next.targets()[2] == 1.4);
    CHECK(next.targets()[4] == 5.6);
    sugar.strongest_cup = 20.0;
    CHECK(first_ladder(sugar).targets().back() <= 20.0);
    CHECK(std::abs(first_ladder(sugar).targets()[5] / first_ladder(sugar).targets()[4] - 3.0) < 0.2);
    CHECK_THROWS_AS(next_ladder(sugar, -1.0), Refused);
    CHECK_THROWS_AS(next_ladder(sugar, std::numeric_limits<double>::quiet_NaN()), Refused);
}

TEST_CASE("every rung holds six tenths of the presentations, with rinse and spare, for everybody") {
    Demand demand;
    CHECK(portions_needed(demand, 0) == 8);  // 0.6 of 12, rounded up
    CHECK(std::abs(volume_needed(demand, 0).value - 1.1 * (8 * 10.0 + 2.0)) < 1e-9);
    CHECK(portions_from(demand, volume_needed(demand, 0)) == 8);
    demand.people = 40;
    CHECK(portions_needed(demand, 0) == 320);
    CHECK(portions_from(demand, volume_needed(demand, 0)) == 320);
    demand.presentations = 5;
    demand.people = 1;
    CHECK(portions_needed(demand, 0) == 3);
    demand.of_rung = {9, 5};
    CHECK(portions_needed(demand, 0) == 9);
    CHECK(std::abs(largest_volume_needed(demand, 2).value - 1.1 * (9 * 10.0 + 2.0)) < 1e-9);
    CHECK(portions_from(demand, volume_needed(demand, 1)) == 5);
}
