#include "engine/content/content.hpp"
#include "engine/problem.hpp"
#include "engine/safety/intake.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cctype>
#include <cmath>
#include <filesystem>
#include <fstream>
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
         {"sucrose", "tartaric_acid", "citric_acid", "ethanol", "grape_tannin", "sodium_chloride"}) {
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
        "still_water_hard, acid_sugar_base is wanted",
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
    for (const solution::Ladder& ladder : shipped().ladders) {
        CAPTURE(ladder.id());
        const solution::Substance& substance = shipped().substance(ladder.substance());
        const bool narrow = ladder.substance() == "ethanol";
        const double centre = narrow                                 ? 1.6
                              : ladder.substance() == "grape_tannin" ? 0.09
                                                                     : substance.prior.centre;
        const solution::Ladder made = solution::ladder_around(ladder.id(), ladder.substance(), ladder.scale(),
                                                              centre, 6, narrow ? 2.0 : 3.0);
        CHECK(ladder.targets() == made.targets());
        // Within 12 % of the centre of the prior: no ladder drifts off.
        CHECK(within(std::log10(centre), std::log10(substance.prior.centre), 0.055));
    }
}

TEST_CASE("a default drill on every ladder stays within all caps, with one known cup, mixed 5 % too strong") {
    for (const solution::Ladder& ladder : shipped().ladders) {
        CAPTURE(ladder.id());
        const solution::Substance& substance = shipped().substance(ladder.substance());
        const safety::Intake intake =
            safety::worst_case(substance, mixed(ladder, 0.05), 12 + 1, Millilitres{10.0});
        const auto found = safety::crossed(shipped().cautions.caps, intake, intake);
        CHECK_MESSAGE(!found, (found ? found->text : ""));
        CHECK(ladder.targets().back() <= substance.strongest_cup);
    }
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
        CHECK(one.name.find("caffeine") == std::string::npos);
    }
    CHECK(shipped().cautions.no_ethanol_reasons.size() >= 6);
}

TEST_CASE("the monohydrate of citric acid holds the acid of its formula") {
    const solution::Ingredient& powder = shipped().ingredient("citric_monohydrate");
    CHECK(within(powder.content.value, 0.995 * shipped().substance("citric_acid").molar_mass.value / 210.139,
                 5e-5));
}
