#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <limits>
#include <stdexcept>

using namespace sipladder::tests;

namespace {

std::string refusal(const std::string& text) {
    try {
        published_from_text(text, "a.json");
    } catch (const std::runtime_error& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("every file of published values can be read and names its sources") {
    std::size_t files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(SIPLADDER_SOURCE_DIR "/tests/published")) {
        if (entry.path().extension() != ".json") continue;
        CAPTURE(entry.path().filename().string());
        CHECK_NOTHROW(published(entry.path().filename().string()));
        ++files;
    }
    CHECK(files > 0);
}

TEST_CASE("a published case without a known source, a provenance or a tolerance fails by itself") {
    CHECK(
        refusal(
            R"([{"id":"a","provenance":"published","data":{},"expected":[{"name":"x","value":1,"abs":0}]}])") ==
        "a.json: a: names no source; give \"source\": [keys of content/sources.json]");
    CHECK(refusal(R"([{"id":"a","source":["nobody"],"provenance":"p","data":{},"expected":[]}])") ==
          "a.json: a: names the source \"nobody\", which content/sources.json lacks");
    CHECK(
        refusal(
            R"([{"id":"a","source":["oiml_r22"],"data":{},"expected":[{"name":"x","value":1,"abs":0}]}])") ==
        "a.json: a: does not say its provenance");
    CHECK(
        refusal(
            R"([{"id":"a","source":["oiml_r22"],"provenance":"p","data":{},"expected":[{"name":"x","value":[1]}]}])") ==
        "a.json: a: the expectation \"x\" lacks a tolerance (abs or rel)");
    CHECK(refusal(R"([{"id":"a","source":["oiml_r22"],"provenance":"p","data":{},"expected":[]}])") ==
          "a.json: a: expects nothing");
    CHECK(refusal("[]") == "a.json: is no array of cases");
}

TEST_CASE("a published case gives numbers, arrays, tables and texts, and says where something is not") {
    const auto cases = published_from_text(R"([{"id":"a","source":["oiml_r22"],"provenance":"p",
        "data":{"x":[1,2.5],"t":[[1,2],[3,4]],"n":{"name":"K"},"whole":7},
        "expected":[{"name":"y","value":[2,4],"abs":0.1},{"name":"z","value":10,"rel":0.01},{"name":"w","value":"inside"}]}])",
                                           "a.json");
    const PublishedCase& one = cases.at(0);
    CHECK(one.source_text().find("OIML") != std::string::npos);
    CHECK(one.data("x").numbers() == std::vector<double>{1.0, 2.5});
    CHECK(one.data("t").rows() == std::vector<std::vector<double>>{{1.0, 2.0}, {3.0, 4.0}});
    CHECK(one.data("n").at("name").text() == "K");
    CHECK(one.data("whole").integer() == 7);
    CHECK(one.expects("w"));
    CHECK(one.expected("w").text() == "inside");
    CHECK_THROWS_WITH(one.data("q"), "a.json: a/data: has no \"q\"");
    CHECK_THROWS_WITH(one.data("n").at("name").number(), "a.json: a/data/n/name: is no number");

    CHECK(within({2.09, 3.91}, one.expected("y")));
    CHECK_FALSE(within({2.11, 4.0}, one.expected("y")));
    CHECK_FALSE(within(std::vector<double>{2.0}, one.expected("y")));
    CHECK(within(10.09, one.expected("z")));
    CHECK_FALSE(within(10.11, one.expected("z")));
    CHECK_FALSE(within(std::numeric_limits<double>::quiet_NaN(), one.expected("z")));
}
