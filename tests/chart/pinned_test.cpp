#include "tests/support/example_charts.hpp"
#include "tests/support/text_painter.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>
#include <string>

using namespace sipladder;

namespace {

/// tests/chart/pinned/<name>.txt. After a change that is meant, the picture is looked at and the file is
/// replaced by what the failed test prints.
std::string pinned(const std::string& name) {
    std::ifstream file(
        std::string(SIPLADDER_SOURCE_DIR).append("/tests/chart/pinned/").append(name).append(".txt"));
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

std::string drawn(const chart::Chart& chart, double width, double height) {
    tests::TextPainter painter;
    chart::draw(chart, {0.0, 0.0, width, height}, painter);
    return painter.calls;
}

}  // namespace

TEST_CASE("the psychometric curve is drawn as pinned") {
    CHECK(drawn(chart::psychometric_curve(tests::example_curve()), 640.0, 420.0) ==
          pinned("psychometric_curve"));
}

TEST_CASE("the palate row is drawn as pinned") {
    CHECK(drawn(chart::palate_row(tests::example_row()), 640.0, 120.0) == pinned("palate_row"));
}

TEST_CASE("planned against mixed is drawn as pinned") {
    CHECK(drawn(chart::planned_against_mixed(tests::example_mixed(3)), 480.0, 240.0) ==
          pinned("planned_against_mixed"));
}

TEST_CASE("the weeks of one substance are drawn as pinned") {
    const std::vector<trend::Sitting> sittings = tests::example_sittings();
    const chart::Weeks data{
        "sucrose in still water", solution::Component::sweet, tests::example_trend(), sittings, {}, {}};
    CHECK(drawn(chart::weeks(data), 640.0, 360.0) == pinned("weeks"));
    const std::string control = drawn(chart::weeks_of_control(data, sittings), 640.0, 360.0);
    CHECK(control.find("control, not drilled") != std::string::npos);
}

TEST_CASE("a class with its shrinkage is drawn as pinned") {
    CHECK(drawn(chart::class_spread(
                    {"sucrose in still water", solution::Component::sweet, tests::example_panel()}),
                640.0, 300.0) == pinned("class_spread"));
}
