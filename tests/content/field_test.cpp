#include "engine/content/field.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <functional>

using namespace sipladder;
using nlohmann::json;
using sipladder::content::Field;

namespace {

/// The messages that reading this document in this way leaves.
std::string noted(const json& document, const std::function<void(const Field&)>& read) {
    std::vector<Problem> problems;
    read(Field(document, "a.json", problems));
    return problems.empty() ? "" : Refused(problems).what();
}

}  // namespace

TEST_CASE("good values come through without a note") {
    const json document = {
        {"n", 2.5},    {"i", 7},         {"t", "sugar"}, {"b", true}, {"id", "table_sugar"},
        {"l", {1, 2}}, {"o", {{"k", 1}}}};
    CHECK(noted(document, [](const Field& field) {
              field.only({"n", "i", "t", "b", "id", "l", "o"});
              CHECK(field.at("n").number(0, 3) == 2.5);
              CHECK(field.at("i").number(0, 10) == 7.0);
              CHECK(field.at("i").integer(0, 7) == 7);
              CHECK(field.at("t").text() == "sugar");
              CHECK(field.at("t").one_of({"salt", "sugar"}) == "sugar");
              CHECK(field.at("b").boolean());
              CHECK(field.at("id").id() == "table_sugar");
              CHECK(field.at("l").each().size() == 2);
              CHECK(field.at("o").entries().front().key == "k");
              CHECK_FALSE(field.at("none").is_there());
          }).empty());
}

TEST_CASE("each kind of wrong value gets its message and a stand-in") {
    const json document = {{"n", "six"},
                           {"i", 2.5},
                           {"t", 3},
                           {"blank", " "},
                           {"id", "Table sugar"},
                           {"l", 4},
                           {"huge", 18446744073709551615u}};
    CHECK(noted(document,
                [](const Field& field) {
                    CHECK(field.at("n").number(1, 3) == 1.0);
                    CHECK(field.at("i").integer(1, 3) == 1);
                    CHECK(field.at("t").text().empty());
                    field.at("blank").text();
                    CHECK(field.at("t").one_of({"salt", "sugar"}) == "salt");
                    CHECK_FALSE(field.at("n").boolean());
                    CHECK(field.at("id").id().empty());
                    CHECK(field.at("l").each().empty());
                    CHECK(field.at("huge").integer(0, 5) == 0);
                    CHECK(field.at("i").number(3, 9) == 3.0);
                }) ==
          "a.json: /n: is \"six\"; a number is wanted\n"
          "a.json: /i: is 2.5; a whole number is wanted\n"
          "a.json: /t: is 3; a text is wanted\n"
          "a.json: /blank: is \" \"; a text that is not blank is wanted\n"
          "a.json: /t: is 3; one of \"salt\", \"sugar\" is wanted\n"
          "a.json: /n: is \"six\"; true or false is wanted\n"
          "a.json: /id: is \"Table sugar\"; an id of lower-case letters, digits and _ is wanted\n"
          "a.json: /l: is 4; a list […] is wanted\n"
          "a.json: /huge: is 18446744073709551615; a whole number from 0 to 5 is wanted\n"
          "a.json: /i: is 2.5; a number from 3 to 9 is wanted");
}

TEST_CASE("one mistake is one line: what hangs from it stays silent") {
    CHECK(noted({{"prior", 5}}, [](const Field& field) {
              const Field prior = field.at("prior");
              prior.only({"centre"});
              CHECK(prior.at("centre").number(1, 2) == 1.0);
              prior.at("deeper").at("still").text();
              prior.at("list").each();
          }) == "a.json: /prior: is 5; an object {…} is wanted");
    CHECK(noted(json::array(), [](const Field& field) { field.at("a").at("b").number(0, 1); }) ==
          "a.json: /: is []; an object {…} is wanted");
}

TEST_CASE("what is missing is noted by who needs it, once") {
    CHECK(
        noted(json::object(), [](const Field& field) {
            field.at("level").number(0, 1);
            field.at("level").number(0, 1);
            field.at("a/b").text();
        }) == "a.json: /level: is missing; a number is wanted\na.json: /a~1b: is missing; a text is wanted");
}

TEST_CASE("a long value is shortened between two characters") {
    std::string text;
    for (int i = 0; i < 40; ++i) text += "µ";
    CHECK(noted({{"n", text}}, [](const Field& field) {
              field.at("n").number(0, 1);
          }).find("µ …; a number is wanted") != std::string::npos);
}
