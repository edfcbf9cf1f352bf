#include "engine/solution/acid.hpp"

#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/ingredient.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

namespace {

Acid acid_of(const std::string& name) {
    const std::optional<Acid> acid = acid_named(name);
    REQUIRE(acid);
    return *acid;
}

AcidHeld moles_of(const Acid& acid, double mol_per_L) {
    return {acid, GramsPerLitre{mol_per_L * acid.molar_mass.value}};
}

MillimolesPerLitre potassium_of(double mol_per_L) {
    return MillimolesPerLitre{1000.0 * mol_per_L};
}

}  // namespace

TEST_CASE("molar masses and constants of the acids are those published") {
    const PublishedCase masses = published("acid.json", "acid_molar_masses");
    std::vector<double> g_per_mol;
    for (const std::string& name : masses.data("acids").texts())
        g_per_mol.push_back(acid_of(name).molar_mass.value);
    CHECK(within(g_per_mol, masses.expected("g_per_mol")));
    const PublishedCase constants = published("acid.json", "acid_constants");
    CAPTURE(constants.source_text());
    for (const std::string& name : constants.data("acids").texts()) {
        CAPTURE(name);
        CHECK(within(acid_of(name).pK, constants.expected(name)));
    }
}

TEST_CASE("the pH of saturated hydrogen tartrate follows from each published pair of constants") {
    for (const char* id : {"a", "b", "c"}) {
        const PublishedCase c = published("acid.json", std::string("saturated_hydrogen_tartrate_") + id);
        CAPTURE(c.source_text());
        Acid tartaric = acid_of("tartaric");
        tartaric.pK = c.data("pK").numbers();
        const Acidity found = acidity({{moles_of(tartaric, c.data("mol_per_L").number())},
                                       potassium_of(c.data("potassium_mol_per_L").number()),
                                       0.0});
        CHECK(within(found.pH, c.expected("pH")));
    }
    CHECK(acid_of("tartaric").pK ==
          published("acid.json", "saturated_hydrogen_tartrate_c").data("pK").numbers());
}

TEST_CASE("the primary standards of the pH scale come out") {
    for (const char* id :
         {"standard_hydrogen_tartrate", "standard_dihydrogen_citrate", "standard_hydrogen_phthalate"}) {
        const PublishedCase c = published("acid.json", id);
        CAPTURE(c.source_text());
        const Acid acid = acid_of(c.data("acid").text());
        CHECK(acid.pK == c.data("pK").numbers());
        const Acidity found = acidity({{moles_of(acid, c.data("mol_per_L").number())},
                                       potassium_of(c.data("potassium_mol_per_L").number()),
                                       0.0});
        CHECK(within(found.pH, c.expected("published_pH")));
        CHECK(within(found.pH, c.expected("solver_pH")));
        CHECK(within(found.ionic_strength_mol_per_L, c.expected("ionic_strength")));
    }
}

TEST_CASE("plain acids have the computed pH, by mole and by gram") {
    const PublishedCase by_mole = published("acid.json", "plain_acids_by_mole");
    for (const std::string& name : by_mole.data("acids").texts()) {
        CAPTURE(name);
        std::vector<double> pH;
        for (const double mol_per_L : by_mole.data("mol_per_L").numbers())
            pH.push_back(acidity({{moles_of(acid_of(name), mol_per_L)}, {}, 0.0}).pH);
        CHECK(within(pH, by_mole.expected(name)));
    }
    const PublishedCase by_gram = published("acid.json", "plain_acids_by_gram");
    for (const std::string& name : by_gram.data("acids").texts()) {
        CAPTURE(name);
        std::vector<double> pH;
        for (const double g_per_L : by_gram.data("g_per_L").numbers())
            pH.push_back(acidity({{{acid_of(name), GramsPerLitre{g_per_L}}}, {}, 0.0}).pH);
        CHECK(within(pH, by_gram.expected(name)));
    }
}

TEST_CASE("potassium buffers acid as computed, alone and in a mixture") {
    const PublishedCase alone = published("acid.json", "tartaric_with_potassium");
    std::vector<double> pH;
    for (const double mol_per_L : alone.data("potassium_mol_per_L").numbers())
        pH.push_back(acidity({{{acid_of("tartaric"), GramsPerLitre{alone.data("tartaric_g_per_L").number()}}},
                              potassium_of(mol_per_L),
                              0.0})
                         .pH);
    CHECK(within(pH, alone.expected("pH")));
    const PublishedCase mixture = published("acid.json", "mixture_of_five");
    std::vector<AcidHeld> acids;
    for (std::size_t i = 0; i < mixture.data("acids").size(); ++i)
        acids.push_back(
            {acid_of(mixture.data("acids").texts()[i]), GramsPerLitre{mixture.data("g_per_L").numbers()[i]}});
    std::vector<double> mixed;
    for (const double mol_per_L : mixture.data("potassium_mol_per_L").numbers())
        mixed.push_back(acidity({acids, potassium_of(mol_per_L), 0.0}).pH);
    CHECK(within(mixed, mixture.expected("pH")));
}

