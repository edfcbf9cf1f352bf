#include "engine/safety/intake.hpp"

#include "engine/problem.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::safety;
using sipladder::tests::within;

namespace {

solution::Substance of(solution::Component component, Scale scale = Scale::g_per_L) {
    solution::Substance substance;
    substance.component = component;
    substance.scale = scale;
    return substance;
}

solution::MixedLadder ladder_of(std::vector<solution::MixedLevel> levels) {
    return {.substance = "", .base = "", .scale = Scale::g_per_L, .levels = std::move(levels)};
}

solution::MixedLevel level(double mixed, int portions) {
    return {.target = mixed,
            .mixed = mixed,
            .u_own_rel = 0,
            .u_shared_rel = 0,
            .bottle = "A",
            .portions = portions};
}

const std::vector<Cap> acid_caps{
    {.what = "acid_g", .per_sitting = 3.0, .per_day = 4.0, .source = "judgement", .why = ""},
    {.what = "acid_cups", .per_sitting = 20.0, .per_day = 20.0, .source = "judgement", .why = "teeth"}};

}  // namespace

TEST_CASE("a cup counts as what its component is") {
    using solution::Component;
    const Millilitres cup{10.0};
    CHECK(within(intake_of_cup(of(Component::sweet), 12.0, cup).sugar.value, 0.12, 1e-12));
    CHECK(within(intake_of_cup(of(Component::weight), 12.0, cup).sugar.value, 0.12, 1e-12));
    CHECK(within(intake_of_cup(of(Component::sour), 5.0, cup).acid.value, 0.05, 1e-12));
    CHECK(intake_of_cup(of(Component::sour), 5.0, cup).acid_cups == 1.0);
    CHECK(intake_of_cup(of(Component::sour), 0.0, cup).acid_cups == 0.0);
    CHECK(within(intake_of_cup(of(Component::salty), 2.0, cup).salt.value, 0.02, 1e-12));
    CHECK(within(intake_of_cup(of(Component::astringent), 2.0, cup).tannin.value, 0.02, 1e-12));
    CHECK(within(intake_of_cup(of(Component::bitter), 0.2, cup).caffeine.value, 2.0, 1e-12));
    CHECK(within(intake_of_cup(of(Component::alcohol, Scale::pct_vol), 12.0, cup).ethanol.value, 0.947088,
                 1e-12));
    CHECK(intake_of_cup(of(Component::sweet), 12.0, cup).acid.value == 0.0);
}

TEST_CASE("the worst case is every presentation at the strongest rung still in stock") {
    const auto sweet = of(solution::Component::sweet);
    const auto ladder = ladder_of({level(1.0, 8), level(10.0, 8), level(100.0, 0)});
    CHECK(within(worst_case(sweet, ladder, 12, Millilitres{10.0}).sugar.value, 1.2, 1e-12));
    CHECK(worst_case(sweet, ladder_of({level(1.0, 0)}), 12, Millilitres{10.0}).sugar.value == 0.0);
    const auto sour = of(solution::Component::sour);
    CHECK(worst_case(sour, ladder, 12, Millilitres{10.0}).acid_cups == 12.0);
}

TEST_CASE("a cap may be met but not crossed") {
    Intake intake;
    for (int i = 0; i < 30; ++i) intake.acid += Grams{0.1};  // 3.0000000000000013 in floating point
    CHECK_FALSE(crossed(acid_caps, intake, intake));
    intake.acid += Grams{0.001};
    const auto found = crossed(acid_caps, intake, intake);
    REQUIRE(found);
    CHECK(found->cap.what == "acid_g");
    CHECK_FALSE(found->per_day);
    CHECK(found->text == "The acid of this sitting could reach 3.00 g, past the limit of 3 g.");
}

