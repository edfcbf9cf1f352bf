#include "drills/blinding/served.hpp"

#include "drills/blinding/shuffled_tray.hpp"
#include "engine/problem.hpp"

#include <doctest/doctest.h>

#include <array>
#include <set>

using namespace sipladder;
using namespace sipladder::drills;

TEST_CASE("a deck has one card for each portion, letters and codes unique, places balanced over the whole") {
    const std::vector<int> portions{7, 8, 0, 9};
    for (std::uint64_t seed = 0; seed < 200; ++seed) {
        CAPTURE(seed);
        const auto cards = served::deck(portions, Seed{seed});
        std::set<std::string> letters;
        std::set<BlindCode> codes;
        std::array<int, 3> at_place{};
        std::array<int, 4> of_level{};
        for (const served::Card& card : cards) {
            CHECK(card.letter.size() == 2);
            CHECK(card.letter.find_first_of("ILO") == std::string::npos);
            letters.insert(card.letter);
            codes.insert(card.codes.begin(), card.codes.end());
            ++at_place.at(card.place);
            ++of_level.at(card.level);
        }
        CHECK(letters.size() == 24);
        CHECK(codes.size() == 72);
        CHECK(at_place == std::array{8, 8, 8});
        CHECK(of_level == std::array{7, 8, 0, 9});
    }
    const std::vector<int> too_many{static_cast<int>(served::most_cards()) + 1};
    CHECK_THROWS_AS(served::deck(too_many, Seed{1}), Refused);
}

TEST_CASE("neither letters nor codes nor the card before tell a place") {
    // Of 4000 decks: how often the next card's place is that of the card before, and how letters go with
    // places.
    const std::vector<int> portions{8, 8, 8, 8, 8, 8};
    int repeats = 0;
    int early_letter_left = 0;
    int lowest_code_is_level = 0;
    constexpr int decks = 4000;
    for (int seed = 0; seed < decks; ++seed) {
        const auto cards = served::deck(portions, Seed{static_cast<std::uint64_t>(seed)});
        repeats += cards[0].place == cards[1].place ? 1 : 0;
        early_letter_left += (cards[0].letter < "M" && cards[0].place == 0) ? 1 : 0;
        lowest_code_is_level +=
            *std::min_element(cards[0].codes.begin(), cards[0].codes.end()) == cards[0].codes[cards[0].place]
                ? 1
                : 0;
    }
    CHECK(std::abs(repeats - decks * 15 / 47) < 150);  // balanced: 15 of the other 47 cards, 5 SD
    CHECK(std::abs(early_letter_left - decks * 10 / 23 / 3) < 115);  // A to K without I: 10 of 23 letters
    CHECK(std::abs(lowest_code_is_level - decks / 3) < 150);
}

TEST_CASE("the three signs are drawn equally often, and independently of the one before") {
    std::array<int, 3> seen{};
    int repeats = 0;
    for (std::uint64_t seed = 0; seed < 6000; ++seed) {
        const Sign first = shuffled_tray::drawn_sign(Seed{seed}, 0);
        ++seen.at(static_cast<std::size_t>(first));
        repeats += first == shuffled_tray::drawn_sign(Seed{seed}, 1) ? 1 : 0;
    }
    for (const int count : seen) CHECK(std::abs(count - 2000) < 183);  // 5 SD
    CHECK(std::abs(repeats - 2000) < 183);
}
