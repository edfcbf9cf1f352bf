#include "engine/solution/ingredient.hpp"
#include "engine/solution/recipe.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

namespace {

/// The worked example: a stock weighed into a flask, a level drawn from it with a syringe into a cylinder.
struct Worked {
    PlanRequest request;
    std::vector<Mixture> mixtures;
    std::vector<Making> makings;
};

Worked worked_example() {
    const PublishedCase stock = published("mixing_uncertainty.json", "stock");
    const PublishedCase level = published("mixing_uncertainty.json", "level");
    Substance substance;
    substance.density_model = DensityModel::apparent_volume;
    substance.apparent_volume_mL_per_g = 0.6;
    Ingredient powder;
    powder.content = MassFraction{stock.data("purity").number()};
    powder.content_half_width = MassFraction{stock.data("purity_half_width").number()};
    Equipment kitchen;
    kitchen.balances.push_back(
        {"scale", "scale", Grams{stock.data("balance_step_g").number()}, Grams{500.0}, Grams{1.0}, 0.0});
    const auto vessel = [](const char* id, VesselKind kind, double nominal, double rel, double half_width) {
        return Vessel{id,
                      id,
                      kind,
                      Millilitres{nominal},
                      Millilitres{0.0},
                      Millilitres{0.0},
                      rel,
                      Millilitres{half_width},
                      false};
    };
    kitchen.vessels.push_back(vessel("flask", VesselKind::flask, stock.data("flask_mL").number(), 0.0,
                                     stock.data("flask_half_width_mL").number()));
    kitchen.vessels.push_back(vessel("syringe", VesselKind::syringe, level.data("syringe_mL").number(),
                                     level.data("syringe_limit_rel").number(), 0.0));
    kitchen.vessels.push_back(vessel("cylinder", VesselKind::cylinder, level.data("cylinder_mL").number(),
                                     0.0, level.data("cylinder_half_width_mL").number()));
    Worked worked{
        {Ladder("worked", "", Scale::g_per_L, {1.0, 2.0}), substance, powder, {}, kitchen, {}, 0.05, {}},
        {},
        {}};
    worked.makings.push_back({"stock A", ingredient_itself,
                              weighed(kitchen, 0, Grams{stock.data("mass_g").number()}),
                              measured(kitchen, 0, Millilitres{stock.data("flask_mL").number()}, 1)});
    worked.makings.push_back({"bottle K", 0,
                              measured(kitchen, 1, Millilitres{level.data("drawn_mL").number()}, 1),
                              measured(kitchen, 2, Millilitres{level.data("cylinder_mL").number()}, 1)});
    worked.mixtures = mixtures(worked.request, worked.makings);
    return worked;
}

double u_rel(const Mixture& mixture) {
    double squares = 0.0;
    for (const double effect : mixture.effects) squares += effect * effect;
    return std::sqrt(squares);
}

/// What the errors of these kinds and places do together.
double u_rel_of(const Worked& worked, const Mixture& mixture, bool (*is_wanted)(const ErrorSource&)) {
    const auto sources = error_sources(worked.request.equipment, worked.makings.size());
    double squares = 0.0;
    for (std::size_t i = 0; i < sources.size(); ++i)
        if (is_wanted(sources[i])) squares += mixture.effects[i] * mixture.effects[i];
    return std::sqrt(squares);
}

}  // namespace

TEST_CASE("the worked stock has the published concentration and error budget") {
    const PublishedCase c = published("mixing_uncertainty.json", "stock");
    CAPTURE(c.source_text());
    const Worked worked = worked_example();
    const Mixture& stock = worked.mixtures[0];
    using Kind = ErrorSource::Kind;
    CHECK(within(stock.held_g_per_L, c.expected("g_per_L")));
    CHECK(within(u_rel_of(worked, stock, [](const ErrorSource& e) { return e.kind == Kind::load; }),
                 c.expected("u_mass_rel")));
    CHECK(within(u_rel_of(worked, stock, [](const ErrorSource& e) { return e.kind == Kind::instrument; }),
                 c.expected("u_volume_rel")));
    CHECK(within(u_rel_of(worked, stock, [](const ErrorSource& e) { return e.kind == Kind::ingredient; }),
                 c.expected("u_purity_rel")));
    CHECK(within(u_rel(stock), c.expected("u_rel")));
}

TEST_CASE("the worked level adds the syringe and the cylinder to its stock") {
    const PublishedCase c = published("mixing_uncertainty.json", "level");
    CAPTURE(c.source_text());
    const Worked worked = worked_example();
    const Mixture& level = worked.mixtures[1];
    CHECK(within(level.held_g_per_L, c.expected("g_per_L")));
    CHECK(within(u_rel(worked.mixtures[0]), c.expected("u_stock_rel")));
    CHECK(within(u_rel_of(worked, level,
                          [](const ErrorSource& e) {
                              return e.kind == ErrorSource::Kind::instrument && e.instrument.index > 0;
                          }),
                 c.expected("u_drawn_and_filled_rel")));
    CHECK(within(u_rel(level), c.expected("u_rel")));
    const PublishedCase simulated = published("mixing_uncertainty.json", "by_simulation");
    CHECK(within(u_rel(worked.mixtures[0]), simulated.expected("u_stock_rel")));
    CHECK(within(u_rel(level), simulated.expected("u_rel")));
}

TEST_CASE("tare and load of a scale have the triangular uncertainty") {
    const PublishedCase c = published("mixing_uncertainty.json", "tare_and_load");
    CAPTURE(c.source_text());
    std::vector<double> got;
    for (const double step : c.data("resolution_g").numbers()) {
        Equipment kitchen;
        kitchen.balances.push_back({"scale", "scale", Grams{step}, Grams{1000.0}, Grams{0.0}, 0.0});
        got.push_back(weighed(kitchen, 0, Grams{10.0}).u_own);
    }
    CHECK(within(got, c.expected("u_g")));
}

TEST_CASE("a hydrate counted without its water needs the published mass") {
    const PublishedCase c = published("mixing_uncertainty.json", "citric_acid_monohydrate");
    CAPTURE(c.source_text());
    const MassFraction content = content_as_counted(MassFraction{c.data("purity").number()},
                                                    GramsPerMole{c.data("anhydrous_g_per_mol").number()},
                                                    GramsPerMole{c.data("monohydrate_g_per_mol").number()});
    const Grams counted = GramsPerLitre{c.data("g_per_L").number()} * Millilitres{c.data("mL").number()};
    CHECK(within(counted.value / content.value, c.expected("powder_g")));
}

TEST_CASE("vinegar is measured by what its label holds in a volume, acid sold by mass by its density") {
    const PublishedCase vinegar = published("mixing_uncertainty.json", "vinegar");
    CAPTURE(vinegar.source_text());
    const Grams acid =
        GramsPerLitre{vinegar.data("g_per_L").number()} * Millilitres{vinegar.data("mL").number()};
    CHECK(within((acid / GramsPerLitre{vinegar.data("held_g_per_L").number()}).value,
                 vinegar.expected("vinegar_mL")));
    const PublishedCase lactic = published("mixing_uncertainty.json", "acid_sold_by_mass");
    const GramsPerLitre held = held_by_mass(MassFraction{lactic.data("mass_fraction").number()},
                                            GramsPerMillilitre{lactic.data("g_per_mL").number()});
    const Grams wanted =
        GramsPerLitre{lactic.data("g_per_L").number()} * Millilitres{lactic.data("mL").number()};
    CHECK(within((wanted / held).value, lactic.expected("product_mL")));
}
