#include "engine/content/content.hpp"
#include "engine/problem.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

using namespace sipladder;
using nlohmann::json;

// A good folder, one thing broken in it, and the whole message that comes of it.

namespace {

const std::filesystem::path shipped = SIPLADDER_SOURCE_DIR "/content";

class BrokenContent {
  public:
    BrokenContent() {
        for (const char* name : {"bases", "cautions", "equipment", "ingredients", "ladders", "programmes",
                                 "reference_thresholds", "sources", "substances"})
            std::filesystem::copy_file(shipped / (std::string(name) + ".json"), file(name));
        std::filesystem::copy(shipped / "handbook", folder_.path() / "handbook");
    }

    std::filesystem::path file(const std::string& name) const { return folder_.path() / (name + ".json"); }

    std::string text(const std::string& name) const {
        std::ifstream in(file(name), std::ios::binary);
        std::ostringstream out;
        out << in.rdbuf();
        return out.str();
    }

    void write(const std::string& name, const std::string& text) const {
        std::ofstream(file(name), std::ios::binary) << text;
    }

    /// Puts another value at a JSON pointer.
    void put(const std::string& name, const std::string& pointer, const json& value) const {
        json document = json::parse(text(name));
        document[json::json_pointer(pointer)] = value;
        write(name, document.dump());
    }

    void take_out(const std::string& name, const std::string& parent, const std::string& key) const {
        json document = json::parse(text(name));
        document.at(json::json_pointer(parent)).erase(key);
        write(name, document.dump());
    }

    /// The messages, one a line, with the folder's name taken off.
    std::string messages() const {
        try {
            content::load(folder_.path());
        } catch (const Refused& refused) {
            std::string all = refused.what();
            const std::string prefix = folder_.path().generic_string() + "/";
            for (auto at = all.find(prefix); at != std::string::npos; at = all.find(prefix))
                all.erase(at, prefix.size());
            return all;
        }
        return "no problem";
    }

  private:
    tests::TemporaryFolder folder_;
};

}  // namespace

TEST_CASE("an unbroken copy of the content loads") {
    CHECK(BrokenContent().messages() == "no problem");
}

TEST_CASE("a text where a number belongs is named with what it is") {
    const BrokenContent content;
    content.put("ladders", "/ladders/2/levels/0/target_g_per_L", "six");
    CHECK(content.messages() ==
          "ladders.json: /ladders/2/levels/0/target_g_per_L: is \"six\"; a number is wanted");
}

TEST_CASE("a misspelt key is named, and so is the one that is missing for it") {
    const BrokenContent content;
    content.put("ladders", "/ladders/2/levels/1", {{"targt_g_per_L", 0.038}});
    CHECK(content.messages() ==
          "ladders.json: /ladders/2/levels/1: has the unknown field \"targt_g_per_L\"; check the spelling\n"
          "ladders.json: /ladders/2/levels/1/target_g_per_L: is missing; a number is wanted");
}

TEST_CASE("a number out of its range is named with the range") {
    const BrokenContent content;
    content.put("substances", "/substances/0/prior/sd_log10", 7.5);
    CHECK(content.messages() ==
          "substances.json: /substances/0/prior/sd_log10: is 7.5; a number from 0.05 to 2 is wanted");
}

TEST_CASE("levels that do not ascend are named with the level before") {
    const BrokenContent content;
    content.put("ladders", "/ladders/0/levels/4/target_g_per_L", 4.0);
    content.put("ladders", "/ladders/0/levels/3/target_g_per_L", 6.0);
    CHECK(content.messages() ==
          "ladders.json: /ladders/0/levels/4/target_g_per_L: is 4.0, less than the level before it "
          "(6.0); levels run weakest to strongest");
}

TEST_CASE("a level above the substance's cap is refused") {
    const BrokenContent content;
    content.put("ladders", "/ladders/1/levels/5/target_g_per_L", 12);
    CHECK(content.messages() ==
          "ladders.json: /ladders/1/levels/5/target_g_per_L: is 12, above the strongest cup of tartaric "
          "acid (10 g/L); a weaker level is wanted");
}

