#include "engine/content/content.hpp"
#include "engine/problem.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/acid.hpp"
#include "engine/solution/planner.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

using namespace sipladder;
using sipladder::tests::within;

namespace {

const std::filesystem::path root = SIPLADDER_SOURCE_DIR;

const content::Content& shipped() {
    static const content::Content content = content::load(root / "content");
    return content;
}

std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

/// Every word of letters, digits and _ in the files that may name a source.
std::set<std::string> words_of_the_project() {
    std::set<std::string> words;
    for (const char* folder : {"engine", "drills", "gui", "tools", "content", "tests/published"}) {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(root / folder)) {
            const std::string ending = entry.path().extension();
            if (entry.path().filename() == "sources.json" ||
                (ending != ".json" && ending != ".hpp" && ending != ".cpp"))
                continue;
            std::string word;
            for (const char c : text_of(entry.path()) + " ") {
                if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_') {
                    word += c;
                } else {
                    words.insert(word);
                    word.clear();
                }
            }
        }
    }
    return words;
}

/// Mixed as wanted, with every rung in stock.
solution::MixedLadder mixed(const solution::Ladder& ladder, double stronger_rel) {
    solution::MixedLadder mix{
        .substance = ladder.substance(), .base = "still_water", .scale = ladder.scale(), .levels = {}};
    for (const double target : ladder.targets())
        mix.levels.push_back({.target = target,
                              .mixed = target * (1.0 + stronger_rel),
                              .u_own_rel = 0,
                              .u_shared_rel = 0,
                              .bottle = "A",
                              .portions = 8});
    return mix;
}

}  // namespace

TEST_CASE("the shipped content has no problem") {
    try {
        shipped();
    } catch (const Refused& refused) {
        FAIL(refused.what());
    }
    for (const char* id :
         {"sucrose", "glucose", "fructose", "tartaric_acid", "malic_acid", "citric_acid", "acetic_acid",
          "ethanol", "grape_tannin", "caffeine", "sodium_chloride", "glycerol", "food_thickener"}) {
        CAPTURE(id);
        CHECK_FALSE(shipped().ingredients_of(id).empty());
        CHECK(shipped().ladder(std::string(id) + "_first").substance() == id);
        CHECK_FALSE(shipped().ladder_reasons.at(std::string(id) + "_first").empty());
        CHECK(cautions_for(shipped().cautions, id).size() > 5);
    }
    CHECK(shipped().kitchen("kitchen_fine").balances.size() == 2);
    CHECK(shipped().base("still_water").bicarbonate_mg_per_L > 0.0);
    CHECK_THROWS_WITH_AS(
        shipped().base("lemonade"),
        "base: \"lemonade\" is not known; one of purified_water, still_water, still_water_medium, "
        "still_water_hard, acid_sugar_base, water_with_acid, water_with_sugar, water_with_alcohol is wanted",
        Refused);
}

TEST_CASE("every source in the bibliography is used somewhere") {
    const std::set<std::string> words = words_of_the_project();
    for (const auto& [key, source] : shipped().sources) {
        CAPTURE(key);
        CHECK(words.contains(key));
    }
}

TEST_CASE("each first ladder is made by the rule that its reason tells, around the assumed centre") {
    struct Made {
        double centre;
        double ratio;
        double off_log10;  // how far a cap may push it from the centre of the prior
    };
    // Caps on ethanol, tannin and glycerol push these down a little, the cap on a cup of caffeine more.
    const std::map<std::string, Made> special{{"ethanol", {1.6, 2.0, 0.055}},
                                              {"grape_tannin", {0.09, 3.0, 0.055}},
                                              {"glycerol", {4.7, 3.0, 0.055}},
                                              {"caffeine", {0.088, 2.0, 0.17}}};
    for (const solution::Ladder& ladder : shipped().ladders) {
        if (!ladder.id().ends_with("_first")) continue;
        CAPTURE(ladder.id());
        const solution::Substance& substance = shipped().substance(ladder.substance());
        const auto found = special.find(substance.id);
        const Made made = found == special.end() ? Made{substance.prior.centre, 3.0, 1e-9} : found->second;
        CHECK(ladder.targets() == solution::ladder_around(ladder.id(), ladder.substance(), ladder.scale(),
                                                          made.centre, 6, made.ratio)
                                      .targets());
        CHECK(within(std::log10(made.centre), std::log10(substance.prior.centre), made.off_log10));
    }
}

