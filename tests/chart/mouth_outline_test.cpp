#include "engine/chart/mouth_outline.hpp"

#include "engine/chart/frame.hpp"
#include "tests/support/text_painter.hpp"

#include <doctest/doctest.h>

using namespace sipladder;
using chart::mouth_part_at;
using chart::MouthPart;

TEST_CASE("a place in the outline of the mouth is the part that is drawn there") {
    CHECK(mouth_part_at({0.0, 93.0}) == MouthPart::lips);
    CHECK(mouth_part_at({0.0, 7.0}) == MouthPart::lips);
    CHECK(mouth_part_at({0.0, 82.0}) == MouthPart::teeth);
    CHECK(mouth_part_at({0.0, 88.0}) == MouthPart::gums);
    CHECK(mouth_part_at({0.0, 25.0}) == MouthPart::tongue_tip);
    CHECK(mouth_part_at({-25.0, 36.0}) == MouthPart::tongue_sides);
    CHECK(mouth_part_at({25.0, 36.0}) == MouthPart::tongue_sides);
    CHECK(mouth_part_at({0.0, 36.0}) == MouthPart::tongue_centre);
    CHECK(mouth_part_at({0.0, 47.0}) == MouthPart::tongue_back);
    CHECK(mouth_part_at({44.0, 50.0}) == MouthPart::cheeks);
    CHECK(mouth_part_at({0.0, 72.0}) == MouthPart::palate);
    CHECK(mouth_part_at({0.0, 59.0}) == MouthPart::throat);
}

TEST_CASE(
    "between the parts of a mouth and far from their words there is none, and words count as the part") {
    CHECK(!mouth_part_at({25.0, 59.0}));    // beside the throat
    CHECK(!mouth_part_at({0.0, 99.0}));     // above the lips
    CHECK(!mouth_part_at({-100.0, 10.0}));  // no words stand there
    CHECK(mouth_part_at({-80.0, 26.0}) == MouthPart::tongue_sides);
    CHECK(mouth_part_at({120.0, 58.0}) == MouthPart::throat);
    CHECK(mouth_part_at({-80.0, 90.0}) == MouthPart::lips);
}

TEST_CASE("what a part of the mouth is marked with lies in that part") {
    chart::MouthOutline outline;
    for (std::size_t i = 0; i < chart::mouth_parts; ++i) outline.parts.push_back({"part", 0.0, "not here"});
    std::size_t part = 0;
    for (const chart::Mark& mark : chart::mouth_outline(outline).marks)
        if (const auto* dot = std::get_if<chart::Marker>(&mark))
            CHECK(mouth_part_at(dot->at) == static_cast<MouthPart>(part++));
    CHECK(part == chart::mouth_parts);
}

TEST_CASE("a mouth keeps its shape in any area, in the middle of it") {
    chart::MouthOutline data{.title = {}, .component = solution::Component::sour, .parts = {}};
    for (std::size_t i = 0; i < chart::mouth_parts; ++i) data.parts.push_back({"part", 0.5, "1 of 2"});
    const chart::Chart mouth = chart::mouth_outline(data);
    tests::TextPainter painter;
    for (const chart::Rect area : {chart::Rect{0, 0, 900, 200}, {10, 20, 300, 500}, {0, 0, 400, 260}}) {
        const chart::Frame frame = chart::frame_of(mouth, area, painter);
        CHECK(frame.plot.width / frame.plot.height == doctest::Approx(mouth.shape));
        CHECK(frame.plot.x - area.x == doctest::Approx(area.right() - frame.plot.right()));
        CHECK(frame.plot.y >= area.y);
        CHECK(frame.plot.bottom() <= area.bottom());
    }
}
