#include "engine/solution/acid.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/solution/base.hpp"
#include "tests/solution/kitchens.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <string>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

Base water_with(double bicarbonate_mg_per_L) {
    Base water;
    water.id = water.name = "the water";
    water.bicarbonate_mg_per_L = bicarbonate_mg_per_L;
    return water;
}

Ladder sour(double weakest) {
    return {"sour", "tartaric_acid", Scale::g_per_L, {weakest, 3.0 * weakest, 9.0 * weakest}};
}

AcidSolution some_acids(Random& random) {
    AcidSolution solution;
    for (const std::string& name : acid_names())
        if (random.uniform() < 0.5)
            solution.acids.push_back({*acid_named(name), GramsPerLitre{8.0 * random.uniform()}});
    solution.acids.push_back({*acid_named("tartaric"), GramsPerLitre{0.1}});
    solution.potassium = MillimolesPerLitre{30.0 * random.uniform()};
    solution.bicarbonate_mg_per_L = 400.0 * random.uniform();
    return solution;
}

}  // namespace

TEST_CASE("more acid lowers the pH, more potassium or hydrogen carbonate lifts it and takes acidity") {
    for (std::uint64_t seed = 0; seed < 200; ++seed) {
        CAPTURE(seed);
        Random random(Seed{seed});
        AcidSolution solution = some_acids(random);
        const Acidity before = acidity(solution);
        CHECK(before.pH > 1.5);
        CHECK(before.pH < 11.0);
        AcidSolution sourer = solution;
        sourer.acids.front().held += GramsPerLitre{1.0};
        CHECK(acidity(sourer).pH < before.pH);
        CHECK(acidity(sourer).ta_tartaric >= before.ta_tartaric);
        AcidSolution buffered = solution;
        buffered.potassium += MillimolesPerLitre{5.0};
        CHECK(acidity(buffered).pH > before.pH);
        CHECK(acidity(buffered).ta_tartaric <= before.ta_tartaric);
        AcidSolution harder = solution;
        harder.bicarbonate_mg_per_L += 100.0;
        CHECK(acidity(harder).pH > before.pH);
        // A titration can find a little more than the equivalents only by the hydroxide of its end point.
        CHECK(before.ta_tartaric_to_pH_7 <= before.ta_tartaric_to_pH_8_2);
        CHECK(before.ta_tartaric_to_pH_8_2.value <= before.ta_tartaric.value + 0.001);
    }
}

TEST_CASE("an acid given in two parts is the same acid, and a monohydrate is less of it") {
    const Acid citric = *acid_named("citric acid");
    const double whole = acidity({{{citric, GramsPerLitre{4.0}}}, {}, 0.0}).pH;
    CHECK(within(acidity({{{citric, GramsPerLitre{1.0}}, {citric, GramsPerLitre{3.0}}}, {}, 0.0}).pH, whole,
                 1e-9));
    const Acid hydrate = *acid_named("citric_acid_monohydrate");
    CHECK(within(acidity({{{hydrate, GramsPerLitre{4.0 * 210.139 / 192.123}}}, {}, 0.0}).pH, whole, 1e-9));
}

TEST_CASE("pure water is neutral, and hydrogen carbonate alone makes it a little alkaline") {
    CHECK(within(acidity({{}, {}, 0.0}).pH, 13.9965 / 2.0, 1e-4));
    CHECK(acidity({{}, {}, 0.0}, Celsius{15.0}).pH > 7.1);
    CHECK(within(acidity({{}, {}, 200.0}).pH, 8.3, 0.1));
    CHECK(acidity({{}, {}, 200.0}).ta_tartaric.value == 0.0);
}

TEST_CASE("at pH 7 a titration of citric acid finds less than its equivalents") {
    const Acidity citric = acidity({{{*acid_named("citric"), GramsPerLitre{5.0}}}, {}, 0.0});
    CHECK(citric.ta_tartaric_to_pH_7.value < 0.99 * citric.ta_tartaric.value);
    CHECK(citric.ta_tartaric_to_pH_7.value > 0.90 * citric.ta_tartaric.value);
    CHECK(citric.ta_tartaric_to_pH_8_2.value > 0.99 * citric.ta_tartaric.value);
}

TEST_CASE("a sour ladder is refused where its weakest rung would lose more than 5 %, with the remedy") {
    const Substance acid = tartaric_acid();
    const double most = most_bicarbonate_mg_per_L(acid, 0.1);
    CHECK(within(most, 0.05 * 2.0 * 0.1 / 150.087 * 61016.0, 1e-3));
    CHECK_FALSE(loss_of(acid, sour(0.1), water_with(0.99 * most)).problem);
    CHECK_FALSE(loss_of(acid, sour(0.1), water_with(0.99 * most)).warning.empty());
    CHECK(loss_of(acid, sour(0.1), water_with(0.19 * most)).warning.empty());
    const LadderLoss lost = loss_of(acid, sour(0.1), water_with(2.0 * most));
    REQUIRE(lost.problem);
    CHECK(lost.problem->where == "ladder sour");
    CHECK(lost.problem->what ==
          "loses acid: the 8.1 mg/L of hydrogen carbonate in the water neutralise 10 % of the weakest rung "
          "(0.1 g/L)");
    CHECK(lost.problem->right ==
          "a water with at most 4.1 mg/L (purified water), or a weakest rung of at least 0.20 g/L");
    // What it advises works: the stronger rung, in the same water.
    CHECK_FALSE(loss_of(acid, sour(0.2001), water_with(2.0 * most)).problem);
    // All of it gone: the remedy still is a number that works.
    CHECK(loss_of(acid, sour(0.001), water_with(200.0)).rungs.front().taken_rel == 1.0);
    CHECK(loss_of(acid, sour(0.001), water_with(200.0)).problem->right.find("at least 4.9 g/L") !=
          std::string::npos);
    CHECK_FALSE(loss_of(acid, sour(4.93), water_with(200.0)).problem);
    CHECK(loss_of(sucrose(), sour(0.1), water_with(500.0)).rungs.empty());
}