TEST_CASE("a ladder on another scale than its substance is refused") {
    const BrokenContent content;
    content.put("ladders", "/ladders/3/substance", "sucrose");
    CHECK(content.messages() == "ladders.json: /ladders/3/scale: is \"pct_vol\"; sucrose is counted in g/L");
}

TEST_CASE("an unknown substance is named with those there are, wherever it stands") {
    const BrokenContent content;
    content.put("ingredients", "/ingredients/0/substance", "sucrase");
    content.put("cautions", "/texts/10/substances/0", "vinegar");
    CHECK(
        content.messages() ==
        "ingredients.json: /ingredients/0/substance: is \"sucrase\", which substances.json lacks; one of "
        "sucrose, "
        "tartaric_acid, citric_acid, ethanol, grape_tannin, sodium_chloride, glucose, fructose, malic_acid, "
        "acetic_acid, caffeine, glycerol, food_thickener is wanted\n"
        "cautions.json: /texts/10/substances/0: is \"vinegar\", which substances.json lacks; one of sucrose, "
        "tartaric_acid, citric_acid, ethanol, grape_tannin, sodium_chloride, glucose, fructose, malic_acid, "
        "acetic_acid, caffeine, glycerol, food_thickener is wanted");
}

TEST_CASE("an unknown source is refused, also where a judgement rests on it") {
    const BrokenContent content;
    content.put("substances", "/substances/0/molar_mass_g_per_mol/source", "somebody_1999");
    content.put("cautions", "/caps/0/rests_on/0", "nobody_2000");
    CHECK(content.messages() ==
          "substances.json: /substances/0/molar_mass_g_per_mol/source: is \"somebody_1999\", which "
          "sources.json lacks; a key of "
          "sources.json, \"judgement\", \"from memory\" or \"common practice\" is wanted\n"
          "cautions.json: /caps/0/rests_on/0: is \"nobody_2000\", which sources.json lacks; a key of "
          "sources.json, \"judgement\", \"from memory\" or \"common practice\" is wanted");
}

TEST_CASE("a figure without a source is refused") {
    const BrokenContent content;
    content.take_out("bases", "/bases/1/bicarbonate_mg_per_L", "source");
    CHECK(content.messages() ==
          "bases.json: /bases/1/bicarbonate_mg_per_L/source: is missing; a text is wanted");
}

TEST_CASE("a key given twice is refused, where the parser would keep the last") {
    const BrokenContent content;
    content.write("bases",
                  R"({"schema": "sipladder-bases/1", "bases": [{"id": "a", "name": "a", "name": "b"}]})");
    CHECK(content.messages() == "bases.json: /bases/0/name: is given twice; give it once");
}

TEST_CASE("a syntax error is named with line and column") {
    const BrokenContent content;
    content.write("bases", "{\n  \"schema\": \"sipladder-bases/1\",\n  \"bases\": [}\n");
    CHECK(content.messages() ==
          "bases.json: line 3, column 13: is no JSON: unexpected '}'; '[', '{', or a literal is wanted");
}

TEST_CASE("problems of all files come in one run") {
    const BrokenContent content;
    content.write("bases", "nonsense");
    std::filesystem::remove(content.file("equipment"));
    content.put("ladders", "/ladders/0/source", "");
    content.put("ingredients", "/ingredients/5/strength_pct_vol/value", 96);
    content.put("substances", "/schema", "sipladder-substances/2");
    CHECK(
        content.messages() ==
        "substances.json: /schema: is \"sipladder-substances/2\"; one of \"sipladder-substances/1\" is "
        "wanted\n"
        "bases.json: line 1, column 2: is no JSON: invalid literal; last read: 'no'; correct the text there\n"
        "equipment.json: is not there or is no file; a readable file is wanted\n"
        "ladders.json: /ladders/0/source: is \"\"; a text that is not blank is wanted\n"
        "ingredients.json: /ingredients/5/strength_pct_vol/value: is 96, stronger than is safe at a table; "
        "a spirit of at "
        "most 60 % vol is wanted");
}

