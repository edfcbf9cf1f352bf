#include "engine/solution/ethanol_water.hpp"

#include "engine/solution/convert.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

namespace {

PublishedCase of(const std::string& id) {
    return published("ethanol_water.json", id);
}

double kg_per_m3(double mass_fraction, double degC) {
    return 1000.0 * density_of_ethanol_water(MassFraction{mass_fraction}, Celsius{degC}).value;
}

double from_pct_vol(double pct_vol) {
    return mass_fraction_from_strength(PercentVol{pct_vol}).value;
}

double to_pct_vol(double mass_fraction) {
    return strength_from_mass_fraction(MassFraction{mass_fraction}).value;
}

std::vector<double> each(const std::vector<double>& values, double (*function)(double)) {
    std::vector<double> results;
    for (const double value : values) results.push_back(function(value));
    return results;
}

}  // namespace

TEST_CASE("density of ethanol and water at single points follows OIML R 22") {
    for (const char* id : {"ends_of_the_formula", "table_I"}) {
        const PublishedCase c = of(id);
        CAPTURE(c.source_text());
        const std::vector<double> t = c.data("degC").numbers();
        std::vector<double> got;
        for (std::size_t i = 0; i < t.size(); ++i)
            got.push_back(kg_per_m3(c.data("mass_fraction").numbers()[i], t[i]));
        CHECK(within(got, c.expected("kg_per_m3")));
    }
}

TEST_CASE("density by strength and temperature follows tables II and IV") {
    const PublishedCase c = of("table_II_and_IV");
    CAPTURE(c.source_text());
    std::vector<double> got;
    for (std::size_t i = 0; i < c.data("degC").size(); ++i)
        got.push_back(kg_per_m3(from_pct_vol(c.data("pct_vol").numbers()[i]), c.data("degC").numbers()[i]));
    CHECK(within(got, c.expected("kg_per_m3")));
}

TEST_CASE("strength by volume and by mass follow tables III and IV both ways") {
    const PublishedCase c = of("table_III_and_IV");
    CAPTURE(c.source_text());
    const auto by_volume = [](double pct_mass) { return to_pct_vol(pct_mass / 100.0); };
    const auto by_mass = [](double pct_vol) { return 100.0 * from_pct_vol(pct_vol); };
    CHECK(within(each(c.data("pct_mass").numbers(), by_volume), c.expected("pct_vol")));
    CHECK(within(each(c.data("pct_vol").numbers(), by_mass), c.expected("pct_mass")));
}

TEST_CASE("the definition of strength gives mass fraction and grams per litre") {
    const PublishedCase c = of("strength_by_volume");
    CAPTURE(c.source_text());
    const std::vector<double> strengths = c.data("pct_vol").numbers();
    CHECK(within(each(strengths, from_pct_vol), c.expected("mass_fraction")));
    CHECK(within(each(strengths, [](double q) { return ethanol_held(PercentVol{q}).value; }),
                 c.expected("g_per_L")));
}

TEST_CASE("strength from density at 20 degC follows table V") {
    const PublishedCase mass = of("table_V");
    const PublishedCase volume = of("table_V_by_volume");
    CAPTURE(mass.source_text());
    const auto by_mass = [](double density) {
        return mass_fraction_from_density(GramsPerMillilitre{density / 1000.0}, Celsius{20.0}).value * 100.0;
    };
    const auto by_volume = [](double density) {
        return to_pct_vol(
            mass_fraction_from_density(GramsPerMillilitre{density / 1000.0}, Celsius{20.0}).value);
    };
    CHECK(within(each(mass.data("kg_per_m3").numbers(), by_mass), mass.expected("pct_mass")));
    CHECK(within(each(volume.data("kg_per_m3").numbers(), by_volume), volume.expected("pct_vol")));
}

TEST_CASE("strength from a glass hydrometer at its temperature follows the tables") {
    const PublishedCase c = of("density_at_temperature");
    CAPTURE(c.source_text());
    std::vector<double> got;
    for (std::size_t i = 0; i < c.data("degC").size(); ++i) {
        const double t = c.data("degC").numbers()[i];
        const double glass = 1.0 - c.data("glass_per_K").number() * (t - 20.0);
        const GramsPerMillilitre density{c.data("kg_per_m3").numbers()[i] / 1000.0 * glass};
        got.push_back(100.0 * mass_fraction_from_density(density, Celsius{t}).value);
    }
    CHECK(within(got, c.expected("pct_mass")));
}

TEST_CASE("every strength from 0 to 100 % vol has its density and mass fraction") {
    const PublishedCase c = of("every_strength_at_20");
    CAPTURE(c.source_text());
    const std::vector<double> strengths = c.data("pct_vol").numbers();
    CHECK(within(each(strengths, [](double q) { return kg_per_m3(from_pct_vol(q), 20.0); }),
                 c.expected("kg_per_m3")));
    CHECK(within(each(strengths, [](double q) { return 100.0 * from_pct_vol(q); }), c.expected("pct_mass")));
}

