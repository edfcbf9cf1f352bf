#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/solution/acid.hpp"
#include "engine/solution/convert.hpp"
#include "engine/solution/dilution.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "tests/solution/kitchens.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

using namespace sipladder;
using namespace sipladder::tests;

TEST_CASE("strength by volume and mass fraction are each other's inverse") {
    for (std::uint64_t seed = 0; seed < 500; ++seed) {
        Random random(Seed{seed});
        const double strength = 100.0 * random.uniform();
        const double t = 40.0 * random.uniform();
        CAPTURE(seed);
        const MassFraction p = mass_fraction_from_strength(PercentVol{strength});
        CHECK(within(strength_from_mass_fraction(p).value, strength, 1e-11));
        CHECK(within(mass_fraction_from_density(density_of_ethanol_water(p, Celsius{t}), Celsius{t}).value,
                     p.value, 1e-11));
        CHECK(within(ethanol_from_held(held_from_mass_fraction(ethanol(), p, Celsius{t}), Celsius{t}).value,
                     p.value, 1e-12));
        const double w = 0.85 * random.uniform();
        CHECK(within(mass_fraction_from_sg_20_20(sg_20_20_from_mass_fraction(MassFraction{w})).value, w,
                     1e-12));
        CHECK(within(
            mass_fraction_from_apparent_sg_20_20(apparent_sg_20_20_from_mass_fraction(MassFraction{w})).value,
            w, 1e-12));
        CHECK(within(
            sucrose_from_density(density_of_sucrose_water(MassFraction{w}, Celsius{t}), Celsius{t}).value, w,
            1e-12));
    }
    CHECK(mass_fraction_from_strength(PercentVol{0.0}) == MassFraction{0.0});
    CHECK(mass_fraction_from_strength(PercentVol{100.0}) == MassFraction{1.0});
}

TEST_CASE("strength rises with mass fraction and density falls, at every temperature that is liquid") {
    for (int t = -20; t <= 40; ++t) {
        const double from = weakest_liquid(Celsius{1.0 * t}).value;
        double before = 2.0;
        for (int step = 0; step <= 200; ++step) {
            const double p = std::lerp(from, 1.0, step / 200.0);
            const double density = density_of_ethanol_water(MassFraction{p}, Celsius{1.0 * t}).value;
            CHECK(density < before);
            before = density;
        }
    }
}

TEST_CASE("any unit converts to any other that fits and back") {
    const Substance sugar = sucrose(), acid = tartaric_acid(), alcohol = ethanol();
    for (const Substance* substance : {&sugar, &acid, &alcohol}) {
        for (const std::string& from_name : unit_names())
            for (const std::string& to_name : unit_names()) {
                const Unit from = *unit_from_name(from_name);
                const Unit to = *unit_from_name(to_name);
                const auto fits = [&](Unit unit) {
                    return (unit != Unit::pct_vol || substance == &alcohol) &&
                           (unit != Unit::brix || substance == &sugar) &&
                           (unit != Unit::ta_tartaric_g_per_L || substance == &acid);
                };
                if (!fits(from) || !fits(to)) continue;
                CAPTURE(from_name);
                CAPTURE(to_name);
                for (const double pct_mass : {0.5, 7.0, 30.0}) {
                    const double value =
                        convert(pct_mass, Unit::pct_mass, from, substance, Celsius{25.0}).value;
                    const double there = convert(value, from, to, substance, Celsius{25.0}).value;
                    CHECK(within(convert(there, to, from, substance, Celsius{25.0}).value, value, 0.0, 1e-9));
                }
            }
    }
}

TEST_CASE("strength by volume is defined at 20 degC, whatever the room says") {
    for (const double t : {0.0, 15.0, 30.0, 40.0})
        CHECK(within(convert(40.0, Unit::pct_vol, Unit::pct_mass, nullptr, Celsius{t}).value, 33.2996, 5e-5));
    // Grams in a litre are counted in the litre of the room.
    CHECK(convert(40.0, Unit::pct_vol, Unit::g_per_L, nullptr, Celsius{30.0}).value < 315.0);
}

TEST_CASE("what is counted in a litre converts without any density") {
    const Substance acid = tartaric_acid();
    CHECK(within(convert(150.087, Unit::g_per_L, Unit::mmol_per_L, &acid, Celsius{5.0}).value, 1000.0, 0.0,
                 1e-4));
    CHECK(convert(7.0, Unit::g_per_L, Unit::ta_tartaric_g_per_L, &acid).value == 7.0);
    const Substance lactic = substance_of(*acid_named("lactic"));
    CHECK(within(convert(900.78, Unit::g_per_L, Unit::mmol_per_L, &lactic).value, 10000.0, 1e-6));
    CHECK(within(convert(1.0, Unit::g_per_L, Unit::ta_tartaric_g_per_L, &lactic).value, 0.8331, 5e-5));
    CHECK(within(convert(6.0, Unit::ta_tartaric_g_per_L, Unit::mmol_per_L, nullptr).value, 39.977, 5e-4));
}