TEST_CASE("an id that is there twice is refused") {
    const BrokenContent content;
    content.put("substances", "/substances/2/id", "tartaric_acid");
    content.put("ladders", "/ladders/1/id", "sucrose_first");
    const std::string messages = content.messages();
    CHECK(messages.find("substances.json: /substances/2/id: is \"tartaric_acid\", which an entry before it "
                        "has; another id is "
                        "wanted\n") != std::string::npos);
    CHECK(
        messages.find(
            "ladders.json: /ladders/1/id: is \"sucrose_first\", which an entry before it has; another id is "
            "wanted") != std::string::npos);
}

TEST_CASE("a programme of ladders or drills that there are not is refused") {
    const BrokenContent content;
    content.put("programmes", "/programmes/0/drills/1/ladders/0", "gravel_first");
    content.put("programmes", "/programmes/1/drills/1/ladders", json::array({"sucrose_first"}));
    content.put("programmes", "/programmes/2/base", "lemonade");
    content.put("programmes", "/programmes/3/drills/0/kind", "guessing");
    const std::string messages = content.messages();
    for (const char* wanted :
         {"/programmes/0/drills/1/ladders/0: is \"gravel_first\", which ladders.json lacks",
          "/programmes/1/drills/1/ladders: holds 1; recognition tells at least two apart",
          "/programmes/2/base: is \"lemonade\", which bases.json lacks",
          "/programmes/3/drills/0/kind: is \"guessing\""}) {
        CAPTURE(messages);
        CHECK(messages.find(wanted) != std::string::npos);
    }
}

TEST_CASE("a cap that is missing is noticed, since it would never stop anyone") {
    const BrokenContent content;
    json document = json::parse(content.text("cautions"));
    document["caps"].erase(0);
    content.write("cautions", document.dump());
    CHECK(content.messages() == "cautions.json: /caps: has no cap on ethanol_g; a cap on each is wanted");
}

TEST_CASE("equipment that cannot be is refused") {
    const BrokenContent content;
    content.put("equipment", "/equipment/0/balances/0/smallest_load_g/value", 0.001);
    content.put("equipment", "/equipment/0/vessels/0/food_grade_new", false);
    content.put("equipment", "/equipment/0/vessels/1/smallest_mL", 50);
    content.put("equipment", "/equipment/2/vessels/0/graduation_mL", 1);
    CHECK(content.messages() ==
          "equipment.json: /equipment/0/balances/0/smallest_load_g/value: is 0.001, less than one step of "
          "the display (0.01); a "
          "load that the display can show is wanted\n"
          "equipment.json: /equipment/0/vessels/0/food_grade_new: is false for a syringe; use new, "
          "needle-free syringes: true "
          "is wanted\n"
          "equipment.json: /equipment/0/vessels/1/smallest_mL: is 50, more than the vessel holds (5); a "
          "smaller volume is wanted\n"
          "equipment.json: /equipment/2/vessels/0: is a flask with more than one mark; graduation_mL 0 and "
          "smallest_mL 100 are "
          "wanted");
}

TEST_CASE("a person's own ladder passes the same gate") {
    const content::Content good = content::load(shipped);
    const tests::TemporaryFolder folder;
    const auto file = folder.path() / "mine.json";
    std::ofstream(file)
        << R"({"schema": "sipladder-ladders/1", "ladders": [{"id": "mine", "substance": "sucrose", "scale":
        "g_per_L", "levels": [{"target_g_per_L": 1}, {"target_g_per_L": 2}], "why": "own history", "source": "judgement"}]})";
    CHECK(content::load_ladder(file, good).targets() == std::vector<double>{1.0, 2.0});
    CHECK_THROWS_AS(content::load_equipment(file, good), Refused);
    CHECK_THROWS_WITH_AS(
        content::load_ladder(shipped / "ladders.json", good),
        ((shipped / "ladders.json").generic_string() + ": holds 28 entries; one is wanted").c_str(), Refused);
    CHECK_THROWS_WITH_AS(content::load_ladder(folder.path() / "none.json", good),
                         ((folder.path() / "none.json").generic_string() +
                          ": is not there or is no file; a readable file is wanted")
                             .c_str(),
                         Refused);
}