TEST_CASE("what was taken earlier today counts, and the sentence says why it stops") {
    Intake sitting;
    sitting.acid_cups = 12.0;
    Intake today = sitting;
    today.acid_cups += 12.0;
    const auto found = crossed(acid_caps, sitting, today);
    REQUIRE(found);
    CHECK(found->per_day);
    CHECK(found->would_be == 24.0);
    CHECK(found->text == "The number of acid cups of today could reach 24.0, past the limit of 20 (teeth).");
}

TEST_CASE("a cap on what is not counted is refused") {
    CHECK_THROWS_WITH_AS(
        crossed({{.what = "lead_g", .per_sitting = 1, .per_day = 1, .source = "", .why = ""}}, {}, {}),
        "cap: \"lead_g\" is not counted; one of ethanol_g, sugar_g, acid_g, acid_cups, caffeine_mg, "
        "salt_g, tannin_g, glycerol_g, thickener_g is wanted",
        Refused);
}

TEST_CASE("cautions are those about a substance and those about all") {
    const Cautions cautions{
        .texts = {{"grade", "food grade", {}, ""}, {"teeth", "rinse", {"tartaric_acid"}, ""}},
        .caps = {},
        .no_ethanol_reasons = {}};
    CHECK(cautions_for(cautions, "tartaric_acid").size() == 2);
    REQUIRE(cautions_for(cautions, "sucrose").size() == 1);
    CHECK(cautions_for(cautions, "sucrose").front().id == "grade");
}

TEST_CASE("glycerol and thickener count on their own, and a cup of a sour base is one acid cup") {
    using solution::Component;
    const Millilitres cup{10.0};
    solution::Substance glycerol = of(Component::sweet);
    glycerol.counts_as = solution::CountsAs::glycerol;
    CHECK(within(intake_of_cup(glycerol, 50.0, cup).glycerol.value, 0.5, 1e-12));
    CHECK(intake_of_cup(glycerol, 50.0, cup).sugar.value == 0.0);
    solution::Substance gum = of(Component::weight);
    gum.counts_as = solution::CountsAs::thickener;
    CHECK(within(intake_of_cup(gum, 2.0, cup).thickener.value, 0.02, 1e-12));
    solution::Base base;
    base.constituents = {{{}, of(Component::sour), GramsPerLitre{3.0}},
                         {{}, of(Component::sour), GramsPerLitre{1.0}}};
    base.ethanol = PercentVol{10.0};
    const Intake blank = intake_of_base(base, cup);
    CHECK(blank.acid_cups == 1.0);
    CHECK(within(blank.acid.value, 0.04, 1e-12));
    CHECK(within(blank.ethanol.value, 0.78924, 1e-9));
    const Intake full = intake_of_cup(base, of(Component::sour), 5.0, cup);
    CHECK(full.acid_cups == 1.0);
    CHECK(within(full.acid.value, 0.09, 1e-12));
    // Hydrogen tartrate is acid, hydrogen carbonate is none.
    solution::Base salt;
    salt.potassium = MillimolesPerLitre{10.0};
    salt.potassium_salt = solution::PotassiumSalt::hydrogen_tartrate;
    CHECK(intake_of_base(salt, cup).acid_cups == 1.0);
    salt.potassium_salt = solution::PotassiumSalt::hydrogen_carbonate;
    CHECK(intake_of_base(salt, cup).acid_cups == 0.0);
    CHECK(intake_of_base(solution::Base{}, cup).acid_cups == 0.0);
}

TEST_CASE("what is taken in is said amount by amount, ethanol first, and nothing of nought") {
    Intake intake;
    CHECK(amounts(intake).empty());
    intake.caffeine = Milligrams{41.26};
    intake.sugar = Grams{0.5};
    intake.ethanol = Grams{3.21};
    intake.thickener = Grams{0.125};
    intake.acid_cups = 4.0;
    CHECK(amounts(intake) ==
          std::vector<std::string>{"3.2 g ethanol", "0.50 g sugar", "41 mg caffeine", "0.13 g thickener"});
}