TEST_CASE("density does not tell the strength of strong acetic acid") {
    const Substance acetic = substance_of(*acid_named("acetic"));
    CHECK(within(convert(1.0052e3, Unit::kg_per_m3, Unit::pct_mass, &acetic).value, 5.0, 0.05));
    CHECK_THROWS_AS(convert(1.0562e3, Unit::kg_per_m3, Unit::pct_mass, &acetic), Refused);
    CHECK_THROWS_AS(convert(50.0, Unit::pct_mass, Unit::g_per_L, &acetic), Refused);
}

TEST_CASE("impossible conversions are refused with a reason") {
    const Substance sugar = sucrose(), acid = tartaric_acid(), alcohol = ethanol();
    Substance tannin = tartaric_acid();
    tannin.molar_mass = GramsPerMole{0.0};
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(convert(120.0, Unit::pct_vol, Unit::pct_mass, nullptr), Refused);
    CHECK_THROWS_AS(convert(-1.0, Unit::pct_vol, Unit::pct_mass, nullptr), Refused);
    CHECK_THROWS_AS(convert(nan, Unit::pct_vol, Unit::pct_mass, nullptr), Refused);
    CHECK_THROWS_AS(convert(120.0, Unit::pct_vol, Unit::pct_vol, nullptr), Refused);
    CHECK_THROWS_AS(convert(10.0, Unit::g_per_L, Unit::pct_mass, nullptr), Refused);
    CHECK_THROWS_AS(convert(10.0, Unit::pct_vol, Unit::brix, nullptr), Refused);
    CHECK_THROWS_AS(convert(10.0, Unit::pct_vol, Unit::g_per_L, &sugar), Refused);
    CHECK_THROWS_AS(convert(10.0, Unit::brix, Unit::g_per_L, &alcohol), Refused);
    CHECK_THROWS_AS(convert(10.0, Unit::g_per_L, Unit::mmol_per_L, &tannin), Refused);
    CHECK_THROWS_AS(convert(10.0, Unit::g_per_L, Unit::ta_tartaric_g_per_L, &sugar), Refused);
    for (const double absurd : {nan, -1.0, 1e9, std::numeric_limits<double>::infinity()})
        for (const Unit unit : {Unit::pct_mass, Unit::g_per_L, Unit::mmol_per_L, Unit::ta_tartaric_g_per_L,
                                Unit::sg_20_20, Unit::kg_per_m3})
            CHECK_THROWS_AS(convert(absurd, unit, Unit::g_per_L, &acid), Refused);
    CHECK_THROWS_AS(convert(800.0, Unit::g_per_L, Unit::pct_mass, &acid), Refused);
    CHECK_THROWS_AS(convert(0.9, Unit::sg_20_20, Unit::brix, nullptr), Refused);
    CHECK_THROWS_AS(convert(10.0, Unit::brix, Unit::g_per_L, nullptr, Celsius{60.0}), Refused);
    CHECK_FALSE(unit_from_name("pct"));
    CHECK_THROWS_AS(density_of_ethanol_water(MassFraction{0.1}, Celsius{-10.0}), Refused);
}

TEST_CASE("a dilution conserves mass to the last bit and ethanol to the last digits") {
    for (std::uint64_t seed = 0; seed < 500; ++seed) {
        Random random(Seed{seed});
        const PercentVol from{1.0 + 95.0 * random.uniform()};
        const PercentVol to{from.value * (0.01 + 0.99 * random.uniform())};
        const Celsius at{40.0 * random.uniform()};
        const Dilution d = dilute(from, to, Millilitres{1.0 + 2000.0 * random.uniform()}, at);
        CAPTURE(seed);
        CHECK(d.total_g == d.from_g + d.water_g);
        CHECK(within(d.from_g.value * mass_fraction_from_strength(from).value,
                     d.total_g.value * mass_fraction_from_strength(to).value, 0.0, 1e-12));
        const Millilitres lost = contraction(d.from_mL, from, d.water_mL, at);
        CHECK(within(d.volume_change_mL.value, -lost.value, 1e-8));
    }
}

TEST_CASE("impossible dilutions are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(dilute(PercentVol{40.0}, PercentVol{50.0}, Millilitres{100.0}), Refused);
    CHECK_THROWS_AS(dilute(PercentVol{120.0}, PercentVol{50.0}, Millilitres{100.0}), Refused);
    CHECK_THROWS_AS(dilute(PercentVol{40.0}, PercentVol{0.0}, Millilitres{100.0}), Refused);
    CHECK_THROWS_AS(dilute(PercentVol{40.0}, PercentVol{12.0}, Millilitres{0.0}), Refused);
    CHECK_THROWS_AS(dilute(PercentVol{40.0}, PercentVol{12.0}, Millilitres{nan}), Refused);
    CHECK_THROWS_AS(dilute(PercentVol{nan}, PercentVol{12.0}, Millilitres{100.0}), Refused);
    CHECK_THROWS_AS(dilute(PercentVol{40.0}, PercentVol{12.0}, Millilitres{100.0}, Celsius{-5.0}), Refused);
    CHECK_THROWS_AS(dilute(tartaric_acid(), GramsPerLitre{900.0}, GramsPerLitre{1.0}, Millilitres{100.0}),
                    Refused);
}