TEST_CASE("pure caffeine, strong tablets, concentrated acid and strong spirit have no place in content") {
    const BrokenContent content;
    json document = json::parse(content.text("ingredients"));
    for (json& one : document["ingredients"]) {
        if (one["id"] == "caffeine_tablet_100") {
            one["form"] = "powder";
            one.erase("held_mg_per_piece");
            one["content_mass_fraction"] = {{"value", 0.99}, {"half_width", 0.01}, {"source", "judgement"}};
        }
        if (one["id"] == "caffeine_tablet_200") one["held_mg_per_piece"]["value"] = 500;
        if (one["id"] == "vinegar_10") one["held_g_per_L"]["value"] = 250;
        if (one["id"] == "spirit_43") one["strength_pct_vol"]["value"] = 96;
    }
    content.write("ingredients", document.dump());
    const std::string messages = content.messages();
    CHECK(messages.find("/form: is \"powder\" of caffeine; tablets of stated strength are wanted") !=
          std::string::npos);
    CHECK(messages.find("is 500, more than one dose; tablets of at most 200 mg are wanted") !=
          std::string::npos);
    CHECK(messages.find("is 250, a concentrated acid; table vinegar of at most 100 g/L is wanted") !=
          std::string::npos);
    CHECK(messages.find("is 96, stronger than is safe at a table") != std::string::npos);
    CHECK(std::count(messages.begin(), messages.end(), '\n') == 3);
}

TEST_CASE("a base is made of known ingredients, drinkable and without crystals") {
    const BrokenContent content;
    json document = json::parse(content.text("bases"));
    json& base = document["bases"][4];
    REQUIRE(base["id"] == "acid_sugar_base");
    base["constituents"][0]["ingredient"] = "battery_acid";
    base["constituents"][1]["g_per_L"]["value"] = 30;
    base["constituents"][2]["ingredient"] = "spirit_40";
    base["potassium_mmol_per_L"]["value"] = 40;
    base["ethanol_pct_vol"] = {{"value", 12}, {"source", "judgement"}};
    base["ethanol_from"] = "table_sugar";
    content.write("bases", document.dump());
    const std::string messages = content.messages();
    CHECK(messages.find("/constituents/0/ingredient: is \"battery_acid\", which ingredients.json lacks") !=
          std::string::npos);
    CHECK(messages.find("/constituents/1/g_per_L/value: is 30, above the strongest cup of malic acid (10)") !=
          std::string::npos);
    CHECK(messages.find(
              "/constituents/2/ingredient: is \"spirit_40\", a spirit; state it as ethanol_pct_vol") !=
          std::string::npos);
    CHECK(messages.find("/potassium_mmol_per_L/value: is 40; ") != std::string::npos);
    CHECK(messages.find("/ethanol_from: is \"table_sugar\", no spirit") != std::string::npos);
    CHECK(std::count(messages.begin(), messages.end(), '\n') == 4);
    base["potassium_from"] = "wood ash";
    content.write("bases", document.dump());
    CHECK(content.messages().find("potassium_from: is \"wood ash\"; one of ") != std::string::npos);
}

TEST_CASE(
    "a substance without an ingredient, a ladder or a caution of its own is refused, each by its file") {
    const BrokenContent content;
    json substances = json::parse(content.text("substances"));
    json other = substances.at("substances").at(1);
    other["id"] = "another_acid";
    substances.at("substances").push_back(other);
    content.write("substances", substances.dump());
    CHECK(content.messages() ==
          "ingredients.json: has nothing for \"another_acid\"; at least one ingredient that holds it is "
          "wanted\n"
          "ladders.json: has nothing for \"another_acid\"; at least one ladder is wanted\n"
          "cautions.json: has nothing for \"another_acid\"; at least one text that names it is wanted");
}
