// A person's own equipment, ladders and substances pass the checks of the shipped content, and a few more.

#include "engine/content/own.hpp"

#include "engine/safety/intake.hpp"
#include "tests/support/shipped_content.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <string>
#include <vector>

using namespace sipladder;
using content::OwnKind;
using nlohmann::json;

namespace {

json scale() {
    return json::parse(R"({"schema": "sipladder-equipment/1", "equipment": [{
        "id": "own_scale", "name": "my scale and syringes",
        "balances": [{"id": "scale_1", "name": "scale, 0.01 g", "resolution_g": 0.01, "capacity_g": 500,
                      "source": "own statement", "smallest_load_g": {"value": 0.21, "source": "own statement"},
                      "gain_half_width_rel": {"value": 0.005, "source": "own statement"}}],
        "vessels": [{"id": "syringe_1", "name": "syringe, 10 mL", "kind": "syringe", "nominal_mL": 10,
                     "graduation_mL": 0.5, "smallest_mL": 5, "source": "own statement",
                     "tolerance_rel": {"value": 0.04, "source": "own statement"}, "food_grade_new": true}]}]})");
}

json ladder() {
    return json::parse(R"({"schema": "sipladder-ladders/1", "ladders": [{
        "id": "own_ladder", "substance": "sucrose", "scale": "g_per_L", "base": "still_water",
        "levels": [{"target_g_per_L": 1}, {"target_g_per_L": 2}, {"target_g_per_L": 4}],
        "why": "around my own", "source": "own statement"}]})");
}

/// A bitter-free sweet one; parts are replaced by the cases.
json lactose() {
    return json::parse(R"({"schema": "sipladder-own-substance/1",
        "substances": [{"id": "own_lactose", "name": "lactose", "asked_for": "milk sugar",
            "component": "sweet", "scale": "g_per_L", "density_model": "apparent_volume",
            "apparent_volume_mL_per_g": {"value": 0.61, "source": "own statement"},
            "solubility_g_per_100_g_water": {"value": 18, "source": "own statement"},
            "strongest_cup_g_per_L": {"value": 60, "source": "own statement"},
            "strongest_stock_g_per_L": {"value": 100, "source": "own statement"},
            "counts_as": "sugar", "rest_s": {"value": 60, "source": "own statement"}, "closed_nose": false,
            "prior": {"centre_g_per_L": 8, "sd_log10": 0.5, "why": "a guess", "source": "own statement"}}],
        "ingredients": [{"id": "own_lactose_powder", "name": "lactose powder", "substance": "own_lactose",
            "form": "powder", "allergens": "milk", "note": "food grade",
            "content_mass_fraction": {"value": 0.99, "half_width": 0.01, "source": "own statement"}}]})");
}

json with(json document, const std::string& pointer, const json& value) {
    document[json::json_pointer(pointer)] = value;
    return document;
}

json without(json document, const std::string& parent, const std::string& key) {
    document.at(json::json_pointer(parent)).erase(key);
    return document;
}

std::vector<Problem> added(content::Content& to, OwnKind kind, const json& document) {
    return content::add_own(to, kind, document.dump(), "own");
}

/// The message at a pointer, or "" where there is none; nothing was added then.
std::string said_at(OwnKind kind, const json& document, const std::string& pointer) {
    content::Content to = *tests::shipped_content();
    const std::vector<Problem> problems = added(to, kind, document);
    CHECK_FALSE(problems.empty());
    CHECK(to.substances.size() == tests::shipped_content()->substances.size());
    CHECK(to.ingredients.size() == tests::shipped_content()->ingredients.size());
    CHECK(to.equipment.size() == tests::shipped_content()->equipment.size());
    CHECK(to.ladders.size() == tests::shipped_content()->ladders.size());
    for (const Problem& problem : problems)
        if (problem.where == "own: " + pointer) return problem.what + "; " + problem.right;
    std::string all;
    for (const Problem& problem : problems) all += to_text(problem) + "\n";
    CAPTURE(all);
    CHECK_MESSAGE(false, "no problem at " << pointer << ":\n" << all);
    return "";
}