TEST_CASE("titratable acidity is counted by equivalents of tartaric acid") {
    const PublishedCase c = published("acid.json", "titratable_acidity_factors");
    std::vector<double> equivalents, per_gram, of_acid;
    for (const std::string& name : c.data("acids").texts()) {
        const Acid acid = acid_of(name);
        equivalents.push_back(acid.molar_mass.value / static_cast<double>(acid.pK.size()));
        per_gram.push_back(acidity({{{acid, GramsPerLitre{1.0}}}, {}, 0.0}).ta_tartaric.value);
        of_acid.push_back(1.0 / ta_tartaric_per_gram(acid));
    }
    CHECK(within(equivalents, c.expected("equivalent_g_per_mol")));
    CHECK(within(per_gram, c.expected("g_tartaric_per_g")));
    CHECK(within(of_acid, c.expected("g_of_acid_per_g_tartaric")));
    const PublishedCase hydrate = published("acid.json", "citric_monohydrate_acidity");
    const double counted =
        content_as_counted(MassFraction{1.0}, GramsPerMole{hydrate.data("counted_g_per_mol").number()},
                           GramsPerMole{hydrate.data("bought_g_per_mol").number()})
            .value;
    CHECK(within(counted * ta_tartaric_per_gram(acid_of("citric")), hydrate.expected("g_tartaric_per_g")));
    CHECK(within(1.0 / (counted * ta_tartaric_per_gram(acid_of("citric"))),
                 hydrate.expected("g_of_acid_per_g_tartaric")));
}

TEST_CASE("potassium lifts the pH of tartaric acid at wine strength and takes titratable acidity") {
    const PublishedCase c = published("acid.json", "potassium_takes_titratable_acidity");
    const AcidHeld tartaric{acid_of("tartaric"), GramsPerLitre{c.data("tartaric_g_per_L").number()}};
    const Acidity plain = acidity({{tartaric}, {}, 0.0});
    const Acidity buffered =
        acidity({{tartaric}, MillimolesPerLitre{c.data("potassium_mmol_per_L").number()}, 0.0});
    CHECK(within(buffered.pH, c.expected("pH")));
    CHECK(within(plain.ta_tartaric.value - buffered.ta_tartaric.value, c.expected("ta_lost_g_per_L")));
}

TEST_CASE("200 mg/L of hydrogen carbonate neutralise 0.21 g/L of citric acid") {
    const PublishedCase c = published("acid.json", "hydrogen_carbonate_eats_citric");
    for (const char* name : {"citric", "tartaric"}) {
        Substance acid;
        acid.id = std::string(name) + "_acid";
        Base water;
        water.bicarbonate_mg_per_L = c.data("bicarbonate_mg_per_L").number();
        const std::vector<RungLoss> rungs =
            what_a_ladder_loses(acid, Ladder("strong", acid.id, Scale::g_per_L, {1.0, 3.0}), water);
        CHECK(within(rungs.front().taken, c.expected(std::string(name) + "_g_per_L")));
    }
}

TEST_CASE("a litre of model wine is made up as worked out") {
    const PublishedCase c = published("acid.json", "tartaric_model_wine");
    CAPTURE(c.source_text());
    const Millilitres volume{c.data("mL").number()};
    const GramsPerLitre acid{c.data("tartaric_g_per_L").number()};
    const PercentVol spirit{c.data("spirit_pct_vol").number()};
    CHECK(within((acid * volume).value / c.data("purity").number(), c.expected("powder_g")));
    // Made up to the mark: the strength is exact by definition, no contraction is reckoned.
    const Millilitres poured = (c.data("ethanol_pct_vol").number() / spirit.value) * volume;
    CHECK(within(poured.value, c.expected("spirit_mL")));
    CHECK(
        within((density_of_ethanol_water(mass_fraction_from_strength(spirit), Celsius{20.0}) * poured).value,
               c.expected("spirit_g")));
    Base base;
    base.potassium = MillimolesPerLitre{c.data("potassium_mmol_per_L").number()};
    base.potassium_salt = PotassiumSalt::hydrogen_carbonate;
    Substance tartaric;
    tartaric.id = "tartaric_acid";
    const Acidity found = acidity(acid_solution(base, tartaric, acid.value));
    CHECK(within((potassium_salt_held(base) * volume).value, c.expected("salt_g")));
    CHECK(within(found.pH, c.expected("pH")));
    CHECK(within(acidity({{{acid_of("tartaric"), acid}}, {}, 0.0}).ta_tartaric.value,
                 c.expected("total_acid_g_per_L")));
    CHECK(within(found.ta_tartaric.value, c.expected("titratable_g_per_L")));
}