TEST_CASE(
    "a default drill on every ladder stays within all caps, with a known cup and a known blank, mixed 5 % "
    "too "
    "strong") {
    const solution::Base water = shipped().base("purified_water");
    for (const solution::Substance& substance : shipped().substances) {
        CAPTURE(substance.id);
        const solution::Ladder& ladder = shipped().ladder(substance.id + "_first");
        const safety::Intake intake = safety::worst_case(
            substance, mixed(ladder, 0.05), water,
            {.presentations = 12 + 1, .cups_per_presentation = 3, .cup = Millilitres{10.0}});
        const auto found = safety::crossed(shipped().cautions.caps, intake, intake);
        CHECK_MESSAGE(!found, (found ? found->text : ""));
        CHECK(ladder.targets().back() <= substance.strongest_cup);
        CHECK(substance.strongest_stock > substance.strongest_cup);
        // Something is counted, or no cap would ever stop it.
        CHECK(intake.ethanol.value + intake.sugar.value + intake.acid.value + intake.caffeine.value +
                  intake.salt.value + intake.tannin.value + intake.glycerol.value + intake.thickener.value >
              0.0);
    }
}

TEST_CASE("in the acid base every blank is an acid cup: six presentations fit, twelve do not") {
    const solution::Base& base = shipped().base("acid_sugar_base");
    const solution::Substance& sugar = shipped().substance("sucrose");
    const auto ladder = mixed(shipped().ladder("sucrose_first"), 0.05);
    const auto taken = [&](int presentations) {
        return safety::worst_case(
            sugar, ladder, base,
            {.presentations = presentations, .cups_per_presentation = 3, .cup = Millilitres{10.0}});
    };
    CHECK(taken(6).acid_cups == 18.0);
    CHECK(within(taken(6).acid.value, 18 * 0.01 * 4.5, 1e-9));
    CHECK(within(taken(6).glycerol.value, 18 * 0.01 * 6.0, 1e-9));
    CHECK_FALSE(safety::crossed(shipped().cautions.caps, taken(6), taken(6)));
    const auto found = safety::crossed(shipped().cautions.caps, taken(12), taken(12));
    REQUIRE(found);
    CHECK(found->cap.what == "acid_cups");
}

TEST_CASE("the acid base is as acid as a mild wine, holds no alcohol and weighs more than water") {
    const solution::Base& base = shipped().base("acid_sugar_base");
    CHECK(base.ethanol.value == 0.0);
    CHECK(base.potassium_salt == solution::PotassiumSalt::hydrogen_carbonate);
    const solution::Acidity acid =
        solution::acidity(solution::acid_solution(base, shipped().substance("sucrose"), 0.0));
    CHECK(acid.pH > 2.9);
    CHECK(acid.pH < 3.3);
    CHECK(within(acid.ta_tartaric.value, 3.61, 0.01));
    // 12 g/L of solutes of about 0.6 mL/g and a litre of water less what they take up.
    CHECK(within(density_of_base(base).value, 1.0030, 0.0005));
    CHECK(density_of_base(shipped().base("purified_water")).value < 0.9983);
    CHECK(held_in_base(base, "tartaric_acid").value == 2.5);
    CHECK(held_in_base(base, "caffeine").value == 0.0);
    CHECK(within(potassium_salt_held(base).value, 1.5017, 0.0005));
}

TEST_CASE("a base with a little alcohol is weighed from its spirit, and is refused where that is not known") {
    solution::PlanRequest request{.ladder = shipped().ladder("sucrose_words"),
                                  .substance = shipped().substance("sucrose"),
                                  .ingredient = shipped().ingredient("table_sugar"),
                                  .base = shipped().base("water_with_alcohol"),
                                  .equipment = shipped().kitchen("kitchen_fine"),
                                  .demand = {.presentations = 8, .cups_per_presentation = 1}};
    const solution::MixPlan plan = solution::plan(request);
    const auto weighed = std::find_if(plan.steps.begin(), plan.steps.end(), [](const solution::Step& step) {
        return step.text.find("For the base") == 0;
    });
    const auto filled = std::find_if(plan.steps.begin(), plan.steps.end(), [](const solution::Step& step) {
        return step.text.find("bottle marked base") != std::string::npos;
    });
    REQUIRE(weighed != plan.steps.end());
    REQUIRE(filled != plan.steps.end());
    CHECK(weighed->from.find("40") != std::string::npos);
    // 5 % vol are 39.46 g/L of ethanol, and 40 % vol are 33.300 % by mass: 118.5 g of spirit in a litre.
    const double litres = filled->reading / 1000.0 / density_of_base(request.base).value;
    CHECK(within(weighed->reading / litres, 39.46 / 0.33300, 0.5));
    request.base.spirit_strength = PercentVol{};
    CHECK_THROWS_WITH_AS(solution::plan(request), doctest::Contains("spirit that is not known"), Refused);
}

