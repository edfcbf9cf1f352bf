#include "engine/solution/water.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>

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

TEST_CASE("water outside 0 to 40 degC is refused") {
    CHECK_THROWS_AS(density_of_water(Celsius{-0.1}), Refused);
    CHECK_THROWS_AS(density_of_water(Celsius{40.1}), Refused);
    CHECK_THROWS_AS(density_of_water(Celsius{std::nan("")}), Refused);
}