TEST_CASE("density over mass and temperature agrees with the grid and with measurements of others") {
    for (const char* id : {"grid", "measured_1913"}) {
        const PublishedCase c = of(id);
        CAPTURE(c.source_text());
        const auto rows = c.expected("kg_per_m3").value.rows();
        REQUIRE(rows.size() == c.data("mass_fraction").size());
        for (std::size_t i = 0; i < rows.size(); ++i)
            for (std::size_t j = 0; j < rows[i].size(); ++j)
                CHECK(within(kg_per_m3(c.data("mass_fraction").numbers()[i], c.data("degC").numbers()[j]),
                             rows[i][j], c.expected("kg_per_m3").abs));
    }
    const PublishedCase c = of("handbook");
    CHECK(within(each(c.data("mass_fraction").numbers(), [](double p) { return kg_per_m3(p, 20.0); }),
                 c.expected("kg_per_m3")));
}

TEST_CASE("a second formula, fitted anew by others, differs as little as was published") {
    const PublishedCase c = of("second_formula");
    CAPTURE(c.source_text());
    const std::vector<double> A = c.data("A").numbers();
    const std::vector<double> B = c.data("B").numbers();
    const auto C = c.data("C").rows();
    const auto second = [&](double p, double t) {
        double sum = 0.0;
        for (std::size_t k = 0; k < A.size(); ++k) sum += A[k] * std::pow(p - 0.5, static_cast<double>(k));
        for (std::size_t k = 0; k < B.size(); ++k)
            sum += B[k] * std::pow(t - 20.0, static_cast<double>(k + 1));
        for (std::size_t i = 0; i < C.size(); ++i)
            for (std::size_t k = 0; k < C[i].size(); ++k)
                sum += C[i][k] * std::pow(p - 0.5, static_cast<double>(k + 1)) *
                       std::pow(t - 20.0, static_cast<double>(i + 1));
        return sum;
    };
    double largest = 0.0;
    for (int p = 0; p <= 100; ++p)
        for (int t = 0; t <= 40; ++t)
            largest = std::max(largest, std::abs(second(p / 100.0, t) - kg_per_m3(p / 100.0, t)));
    CHECK(within(largest, c.expected("largest_difference_kg_per_m3")));
}

TEST_CASE("spirit and water contract on mixing as the formula says, and grow where it says") {
    const PublishedCase c = of("contraction");
    CAPTURE(c.source_text());
    std::vector<double> got;
    for (std::size_t i = 0; i < c.data("spirit_mL").size(); ++i)
        got.push_back(contraction(Millilitres{c.data("spirit_mL").numbers()[i]},
                                  PercentVol{c.data("pct_vol").numbers()[i]},
                                  Millilitres{c.data("water_mL").numbers()[i]}, Celsius{20.0})
                          .value);
    CHECK(within(got, c.expected("contraction_mL")));
}

TEST_CASE("a mixture of 12 % vol expands with temperature as published") {
    const PublishedCase c = of("twelve_pct_vol_by_temperature");
    CAPTURE(c.source_text());
    std::vector<double> densities, volumes;
    const double p = from_pct_vol(c.data("pct_vol").number());
    for (const double t : c.data("degC").numbers()) {
        densities.push_back(kg_per_m3(p, t));
        volumes.push_back(1000.0 * kg_per_m3(p, 20.0) / kg_per_m3(p, t));
    }
    CHECK(within(densities, c.expected("kg_per_m3")));
    CHECK(within(volumes, c.expected("mL_of_a_litre_at_20")));
}

TEST_CASE("40 % vol is 33.300 % by mass") {
    const PublishedCase c = of("command_line_example");
    CAPTURE(c.source_text());
    CHECK(within(convert(c.data("pct_vol").number(), Unit::pct_vol, Unit::pct_mass, nullptr).value,
                 c.expected("pct_mass")));
}

TEST_CASE(
    "a strength stated at 60 degF is a little more alcohol than one at 20 degC, below every label's "
    "tolerance") {
    const PublishedCase c = published("ethanol_water.json", "strength_at_60_degF");
    CAPTURE(c.source_text());
    std::vector<double> pct_mass;
    const std::vector<double> at_60_degF = c.data("pct_mass_at_60_degF").numbers();
    const std::vector<double> strengths = c.data("pct_vol").numbers();
    for (const double strength : strengths)
        pct_mass.push_back(100.0 * mass_fraction_from_strength(PercentVol{strength}).value);
    CHECK(within(pct_mass, c.expected("pct_mass")));
    for (std::size_t i = 0; i < strengths.size(); ++i) {
        const double more =
            strength_from_mass_fraction(MassFraction{at_60_degF[i] / 100.0}).value - strengths[i];
        CHECK(more > 0.0);
        CHECK(more < 0.3);
    }
}
