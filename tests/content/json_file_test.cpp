#include "engine/content/json_file.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace sipladder;
using namespace sipladder::content;

namespace {

std::string messages(std::string_view text) {
    std::vector<Problem> problems;
    const auto document = parse_json(text, "a.json", problems);
    CHECK((document == nullptr) == !problems.empty());
    return problems.empty() ? "" : Refused(problems).what();
}

}  // namespace

TEST_CASE("a document is read as it stands") {
    std::vector<Problem> problems;
    const auto document =
        parse_json(R"({"a": [1, -2.5, "µ", true, null, {}], "b": {"c": []}})", "a.json", problems);
    REQUIRE(document);
    CHECK(*document == nlohmann::json::parse(R"({"a": [1, -2.5, "µ", true, null, {}], "b": {"c": []}})"));
    CHECK(*parse_json("3", "a.json", problems) == 3);
    CHECK(problems.empty());
}

TEST_CASE("every repeated key is named with its pointer") {
    CHECK(messages(R"({"a": 1, "b": [{"c/d": 1, "x": {"e": 1, "e": 2}, "c/d": 2}], "a": 3})") ==
          "a.json: /b/0/x/e: is given twice; give it once\n"
          "a.json: /b/0/c~1d: is given twice; give it once\n"
          "a.json: /a: is given twice; give it once");
}

TEST_CASE("what is no JSON is named with line and column, counted in characters") {
    CHECK(messages("{\"µ\": 1,\n \"µµ\" 2}") ==
          "a.json: line 2, column 7: is no JSON: unexpected number literal; ':' is wanted");
    CHECK(messages("").find("a.json: line 1, column 1: is no JSON: unexpected end of input") == 0);
    CHECK(messages("[1, NaN]").find("a.json: line 1, column ") == 0);
    CHECK(messages("[1] 2").find("a.json: line 1, column 5: is no JSON: unexpected number literal") == 0);
}

TEST_CASE("numbers too large, broken UTF-8 and bottomless nesting are refused") {
    CHECK(messages("[1e999]") ==
          "a.json: line 1, column 6: is a number too large to hold; a number below 1.8e308 is wanted");
    CHECK(messages("[\"\xC3\x28\"]").find("is no JSON: invalid string: ill-formed UTF-8 byte") !=
          std::string::npos);
    CHECK(messages(std::string(100000, '['))
              .find("is nested deeper than 32 levels; a flatter file is wanted") != std::string::npos);
    CHECK(messages(std::string(32, '[') + std::string(32, ']')).empty());
    CHECK(messages(std::string(largest_file_bytes + 1, ' ')) ==
          "a.json: is 8388609 bytes long; at most 8388608 are read");
}

TEST_CASE("a file that is not there or is a folder is a problem, not an end") {
    std::vector<Problem> problems;
    CHECK_FALSE(read_json_file("no/such/file.json", problems));
    CHECK_FALSE(read_json_file(SIPLADDER_SOURCE_DIR "/tests", problems));
    REQUIRE(problems.size() == 2);
    CHECK(to_text(problems.front()) ==
          "no/such/file.json: is not there or is no file; a readable file is wanted");
}
