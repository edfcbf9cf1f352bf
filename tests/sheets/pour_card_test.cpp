#include "drills/sheets/pour_card.hpp"

#include "tests/drills/every_drill.hpp"
#include "tests/support/pdf_pages.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

using namespace sipladder;
using namespace sipladder::drills;
using sheets::Paper;

namespace {

std::vector<CardRow> rows_of(int count) {
    std::vector<CardRow> rows;
    for (int i = 0; i < count; ++i) {
        CardRow row;
        row.letter = std::string(1, static_cast<char>('A' + i % 26));
        row.bottle = std::string(1, static_cast<char>('D' + i % 6));
        row.place = static_cast<std::size_t>(i % 3);
        for (int k = 0; k < 3; ++k) row.codes.push_back({std::to_string(142 + (i * 13 + k * 211) % 800)});
        row.contents.assign(3, "base");
        row.contents.at(row.place) = row.bottle;
        rows.push_back(row);
    }
    return rows;
}

const sheets::CardInfo info{
    "tartaric acid in still water", "Ada, invented", Millilitres{10.0}, {1'772'388'300'000, 60, 0}};

}  // namespace

TEST_CASE("a pour card repeats byte for byte and goes over pages by its rows") {
    const std::string once = sheets::pour_card_pdf(rows_of(18), info, Paper::a4);
    CHECK(once == sheets::pour_card_pdf(rows_of(18), info, Paper::a4));
    CHECK(tests::pages_of(once) == 1);
    CHECK(tests::pages_of(sheets::pour_card_pdf(rows_of(60), info, Paper::a4)) == 3);
    CHECK(tests::pages_of(sheets::pour_card_pdf(rows_of(60), info, Paper::us_letter)) == 3);
}

TEST_CASE("where the level stands changes the card") {
    std::vector<CardRow> moved = rows_of(18);
    std::swap(moved[4].contents[0], moved[4].contents[moved[4].place]);
    moved[4].place = 0;
    CHECK(sheets::pour_card_pdf(rows_of(18), info, Paper::a4) !=
          sheets::pour_card_pdf(moved, info, Paper::a4));
}

// 2026-11-26: a card for single cups, or for two, ended the program.
TEST_CASE("every drill that a helper serves has its card, with its own number of cups") {
    for (const tests::NamedPlan& one : tests::every_plan()) {
        if (one.plan.blinding != Blinding::served) continue;
        CAPTURE(one.name);
        const std::vector<CardRow> rows = pour_card(one.plan, Seed{3});
        REQUIRE(!rows.empty());
        const std::string card = sheets::pour_card_pdf(rows, info, Paper::a4);
        CHECK(tests::pages_of(card) >= 1);
        std::vector<CardRow> other = rows;
        other.front().contents.back() = "Q";
        CHECK(sheets::pour_card_pdf(other, info, Paper::a4) != card);
        sheets::CardInfo cautioned = info;
        cautioned.cautions = {"Not for children."};
        CHECK(sheets::pour_card_pdf(rows, cautioned, Paper::a4) != card);
    }
}
