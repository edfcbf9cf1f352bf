#include "engine/solution/hydrometer.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "engine/solution/water.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

TEST_CASE("alcoholometers mean what the international tables say at other temperatures") {
    const PublishedCase by_mass = published("hydrometer.json", "alcoholometer_by_mass");
    const PublishedCase by_volume = published("hydrometer.json", "alcoholometer_by_volume");
    const PublishedCase by_density = published("hydrometer.json", "float_marked_in_density");
    CAPTURE(by_mass.source_text());
    std::vector<double> mass, volume, density;
    for (std::size_t i = 0; i < by_mass.data("degC").size(); ++i) {
        const double reading = by_mass.data("reading_pct_mass").numbers()[i];
        mass.push_back(100.0 * mass_fraction_from_alcoholometer(MassFraction{reading / 100.0},
                                                                Celsius{by_mass.data("degC").numbers()[i]})
                                   .value);
    }
    for (std::size_t i = 0; i < by_volume.data("degC").size(); ++i)
        volume.push_back(
            strength_from_alcoholometer(PercentVol{by_volume.data("reading_pct_vol").numbers()[i]},
                                        Celsius{by_volume.data("degC").numbers()[i]})
                .value);
    for (std::size_t i = 0; i < by_density.data("degC").size(); ++i) {
        const Celsius at{by_density.data("degC").numbers()[i]};
        const GramsPerMillilitre reading{by_density.data("reading_kg_per_m3").numbers()[i] / 1000.0};
        density.push_back(100.0 * mass_fraction_from_density(density_from_float(reading, at), at).value);
    }
    CHECK(within(mass, by_mass.expected("pct_mass")));
    CHECK(within(volume, by_volume.expected("pct_vol")));
    CHECK(within(density, by_density.expected("pct_mass")));
}

TEST_CASE("reading an alcoholometer and predicting it are each other's inverse, wherever it floats") {
    for (int t = -20; t <= 40; t += 5) {
        const Celsius at{1.0 * t};
        for (const double strength : {40.0, 60.0, 80.0}) {
            CAPTURE(t);
            const PercentVol shown = alcoholometer_reading(PercentVol{strength}, at);
            CHECK(within(strength_from_alcoholometer(shown, at).value, strength, 1e-9));
            const MassFraction by_mass = alcoholometer_reading_by_mass(MassFraction{strength / 100.0}, at);
            CHECK(within(mass_fraction_from_alcoholometer(by_mass, at).value, strength / 100.0, 1e-11));
            if (t > 20) CHECK(shown.value > strength);
            if (t < 20) CHECK(shown.value < strength);
        }
    }
    CHECK(within(alcoholometer_reading(PercentVol{40.0}, Celsius{20.0}).value, 40.0, 1e-9));
}

TEST_CASE("Brix and Plato from specific gravity follow the cubics in use and the density formula") {
    const PublishedCase brix = published("hydrometer.json", "brix_from_apparent_sg");
    const PublishedCase plato = published("hydrometer.json", "plato_from_apparent_sg");
    std::vector<double> of_brix, of_plato;
    for (const double sg : brix.data("sg").numbers())
        of_brix.push_back(brix_from_apparent_sg_20_20(sg).value);
    for (const double sg : plato.data("sg").numbers()) of_plato.push_back(plato_from_apparent_sg_20_20(sg));
    CHECK(within(of_brix, brix.expected("brix")));
    CHECK(within(of_plato, plato.expected("plato")));
    for (double w = 0.0; w <= 0.40; w += 0.01) {
        const double sg = apparent_sg_20_20_from_mass_fraction(MassFraction{w});
        if (sg <= 1.17874) CHECK(within(brix_from_apparent_sg_20_20(sg).value, 100.0 * w, 0.023));
    }
}