TEST_CASE("a stock's expected pH counts the base's acids, potassium and hydrogen carbonate") {
    const Substance acid = tartaric_acid();
    CHECK(within(expected_pH(water_with(0.0), acid, 5.0), 2.291, 0.003));
    CHECK(expected_pH(water_with(200.0), acid, 5.0) > 2.4);
    Base wine = water_with(0.0);
    wine.constituents.push_back({Ingredient{}, acid, GramsPerLitre{5.0}});
    wine.potassium = MillimolesPerLitre{15.0};
    wine.potassium_salt = PotassiumSalt::hydrogen_carbonate;
    CHECK(within(expected_pH(wine, sucrose(), 10.0), 2.906, 0.003));
    // Hydrogen tartrate brings its acid along: 15 mmol/L of it are 2.25 g/L more.
    wine.potassium_salt = PotassiumSalt::hydrogen_tartrate;
    CHECK(expected_pH(wine, sucrose(), 10.0) < 2.906);
    CHECK(within(held_in_base(wine, "tartaric_acid").value, 5.0 + 15.0 * 0.150087, 1e-9));
    CHECK(
        within(acidity(acid_solution(wine, sucrose(), 0.0)).ta_tartaric.value, 5.0 + 15.0 * 0.0750435, 1e-4));
}

TEST_CASE("a base is heavier for what is in it, and a level made in it too") {
    Base base = water_with(0.0);
    CHECK(within(density_of_base(base).value, 0.9982067, 1e-6));
    base.constituents.push_back({Ingredient{}, sucrose(), GramsPerLitre{100.0}});
    CHECK(within(density_of_base(base).value, 1.0366, 2e-4));
    const Substance acid = tartaric_acid();
    CHECK(within(density_in_base(acid, MassFraction{0.0}, base).value, density_of_base(base).value, 1e-9));
    CHECK(density_in_base(acid, MassFraction{0.01}, base) > density_of_base(base));
    CHECK(density_in_base(acid, MassFraction{0.01}, base, Celsius{30.0}) <
          density_in_base(acid, MassFraction{0.01}, base));
    base.ethanol = PercentVol{12.0};
    CHECK(density_of_base(base).value < 1.0366);
    CHECK(within(held_in_base(base, "ethanol").value, 94.709, 0.001));
    base.constituents.front().held = GramsPerLitre{900.0};
    CHECK_THROWS_AS(density_of_base(base), Refused);
}

TEST_CASE("absurd acids and bases are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    const Acid acid = *acid_named("tartaric");
    for (const double absurd : {nan, inf, -1.0, 1e9}) {
        CAPTURE(absurd);
        CHECK_THROWS_AS(acidity({{{acid, GramsPerLitre{absurd}}}, {}, 0.0}), Refused);
        CHECK_THROWS_AS(acidity({{}, MillimolesPerLitre{absurd}, 0.0}), Refused);
        CHECK_THROWS_AS(acidity({{}, {}, absurd}), Refused);
        CHECK_THROWS_AS(acidity({{}, {}, 0.0}, Celsius{absurd}), Refused);
        CHECK_THROWS_AS(expected_pH(water_with(absurd), tartaric_acid(), 1.0), Refused);
        CHECK_THROWS_AS(expected_pH(water_with(0.0), tartaric_acid(), absurd), Refused);
        CHECK_THROWS_AS(loss_of(tartaric_acid(), sour(0.1), water_with(absurd)), Refused);
        Base base = water_with(0.0);
        base.potassium_salt = PotassiumSalt::hydrogen_carbonate;
        base.potassium = MillimolesPerLitre{absurd};
        CHECK_THROWS_AS(density_of_base(base), Refused);
        Base sweet = water_with(0.0);
        sweet.constituents.push_back({Ingredient{}, sucrose(), GramsPerLitre{absurd}});
        CHECK_THROWS_AS(density_of_base(sweet), Refused);
    }
    CHECK_THROWS_AS(acidity({{}, MillimolesPerLitre{900.0}, 0.0}), Refused);  // past what Davies can tell
    CHECK_FALSE(acid_named("hydrochloric"));
    CHECK_FALSE(acid_named(""));
    CHECK_FALSE(acid_named(" acid"));
}