TEST_CASE("no first cup is more acid than pH 2.2, and every sour ladder can be made in purified water") {
    for (const solution::Ladder& ladder : shipped().ladders) {
        const solution::Substance& substance = shipped().substance(ladder.substance());
        if (substance.component != solution::Component::sour) continue;
        CAPTURE(ladder.id());
        const bool starts_faint = ladder.id().ends_with("_first");
        const solution::Base& pure = shipped().base("purified_water");
        CHECK(solution::expected_pH(pure, substance, ladder.targets().back()) > 2.2);
        CHECK(solution::expected_pH(pure, substance, substance.strongest_cup) > 2.1);
        const solution::LadderLoss none = solution::loss_of(substance, ladder, pure);
        CHECK_FALSE(none.problem);
        CHECK(none.warning.empty());
        const solution::LadderLoss hard =
            solution::loss_of(substance, ladder, shipped().base("still_water_hard"));
        if (starts_faint) CHECK(hard.rungs.front().taken_rel == 1.0);
        CHECK(hard.problem.has_value() == (hard.rungs.front().taken_rel > 0.05));
        if (hard.problem) CHECK(hard.problem->right.find("purified water") != std::string::npos);
        // In the acid base the hydrogen carbonate of any water would meet the acid of the base first.
        solution::Base in_hard_water = shipped().base("acid_sugar_base");
        in_hard_water.bicarbonate_mg_per_L = 350.0;
        CHECK(solution::loss_of(substance, ladder, in_hard_water).rungs.front().taken_rel == 0.0);
    }
}

TEST_CASE("smelled substances ask for a closed nose, astringency for minutes of rest") {
    for (const char* id : {"ethanol", "acetic_acid"}) CHECK(shipped().substance(id).closed_nose);
    CHECK(shipped().substance("grape_tannin").rest_s >= 120);
    CHECK(shipped().substance("caffeine").note.find("Tonic water") != std::string::npos);
    // About 1.8 % vol and 0.12 g/L: both are smelled far below what is tasted.
    CHECK(shipped().substance("ethanol").note.find("bitter") != std::string::npos);
}

TEST_CASE("a drill of strong spirit cups would cross the cap on ethanol") {
    const solution::Substance& ethanol = shipped().substance("ethanol");
    const solution::Ladder strong("strong", "ethanol", Scale::pct_vol, {9.0, 18.0});
    const safety::Intake intake = safety::worst_case(ethanol, mixed(strong, 0.0), 12, Millilitres{10.0});
    const auto found = safety::crossed(shipped().cautions.caps, intake, intake);
    REQUIRE(found);
    CHECK(found->cap.what == "ethanol_g");
    CHECK(found->text ==
          "The alcohol of this sitting could reach 17.0 g, past the limit of 10 g (what many countries call "
          "one standard drink).");
}

TEST_CASE("the shipped content leaves out what does not belong at a table") {
    for (const solution::Ingredient& one : shipped().ingredients) {
        CAPTURE(one.id);
        CHECK(one.strength.value <= 60.0);
        CHECK(one.name.find("alum") == std::string::npos);
        if (one.substance == "caffeine") {
            CHECK(one.form == solution::IngredientForm::tablet);
            CHECK(one.per_piece.value <= 200.0);
        }
        const solution::Component component = shipped().substance(one.substance).component;
        if (component == solution::Component::sour && one.form == solution::IngredientForm::liquid)
            CHECK(one.held.value <= 100.0);
        CHECK(one.name.find("tonic") == std::string::npos);
    }
    CHECK_THROWS_AS(shipped().substance("quinine"), Refused);
    CHECK(shipped().cautions.no_ethanol_reasons.size() >= 6);
}

TEST_CASE("the monohydrate of citric acid holds the acid of its formula") {
    const solution::Ingredient& powder = shipped().ingredient("citric_monohydrate");
    CHECK(within(powder.content.value, 0.995 * shipped().substance("citric_acid").molar_mass.value / 210.139,
                 5e-5));
}