bool holds(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("own equipment, ladder and substance are added to what is shipped") {
    content::Content to = *tests::shipped_content();
    CHECK(added(to, OwnKind::equipment, scale()).empty());
    CHECK(added(to, OwnKind::ladder, ladder()).empty());
    CHECK(added(to, OwnKind::substance, lactose()).empty());
    CHECK(to.kitchen("own_scale").balances.front().capacity == Grams{500.0});
    CHECK(to.kitchen("own_scale").vessels.front().nominal == Millilitres{10.0});
    CHECK(to.ladder("own_ladder").targets() == std::vector<double>{1.0, 2.0, 4.0});
    CHECK(to.ladder_bases.at("own_ladder") == "still_water");
    CHECK(to.ingredients_of("own_lactose").size() == 1);
    CHECK(to.substance("own_lactose").prior.centre == 8.0);
    CHECK(content::title_of_own(OwnKind::equipment, scale().dump()).name == "my scale and syringes");
    CHECK(content::title_of_own(OwnKind::ladder, ladder().dump()).id == "own_ladder");
    CHECK(content::title_of_own(OwnKind::substance, "{ broken").id.empty());
}

TEST_CASE("an own ladder may be of an own substance, which stays known once it is struck out") {
    content::Content to = *tests::shipped_content();
    REQUIRE(added(to, OwnKind::substance, lactose()).empty());
    CHECK(added(to, OwnKind::ladder, with(ladder(), "/ladders/0/substance", "own_lactose")).empty());
    content::strike_own(to, OwnKind::substance, "own_lactose");
    content::strike_own(to, OwnKind::ladder, "own_ladder");
    CHECK(to.substance("own_lactose").name == "lactose");
    CHECK(to.struck_out.contains("own_lactose"));
    CHECK(to.ladders.size() == tests::shipped_content()->ladders.size());
}

TEST_CASE("an own id never collides with a shipped one or another own one") {
    content::Content to = *tests::shipped_content();
    REQUIRE(added(to, OwnKind::equipment, scale()).empty());
    CHECK_FALSE(added(to, OwnKind::equipment, scale()).empty());
    CHECK(holds(said_at(OwnKind::equipment, with(scale(), "/equipment/0/id", "my_scale"), "/equipment/0/id"),
                "an own id begins with own_"));
    CHECK(holds(said_at(OwnKind::ladder, with(ladder(), "/ladders/0/id", "sucrose_first"), "/ladders/0/id"),
                "another id is wanted"));
    CHECK(
        holds(said_at(OwnKind::substance, with(lactose(), "/substances/0/id", "sucrose"), "/substances/0/id"),
              "another id is wanted"));
    for (const auto& one : tests::shipped_content()->substances) CHECK_FALSE(content::is_own(one.id));
    for (const auto& one : tests::shipped_content()->equipment) CHECK_FALSE(content::is_own(one.id));
}

TEST_CASE("what is wrong with own equipment is told where it stands") {
    CHECK(holds(said_at(OwnKind::equipment, with(scale(), "/equipment/0/balances/0/resolution_g", "fine"),
                        "/equipment/0/balances/0/resolution_g"),
                "a number is wanted"));
    CHECK(holds(said_at(OwnKind::equipment, with(scale(), "/equipment/0/vessels/0/food_grade_new", false),
                        "/equipment/0/vessels/0/food_grade_new"),
                "needle-free"));
    CHECK(holds(said_at(OwnKind::equipment, with(scale(), "/equipment/0/vessels/0/smallest_mL", 20),
                        "/equipment/0/vessels/0/smallest_mL"),
                "more than the vessel holds"));
    CHECK(holds(said_at(OwnKind::equipment, with(scale(), "/equipment/0/name", "  "), "/equipment/0/name"),
                "not blank"));
    json two = scale();
    two["equipment"].push_back(two["equipment"][0]);
    two["equipment"][1]["id"] = "own_scale_2";
    content::Content to = *tests::shipped_content();
    CHECK(holds(to_text(added(to, OwnKind::equipment, two).front()), "one is wanted"));
}

TEST_CASE("an own ladder ascends, stays below the strongest cup and in a base that is there") {
    CHECK(holds(said_at(OwnKind::ladder, with(ladder(), "/ladders/0/levels/1/target_g_per_L", 0.5),
                        "/ladders/0/levels/1/target_g_per_L"),
                "weakest to strongest"));
    CHECK(holds(said_at(OwnKind::ladder, with(ladder(), "/ladders/0/levels/2/target_g_per_L", 900),
                        "/ladders/0/levels/2/target_g_per_L"),
                "strongest cup"));
    CHECK(holds(said_at(OwnKind::ladder, with(ladder(), "/ladders/0/base", "soda"), "/ladders/0/base"),
                "is wanted"));
}

TEST_CASE("an own substance says what it counts as, and may not say less than its component means") {
    CHECK(holds(said_at(OwnKind::substance, without(lactose(), "/substances/0", "counts_as"),
                        "/substances/0/counts_as"),
                "is missing"));
    const auto bitter = with(lactose(), "/substances/0/component", "bitter");
    for (const char* other : {"sugar", "glycerol", "thickener", "tannin", "salt", "nothing"})
        CHECK(holds(said_at(OwnKind::substance, with(bitter, "/substances/0/counts_as", other),
                            "/substances/0/counts_as"),
                    "wanted"));
    CHECK(holds(
        said_at(OwnKind::substance,
                with(with(lactose(), "/substances/0/component", "sour"), "/substances/0/counts_as", "sugar"),
                "/substances/0/counts_as"),
        "acid is wanted"));
    content::Content to = *tests::shipped_content();
    json weak = with(lactose(), "/substances/0/counts_as", "thickener");
    weak = with(with(weak, "/substances/0/strongest_cup_g_per_L/value", 0.5),
                "/substances/0/strongest_stock_g_per_L/value", 1.0);
    CHECK(added(to, OwnKind::substance, with(weak, "/substances/0/prior/centre_g_per_L", 0.1)).empty());
    CHECK(safety::counts_as(to.substance("own_lactose")) == "thickener");
}

TEST_CASE("own caffeine comes in counted tablets only, and own alcohol in % vol only") {
    json bitter =
        with(with(lactose(), "/substances/0/component", "bitter"), "/substances/0/counts_as", "caffeine");
    bitter = with(with(bitter, "/substances/0/strongest_cup_g_per_L/value", 0.3),
                  "/substances/0/strongest_stock_g_per_L/value", 0.5);
    bitter = with(bitter, "/substances/0/prior/centre_g_per_L", 0.05);
    CHECK(holds(said_at(OwnKind::substance, bitter, "/ingredients/0/form"), "tablets"));
    json tablets = with(bitter, "/ingredients/0/form", "tablet");
    tablets = without(tablets, "/ingredients/0", "content_mass_fraction");
    tablets = with(tablets, "/ingredients/0/held_mg_per_piece",
                   json{{"value", 900}, {"half_width", 10}, {"source", "own statement"}});
    CHECK(holds(said_at(OwnKind::substance, tablets, "/ingredients/0/held_mg_per_piece/value"), "200 mg"));

    CHECK(holds(said_at(OwnKind::substance,
                        with(with(lactose(), "/substances/0/component", "alcohol"), "/substances/0/counts_as",
                             "ethanol"),
                        "/substances/0/component"),
                "pct_vol"));
    CHECK(holds(said_at(OwnKind::substance, with(lactose(), "/substances/0/name", "Ethanol drops"),
                        "/substances/0/name"),
                "counts as ethanol"));
    CHECK(holds(said_at(OwnKind::substance, with(lactose(), "/ingredients/0/name", "Caffeine, pure"),
                        "/ingredients/0/name"),
                "counts as caffeine"));
    CHECK(holds(
        said_at(OwnKind::substance, with(lactose(), "/substances/0/name", "alum"), "/substances/0/name"),
        "see the cautions"));
}

TEST_CASE("no own cup or stock is stronger than what is shipped and counts alike") {
    double cup = 0.0;
    for (const auto& one : tests::shipped_content()->substances)
        if (safety::counts_as(one) == "sugar") cup = std::max(cup, one.strongest_cup);
    json strong = with(lactose(), "/substances/0/strongest_cup_g_per_L/value", cup + 1.0);
    strong = with(strong, "/substances/0/strongest_stock_g_per_L/value", cup + 1.0);
    strong = without(strong, "/substances/0", "solubility_g_per_100_g_water");
    CHECK(holds(said_at(OwnKind::substance, strong, "/substances/0/strongest_cup_g_per_L/value"),
                "counts alike"));
}

TEST_CASE("an own substance gets the cautions of those that count alike") {
    content::Content to = *tests::shipped_content();
    REQUIRE(added(to, OwnKind::substance, lactose()).empty());
    std::vector<std::string> ids;
    for (const auto& caution : safety::cautions_for(to.cautions, "own_lactose")) ids.push_back(caution.id);
    for (const auto& caution : safety::cautions_for(tests::shipped_content()->cautions, "sucrose"))
        CHECK(std::ranges::find(ids, caution.id) != ids.end());
    CHECK(std::ranges::find(ids, "sugar_diabetes") != ids.end());
    const auto held = safety::intake_of_cup(to.substance("own_lactose"), 50.0, Millilitres{10.0});
    CHECK(tests::within(held.sugar.value, 0.5, 1e-12));
}

TEST_CASE("without a caution or a cap for what it counts as, an own substance is refused") {
    content::Content bare = *tests::shipped_content();
    std::erase_if(bare.cautions.texts, [](const safety::Caution& one) { return !one.substances.empty(); });
    const std::vector<Problem> problems = added(bare, OwnKind::substance, lactose());
    REQUIRE(problems.size() == 1);
    CHECK(holds(to_text(problems.front()), "no caution"));
    content::Content uncapped = *tests::shipped_content();
    uncapped.cautions.caps.clear();
    CHECK(holds(to_text(added(uncapped, OwnKind::substance, lactose()).front()), "no cap"));
}

TEST_CASE("texts that are no such thing are refused, whatever they hold") {
    for (const std::string& text :
         {std::string(), std::string("[]"), std::string("{}"), std::string("{\"schema\":1}"),
          std::string(R"({"schema":"sipladder-equipment/2","equipment":[]})"), std::string(100'000, '['),
          std::string("\xff\xfe"), scale().dump()})
        for (const OwnKind kind : {OwnKind::ladder, OwnKind::substance}) {
            content::Content to = *tests::shipped_content();
            CHECK_FALSE(content::add_own(to, kind, text, "own").empty());
        }
}

TEST_CASE("what is typed becomes the text of a thing, numbers with comma or point, nonsense as it stands") {
    using content::OwnValue;
    const auto number = [](const std::string& typed, double scale = 1.0) {
        return OwnValue{OwnValue::Kind::number, typed, scale};
    };
    const json made = json::parse(content::own_text(
        "equipment", {{"/equipment/0/name", {OwnValue::Kind::text, " mine ", 1.0}},
                      {"/equipment/0/balances/0/resolution_g", number("0,01")},
                      {"/equipment/0/balances/0/gain_half_width_rel/value", number("0.5", 0.01)},
                      {"/equipment/0/balances/10/resolution_g", number("heavy")},
                      {"/equipment/0/vessels/0/food_grade_new", {OwnValue::Kind::flag, "true", 1.0}},
                      {"/equipment/0/note", {OwnValue::Kind::text, "  ", 1.0}}}));
    CHECK(made["schema"] == "sipladder-equipment/1");
    CHECK(made["equipment"][0]["name"] == "mine");
    CHECK(made["equipment"][0]["balances"][0]["resolution_g"] == 0.01);
    CHECK(made["equipment"][0]["balances"][0]["gain_half_width_rel"]["value"] == 0.005);
    CHECK(made["equipment"][0]["balances"][10]["resolution_g"] == "heavy");
    CHECK(made["equipment"][0]["vessels"][0]["food_grade_new"] == true);
    CHECK_FALSE(made["equipment"][0].contains("note"));
}
