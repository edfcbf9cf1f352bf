#include "engine/content/content.hpp"
#include "engine/solution/acid.hpp"
#include "engine/solution/mixture.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

// The figures of the shipped substances and ingredients against tables of densities, solubilities and series.

namespace {

const content::Content& shipped() {
    static const content::Content content =
        content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    return content;
}

Substance named(const std::string& id) {
    if (id == "lactic_acid") return substance_of(*acid_named("lactic"));  // for conversions only
    return shipped().substance(id);
}

double value_of(const Ingredient& one) {
    return one.form == IngredientForm::powder   ? one.content.value
           : one.form == IngredientForm::spirit ? one.strength.value
                                                : one.held.value;
}

double half_width_of(const Ingredient& one) {
    return one.form == IngredientForm::powder   ? one.content_half_width.value
           : one.form == IngredientForm::spirit ? one.strength_half_width.value
                                                : one.held_half_width.value;
}

}  // namespace

TEST_CASE("densities by apparent specific volume agree with handbook tables of dilute solutions") {
    for (const char* id : {"acetic_acid", "citric_acid", "lactic_acid", "glycerol", "sodium_chloride",
                           "glucose", "fructose"}) {
        const PublishedCase c = published("solute_density.json", id);
        CAPTURE(c.source_text());
        const Celsius at{c.data().has("degC") ? c.data("degC").number() : 20.0};
        std::vector<double> got;
        for (const double pct_mass : c.data("pct_mass").numbers())
            got.push_back(density_of_solution(named(id), MassFraction{pct_mass / 100.0}, at).value);
        CHECK(within(got, c.expected("g_per_mL")));
    }
}

TEST_CASE("shipped volumes, molar masses, solubilities and purities are those collected") {
    for (const char* id : {"apparent_specific_volumes", "apparent_specific_volumes_estimated"}) {
        const PublishedCase c = published("solute_density.json", id);
        std::vector<double> got;
        for (const std::string& one : c.data("substances").texts())
            got.push_back(shipped().substance(one).apparent_volume_mL_per_g);
        CHECK(within(got, c.expected("mL_per_g")));
    }
    const PublishedCase masses = published("solute_density.json", "molar_masses");
    std::vector<double> g_per_mol;
    for (const std::string& one : masses.data("substances").texts())
        g_per_mol.push_back(shipped().substance(one).molar_mass.value);
    CHECK(within(g_per_mol, masses.expected("g_per_mol")));
    const PublishedCase dissolves = published("solute_density.json", "solubilities");
    std::vector<double> per_water;
    for (const std::string& id : dissolves.data("substances").texts()) {
        const Substance& one = shipped().substance(id);
        // The loader turns g per 100 g of water into g/L of the saturated solution; back again.
        const double g_per_L = one.solubility.value;
        per_water.push_back(100.0 * g_per_L /
                            (998.2 * (1.0 - g_per_L * one.apparent_volume_mL_per_g / 1000.0)));
    }
    CHECK(within(per_water, dissolves.expected("g_per_100_g_water")));
    const PublishedCase purities = published("solute_density.json", "purities");
    std::vector<double> value, half_width;
    for (const std::string& id : purities.data("ingredients").texts()) {
        value.push_back(value_of(shipped().ingredient(id)));
        half_width.push_back(half_width_of(shipped().ingredient(id)));
    }
    CHECK(within(value, purities.expected("value")));
    CHECK(within(half_width, purities.expected("half_width")));
}

TEST_CASE(
    "the series of the standard are geometric, and the shipped first ladders reach beyond both their ends") {
    for (const char* id : {"sour_citric_acid_monohydrate", "bitter_caffeine_monohydrate",
                           "salty_sodium_chloride", "sweet_sucrose"}) {
        const PublishedCase c = published("iso_series.json", id);
        CAPTURE(c.source_text());
        const double ratio = c.data("ratio").number();
        std::vector<double> exact;
        double level = c.data("first_g_per_L").number();
        for (const double printed : c.data("printed_g_per_L").numbers()) {
            CHECK(within(level, printed, 0.015));
            exact.push_back(level);
            level *= ratio;
        }
        CHECK(within(exact, c.expected("g_per_L")));
        // The same rungs as this program makes them, weakest first and to two digits.
        const double centre = std::sqrt(exact.front() * exact.back());
        const Ladder made = ladder_around("series", "any", Scale::g_per_L, centre, exact.size(), 1.0 / ratio);
        for (std::size_t i = 0; i < exact.size(); ++i)
            CHECK(within(made.targets()[i], exact[exact.size() - 1 - i], 0.0, 0.05));
        const Ladder& first = shipped().ladder(c.data("substance").text() + "_first");
        const double counted = c.data("counted_per_gram").number();
        CHECK(first.targets().front() < counted * exact.back());
        CHECK(first.targets().back() > counted * exact.front());
    }
}

TEST_CASE("the usual matching solutions may be poured") {
    const PublishedCase c = published("iso_series.json", "matching_solutions");
    const std::vector<std::string> ids = c.data("substances").texts();
    for (std::size_t i = 0; i < ids.size(); ++i)
        CHECK(shipped().substance(ids[i]).strongest_cup >= c.expected("g_per_L").numbers()[i]);
}