TEST_CASE("a refractometer for sucrose shows its mass percent, and a must table is not one for sucrose") {
    const PublishedCase polynomial = published("hydrometer.json", "brix_from_refractive_index");
    const PublishedCase table = published("hydrometer.json", "refractive_index_table");
    std::vector<double> by_polynomial, by_table;
    for (const double n : polynomial.data("n").numbers())
        by_polynomial.push_back(brix_from_refractive_index(n).value);
    for (const double n : table.data("n").numbers()) by_table.push_back(brix_from_refractive_index(n).value);
    CHECK(within(by_polynomial, polynomial.expected("brix")));
    CHECK(within(by_table, table.expected("brix")));
    const PublishedCase must = published("hydrometer.json", "must_is_not_sucrose");
    CAPTURE(must.source_text());
    Substance sucrose, glucose, acid;
    sucrose.density_model = DensityModel::sucrose;
    glucose.density_model = acid.density_model = DensityModel::apparent_volume;
    glucose.id = "glucose";
    acid.id = "citric_acid";
    std::vector<double> held;
    for (std::size_t i = 0; i < must.data("brix").size(); ++i) {
        const MassFraction w = mass_fraction_from_brix(Brix{must.data("brix").numbers()[i]});
        const auto shown = refractometer_reading(sucrose, w);
        REQUIRE(shown);
        CHECK(within(shown->shown.value, must.data("brix").numbers()[i], 1e-12));
        held.push_back(sucrose_held(w, Celsius{20.0}).value);
        CHECK(held.back() > 1.15 * must.data("must_g_per_L").numbers()[i]);
    }
    CHECK(within(held, must.expected("sucrose_g_per_L")));
    REQUIRE(refractometer_reading(glucose, MassFraction{0.1}));
    CHECK(refractometer_reading(glucose, MassFraction{0.1})->within.value > 0.1);
    CHECK_FALSE(refractometer_reading(acid, MassFraction{0.05}));
}

TEST_CASE("a balance shows a little less than the true mass of water") {
    const PublishedCase c = published("hydrometer.json", "water_weighed_in_air");
    CAPTURE(c.source_text());
    std::vector<double> shown;
    for (const double t : c.data("degC").numbers()) {
        const GramsPerMillilitre density = density_of_water(Celsius{t});
        shown.push_back(shown_in_air(density * Millilitres{1.0}, density).value);
    }
    CHECK(within(shown, c.expected("shown_g_per_mL")));
    CHECK(shown_in_air(Grams{5.0}, GramsPerMillilitre{8.0}) == Grams{5.0});
}

TEST_CASE("any hydrometer reading of a stock can be foretold, warm or cold") {
    Substance salt;
    salt.density_model = DensityModel::apparent_volume;
    salt.apparent_volume_mL_per_g = 0.31;
    Substance sucrose;
    sucrose.density_model = DensityModel::sucrose;
    CHECK(within(sg_reading(salt, MassFraction{0.0}), 1.0, 1e-12));
    CHECK(sg_reading(salt, MassFraction{0.05}) > 1.03);
    for (const double t : {15.0, 20.0, 25.0})
        CHECK(within(sg_reading(sucrose, MassFraction{0.096464}, Celsius{t}),
                     hydrometer_reading(MassFraction{0.096464}, Celsius{t}), 1e-9));
}

TEST_CASE("absurd readings are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double absurd : {nan, -1.0, 120.0, 1e9, std::numeric_limits<double>::infinity()}) {
        CAPTURE(absurd);
        CHECK_THROWS_AS(strength_from_alcoholometer(PercentVol{absurd}, Celsius{20.0}), Refused);
        CHECK_THROWS_AS(alcoholometer_reading(PercentVol{absurd}, Celsius{20.0}), Refused);
        CHECK_THROWS_AS(alcoholometer_reading_by_mass(MassFraction{absurd}, Celsius{20.0}), Refused);
        CHECK_THROWS_AS(mass_fraction_from_alcoholometer(MassFraction{absurd}, Celsius{20.0}), Refused);
        CHECK_THROWS_AS(float_reading(GramsPerMillilitre{absurd}, Celsius{20.0}), Refused);
        CHECK_THROWS_AS(density_from_float(GramsPerMillilitre{absurd}, Celsius{20.0}), Refused);
        CHECK_THROWS_AS(brix_from_apparent_sg_20_20(absurd), Refused);
        CHECK_THROWS_AS(plato_from_apparent_sg_20_20(absurd), Refused);
        CHECK_THROWS_AS(brix_from_refractive_index(absurd), Refused);
        CHECK_THROWS_AS(refractometer_reading(Substance{}, MassFraction{absurd}), Refused);
        CHECK_THROWS_AS(shown_in_air(Grams{1.0}, GramsPerMillilitre{absurd}), Refused);
        CHECK_THROWS_AS(density_of_air_saturated_water(Celsius{absurd}), Refused);
    }
    CHECK_THROWS_AS(alcoholometer_reading(PercentVol{40.0}, Celsius{120.0}), Refused);
    CHECK_THROWS_AS(alcoholometer_reading(PercentVol{40.0}, Celsius{nan}), Refused);
    CHECK_THROWS_AS(shown_in_air(Grams{nan}, GramsPerMillilitre{1.0}), Refused);
    CHECK_THROWS_AS(brix_from_apparent_sg_20_20(1.2), Refused);
    CHECK_THROWS_AS(plato_from_apparent_sg_20_20(1.15), Refused);
    // Warm water is lighter than any mark of the scale below zero strength.
    CHECK_THROWS_AS(alcoholometer_reading(PercentVol{0.0}, Celsius{4.0}), Refused);
}
