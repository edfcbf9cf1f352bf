#include "engine/solution/convert.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

namespace {

constexpr Celsius at_20{20.0};

PublishedCase of(const std::string& id) {
    return published("sucrose.json", id);
}

double kg_per_m3(double brix, double degC = 20.0) {
    return 1000.0 * density_of_sucrose_water(MassFraction{brix / 100.0}, Celsius{degC}).value;
}

template <class Function>
std::vector<double> each(const PublishedValue& values, const Function& function) {
    std::vector<double> results;
    for (const double value : values.numbers()) results.push_back(function(value));
    return results;
}

}  // namespace

TEST_CASE("density of sucrose and water follows the ICUMSA formula and the tables of others") {
    for (const char* id : {"formula", "handbook", "teaching_table"}) {
        const PublishedCase c = of(id);
        CAPTURE(c.source_text());
        const double t = c.data().has("degC") ? c.data("degC").number() : 20.0;
        CHECK(within(each(c.data("brix"), [t](double brix) { return kg_per_m3(brix, t); }),
                     c.expected("kg_per_m3")));
    }
}

TEST_CASE("a table of degrees Brix gives density, grams per litre and both specific gravities") {
    const PublishedCase c = of("table_at_20");
    CAPTURE(c.source_text());
    const PublishedValue brix = c.data("brix");
    CHECK(within(each(brix, [](double b) { return kg_per_m3(b); }), c.expected("kg_per_m3")));
    CHECK(within(each(brix, [](double b) { return sucrose_held(MassFraction{b / 100.0}, at_20).value; }),
                 c.expected("g_per_L")));
    CHECK(within(each(brix, [](double b) { return sg_20_20_from_mass_fraction(MassFraction{b / 100.0}); }),
                 c.expected("sg_20_20")));
    CHECK(within(
        each(brix, [](double b) { return apparent_sg_20_20_from_mass_fraction(MassFraction{b / 100.0}); }),
        c.expected("sg_20_20_apparent")));
}

TEST_CASE("density of sucrose and water at other temperatures") {
    const PublishedCase c = of("temperatures");
    CAPTURE(c.source_text());
    const auto rows = c.expected("kg_per_m3").value.rows();
    REQUIRE(rows.size() == c.data("brix").size());
    for (std::size_t i = 0; i < rows.size(); ++i)
        for (std::size_t j = 0; j < rows[i].size(); ++j)
            CHECK(within(kg_per_m3(c.data("brix").numbers()[i], c.data("degC").numbers()[j]), rows[i][j],
                         c.expected("kg_per_m3").abs));
}

TEST_CASE("specific gravity agrees with a fit to other tables") {
    const PublishedCase c = of("second_formula");
    CAPTURE(c.source_text());
    CHECK(within(
        each(c.data("brix"), [](double b) { return convert(b, Unit::brix, Unit::sg_20_20, nullptr).value; }),
        c.expected("sg_20_20")));
}

TEST_CASE("grams per litre become degrees Brix, density and water needed") {
    const PublishedCase c = of("brix_from_g_per_L");
    CAPTURE(c.source_text());
    const auto brix = [](double held) {
        return brix_from_mass_fraction(mass_fraction_from_sucrose_held(GramsPerLitre{held}, at_20)).value;
    };
    CHECK(within(each(c.data("g_per_L"), brix), c.expected("brix")));
    CHECK(within(each(c.data("g_per_L"), [&](double held) { return kg_per_m3(brix(held)); }),
                 c.expected("kg_per_m3")));
    CHECK(within(each(c.data("g_per_L"), [&](double held) { return kg_per_m3(brix(held)) - held; }),
                 c.expected("water_g_per_L")));
}

TEST_CASE("a gram of sugar takes the published volume in solution") {
    const PublishedCase c = of("apparent_specific_volume");
    CAPTURE(c.source_text());
    const auto volume = [](double brix) {
        const double solution_mL = 100.0 / kg_per_m3(brix) * 1000.0;
        const double water_mL = (100.0 - brix) / kg_per_m3(0.0) * 1000.0;
        return (solution_mL - water_mL) / brix;
    };
    CHECK(within(each(c.data("brix"), volume), c.expected("mL_per_g")));
}

TEST_CASE("a hydrometer in a stock of 100 g per litre reads as computed at three temperatures") {
    const PublishedCase c = of("hydrometer");
    CAPTURE(c.source_text());
    const MassFraction w = mass_fraction_from_sucrose_held(GramsPerLitre{c.data("g_per_L").number()}, at_20);
    CHECK(within(each(c.data("degC"), [&w](double t) { return hydrometer_reading(w, Celsius{t}); }),
                 c.expected("sg_reading")));
}

TEST_CASE("half a litre of stock of 100 g per litre") {
    const PublishedCase c = of("stock_of_100_g_per_L");
    CAPTURE(c.source_text());
    const GramsPerLitre held{c.data("g_per_L").number()};
    const Millilitres volume{c.data("mL").number()};
    const MassFraction w = mass_fraction_from_sucrose_held(held, at_20);
    const Grams total = density_of_sucrose_water(w, at_20) * volume;
    CHECK(within(total.value, c.expected("total_g")));
    CHECK(within((total - held * volume).value, c.expected("water_g")));
    CHECK(within(1000.0 * density_of_sucrose_water(w, at_20).value, c.expected("kg_per_m3")));
    CHECK(within(brix_from_mass_fraction(w).value, c.expected("brix")));
    CHECK(within(sg_20_20_from_mass_fraction(w), c.expected("sg_20_20")));
    CHECK(within(apparent_sg_20_20_from_mass_fraction(w), c.expected("sg_20_20_apparent")));
}

TEST_CASE("saturated sugar water has the tabulated mass percent, and no stock may be stronger") {
    const PublishedCase c = published("sucrose.json", "saturation");
    CAPTURE(c.source_text());
    std::vector<double> pct_mass;
    for (const double g : c.data("g_per_100_g_water").numbers()) pct_mass.push_back(100.0 * g / (100.0 + g));
    CHECK(within(pct_mass, c.expected("pct_mass")));
    // At 20 degC: the g/L of that mass percent, by the formula of density.
    CHECK(sucrose_held(MassFraction{0.01 * pct_mass[2]}, Celsius{20.0}).value > 850.0);
}

TEST_CASE("the legal sugar of one per cent alcohol is nine tenths of what fermentation could give") {
    const PublishedCase c = published("sucrose.json", "potential_alcohol");
    CAPTURE(c.source_text());
    constexpr double hexose_g_per_mol = 180.156;  // iupac_weights_2021
    constexpr double ethanol_g_per_mol = 46.069;  // iupac_weights_2021
    const double hexose = ethanol_held(PercentVol{1.0}).value * hexose_g_per_mol / (2.0 * ethanol_g_per_mol);
    CHECK(within(hexose, c.expected("theoretical_hexose_g_per_L")));
    CHECK(within(hexose / c.data("legal_g_per_L_per_pct_vol").number(), c.expected("yield_fraction")));
}
