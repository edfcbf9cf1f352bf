#include "engine/solution/water.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

namespace {

double kg_per_m3(double degC) {
    return 1000.0 * density_of_water(Celsius{degC}).value;
}

}  // namespace

TEST_CASE("density of water follows the recommended table") {
    const PublishedCase c = published("water.json", "water_table");
    CAPTURE(c.source_text());
    std::vector<double> got;
    for (const double t : c.data("degC").numbers()) got.push_back(kg_per_m3(t));
    CHECK(within(got, c.expected("kg_per_m3")));
    const PublishedCase at_20 = published("water.json", "water_at_20");
    CHECK(within(kg_per_m3(at_20.data("degC").number()), at_20.expected("kg_per_m3")));
}

TEST_CASE("water is densest where the paper says") {
    const PublishedCase c = published("water.json", "water_maximum_density");
    CAPTURE(c.source_text());
    double densest = 0.0;
    for (double t = 3.0; t < 5.0; t += 0.0001)
        if (kg_per_m3(t) > kg_per_m3(densest)) densest = t;
    CHECK(within(densest, c.expected("degC")));
    CHECK(within(kg_per_m3(densest), c.expected("kg_per_m3")));
}

TEST_CASE("each published formula keeps its own water") {
    const PublishedCase c = published("water.json", "water_of_three_formulas");
    CAPTURE(c.source_text());
    std::vector<double> tanaka, oiml, icumsa;
    for (const double t : c.data("degC").numbers()) {
        tanaka.push_back(kg_per_m3(t));
        oiml.push_back(1000.0 * density_of_ethanol_water(MassFraction{0.0}, Celsius{t}).value);
        icumsa.push_back(1000.0 * density_of_sucrose_water(MassFraction{0.0}, Celsius{t}).value);
    }
    CHECK(within(tanaka, c.expected("tanaka_kg_per_m3")));
    CHECK(within(oiml, c.expected("oiml_kg_per_m3")));
    CHECK(within(icumsa, c.expected("icumsa_kg_per_m3")));
}

TEST_CASE("air makes water a hair lighter, never heavier") {
    const PublishedCase c = published("water.json", "air_saturated_water");
    CAPTURE(c.source_text());
    std::vector<double> difference;
    for (const double t : c.data("degC").numbers())
        difference.push_back(
            1000.0 * (density_of_air_saturated_water(Celsius{t}) - density_of_water(Celsius{t})).value);
    CHECK(within(difference, c.expected("difference_kg_per_m3")));
    CHECK_THROWS_AS(density_of_air_saturated_water(Celsius{25.1}), Refused);
}

TEST_CASE("water, wine and spirit swell with warmth as computed") {
    const PublishedCase c = published("water.json", "thermal_expansion");
    CAPTURE(c.source_text());
    const Celsius from{c.data("from_degC").number()};
    const auto swollen = [&](PercentVol strength, double t) {
        const MassFraction p = mass_fraction_from_strength(strength);
        return 100.0 * (density_of_ethanol_water(p, from) / density_of_ethanol_water(p, Celsius{t}) - 1.0);
    };
    std::vector<double> water, wine, spirit;
    for (const double t : c.data("to_degC").numbers()) {
        water.push_back(100.0 * (density_of_water(from) / density_of_water(Celsius{t}) - 1.0));
        wine.push_back(swollen(PercentVol{c.data("wine_pct_vol").number()}, t));
        spirit.push_back(swollen(PercentVol{c.data("spirit_pct_vol").number()}, t));
    }
    CHECK(within(water, c.expected("water_percent")));
    CHECK(within(wine, c.expected("wine_percent")));
    CHECK(within(spirit, c.expected("spirit_percent")));
}

TEST_CASE("water outside 0 to 40 degC is refused") {
    CHECK_THROWS_AS(density_of_water(Celsius{-0.1}), Refused);
    CHECK_THROWS_AS(density_of_water(Celsius{40.1}), Refused);
    CHECK_THROWS_AS(density_of_water(Celsius{std::nan("")}), Refused);
}
