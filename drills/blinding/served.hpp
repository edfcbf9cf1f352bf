#pragma once

#include "drills/blind_code.hpp"
#include "engine/random.hpp"

#include <algorithm>
#include <cstddef>
#include <span>
#include <string>
#include <vector>

/// A helper pours by a printed card; the screen, in view of the taster, shows a one-time letter only.
namespace sipladder::drills::served {

/// What one letter stands for. Each is used once at most.
struct Card {
    std::string letter;  ///< two letters, without I, O and L; drawn at random, tells nothing
    std::size_t level{};
    std::size_t place{};           ///< where the level goes: 0 left
    std::vector<BlindCode> codes;  ///< of the cups, left to right

    bool operator==(const Card&) const = default;
};

/// How many cards there can be: each cup needs a code that no other cup of the sitting bears, and each card a
/// letter of its own. @param taken  codes that cups of the sitting bear already
constexpr std::size_t most_cards(std::size_t cups_together = 3, std::size_t taken = 0) {
    constexpr std::size_t most_letters = std::size_t{23} * 23;
    return std::min((most_blind_codes - std::min(taken, most_blind_codes)) / cups_together, most_letters);
}

/// So many one-time letters, all different, in no order. @pre at most 529
std::vector<std::string> letters(Random random, std::size_t count);

/// Cards for so many portions of each level, in the order in which a level's cards are used up.
///
/// Places are balanced over all the cards together and shuffled once. A drill uses about a quarter of them,
/// at levels that answers choose, so there is no run to count on; a rule like "never four times the same"
/// would be one.
/// @param codes_before  that cups of the sitting bear already
/// @throws Refused  for more than most_cards portions
std::vector<Card> deck(std::span<const int> portions, Seed seed, std::size_t cups_together = 3,
                       std::span<const BlindCode> codes_before = {});

}  // namespace sipladder::drills::served
