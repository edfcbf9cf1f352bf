#include "engine/chart/words.hpp"

#include "tests/support/text_painter.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace sipladder;
using chart::TextSize;
using Lines = std::vector<std::string>;

TEST_CASE("words are broken at blanks and never lost") {
    const tests::TextPainter painter;  // small letters are 6 wide
    CHECK(chart::broken("rinse with water", 36.0, TextSize::small, painter, 9) ==
          Lines{"rinse", "with", "water"});
    CHECK(chart::broken("rinse with water", 62.0, TextSize::small, painter, 9) ==
          Lines{"rinse with", "water"});
    CHECK(chart::broken("rinse", 200.0, TextSize::small, painter, 1) == Lines{"rinse"});
    CHECK(chart::broken("", 200.0, TextSize::small, painter, 1) == Lines{""});
}

TEST_CASE("a word too wide for its line is broken between letters, not within one") {
    const tests::TextPainter painter;
    CHECK(chart::broken("Säuregrad", 31.0, TextSize::small, painter, 9) == Lines{"Säure", "grad"});
    CHECK(chart::broken("ää", 1.0, TextSize::small, painter, 9) == Lines{"ä", "ä"});
}

TEST_CASE("what does not fit into the lines allowed ends in dots") {
    const tests::TextPainter painter;
    CHECK(chart::broken("rinse with water", 62.0, TextSize::small, painter, 1) == Lines{"rinse wit…"});
}
