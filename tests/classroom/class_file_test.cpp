// What a class file says of the equipment: an id, as ever, or the object itself.

#include "drills/classroom/class_file.hpp"

#include "engine/problem.hpp"
#include "tests/support/shipped_content.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <fstream>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::drills::classroom;
using nlohmann::json;

namespace {

/// A school's balance and two vessels; invented.
json balance_of_the_school() {
    const json stated{{"value", 0.002}, {"source", "own statement"}};
    return {{"id", "own_school"},
            {"name", "the school's balance"},
            {"balances",
             {{{"id", "scale_1"},
               {"name", "balance, 0.001 g"},
               {"resolution_g", 0.001},
               {"capacity_g", 320},
               {"source", "own statement"},
               {"smallest_load_g", {{"value", 0.021}, {"source", "own statement"}}},
               {"gain_half_width_rel", stated}}}},
            {"vessels",
             {{{"id", "vessel_1"},
               {"name", "syringe, 20 mL"},
               {"kind", "syringe"},
               {"nominal_mL", 20},
               {"graduation_mL", 0.5},
               {"smallest_mL", 10},
               {"source", "own statement"},
               {"tolerance_rel", {{"value", 0.04}, {"source", "own statement"}}},
               {"food_grade_new", true}},
              {{"id", "vessel_2"},
               {"name", "jug, 1000 mL"},
               {"kind", "jug"},
               {"nominal_mL", 1000},
               {"graduation_mL", 50},
               {"smallest_mL", 500},
               {"source", "own statement"},
               {"tolerance_rel", {{"value", 0.05}, {"source", "own statement"}}},
               {"food_grade_new", false}}}}};
}

json class_with(const json& equipment) {
    return {{"schema", "sipladder-class/1"},
            {"title", "Evening class, invented"},
            {"people", 6},
            {"equipment", equipment},
            {"drills",
             {{{"name", "In order"},
               {"question", "Put the cups in order, the least sweet first."},
               {"task", "ranking"},
               {"cup_mL", 10},
               {"ladders", {"sucrose_ranking"}}}}}};
}

ClassChoice read(const json& document) {
    const tests::TemporaryFolder folder;
    std::ofstream(folder / "class.json") << document.dump(1);
    return read_class_file((folder / "class.json").string(), *tests::shipped_content());
}

std::vector<Problem> problems_of(const json& document) {
    try {
        read(document);
    } catch (const Refused& refused) {
        return refused.problems();
    }
    return {};
}

std::vector<std::string> steps_of(const ClassChoice& choice) {
    std::vector<std::string> steps;
    for (const solution::MixPlan& mix : prepared(choice, *tests::shipped_content(), Seed{3}, "class").mixes)
        for (const solution::Step& step : mix.steps) steps.push_back(step.text);
    return steps;
}

bool holds(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("a class that carries its equipment is planned with it, and is written as it was read") {
    const ClassChoice choice = read(class_with(balance_of_the_school()));
    REQUIRE(choice.carried);
    CHECK(choice.kitchen == "own_school");
    CHECK(equipment_of(choice, *tests::shipped_content())->balances.front().resolution == Grams{0.001});
    const json written = json::parse(class_json(choice));
    CHECK(written.at("equipment") == balance_of_the_school());
    const ClassChoice again = read(written);
    CHECK(class_json(again) == class_json(choice));
    const PreparedClass planned = prepared(choice, *tests::shipped_content(), Seed{3}, "class");
    REQUIRE(planned.mixes.size() == 1);
    CHECK(planned.mixes.front().request.equipment.name == "the school's balance");
    CHECK(planned.mixes.front().steps.front().with == "balance, 0.001 g");
    CHECK(steps_of(again) == steps_of(choice));
    // Once in bottles nothing is to be mixed any more.
    const json bottled = json::parse(class_json(in_bottles(choice, planned)));
    CHECK_FALSE(bottled.contains("equipment"));
}

TEST_CASE("a class that names its equipment by id reads and is written as ever") {
    const ClassChoice choice = read(class_with("teaching_room"));
    CHECK_FALSE(choice.carried);
    CHECK(choice.kitchen == "teaching_room");
    CHECK(json::parse(class_json(choice)).at("equipment") == "teaching_room");
    CHECK(prepared(choice, *tests::shipped_content(), Seed{3}, "class").mixes.front().request.equipment.id ==
          "teaching_room");
    // An entry of the content itself may be carried too, sources and reasons included.
    const json entry = json::parse(tests::shipped_content()->equipment_entries.at("teaching_room"));
    const ClassChoice carried = read(class_with(entry));
    REQUIRE(carried.carried);
    CHECK(json::parse(class_json(carried)).at("equipment") == entry);
    CHECK(steps_of(carried) == steps_of(choice));
}

TEST_CASE("what is wrong with a carried equipment is told with its file and its field") {
    const auto said = [](const std::string& pointer, const json& value, const std::string& at,
                         const std::string& words) {
        json equipment = balance_of_the_school();
        equipment[json::json_pointer(pointer)] = value;
        std::string all;
        for (const Problem& problem : problems_of(class_with(equipment))) {
            all += to_text(problem) + "\n";
            if (problem.where.ends_with("class.json: /equipment" + at) &&
                holds(problem.what + "; " + problem.right, words))
                return true;
        }
        MESSAGE(all);
        return false;
    };
    const std::string scale = "/balances/0";
    CHECK(said(scale + "/resolution_g", "fine", scale + "/resolution_g", "a number is wanted"));
    CHECK(said(scale + "/smallest_load_g/value", 500, scale + "/smallest_load_g/value",
               "not below the capacity"));
    CHECK(said(scale + "/source", "hearsay", scale + "/source", "sources.json lacks"));
    CHECK(said("/vessels/0/food_grade_new", false, "/vessels/0/food_grade_new", "needle-free"));
    CHECK(said("/vessels/1/id", "vessel_1", "/vessels/1/id", "another id is wanted"));
    CHECK(said("/colour", "blue", "", "unknown field \"colour\""));
    for (const json& wrong : {json("moonlight_kitchen"), json(5), json::array(), json()}) {
        const std::vector<Problem> problems = problems_of(class_with(wrong));
        CAPTURE(wrong.dump());
        REQUIRE(problems.size() == 1);
        CHECK(problems.front().where.ends_with("class.json: /equipment"));
    }
    // All of its mistakes at once, beside those of the class.
    json several = class_with(balance_of_the_school());
    several["people"] = 0;
    several["equipment"]["balances"][0].erase("capacity_g");
    several["equipment"]["vessels"][1]["kind"] = "bucket";
    CHECK(problems_of(several).size() >= 3);
}
