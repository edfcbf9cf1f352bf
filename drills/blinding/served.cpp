#include "drills/blinding/served.hpp"

#include "engine/problem.hpp"

#include <string_view>

namespace sipladder::drills::served {

namespace {

enum Use : std::uint64_t { letters_use = 1, places_use = 2, codes_use = 3 };

std::vector<std::size_t> balanced_places(Random random, std::size_t count, std::size_t cups) {
    std::vector<std::size_t> drawn(count);
    for (std::size_t i = 0; i < count; ++i) drawn[i] = i % cups;
    random.shuffle(drawn);
    return drawn;
}

}  // namespace

std::vector<std::string> letters(Random random, std::size_t count) {
    constexpr std::string_view alphabet = "ABCDEFGHJKMNPQRSTUVWXYZ";  // I, L and O are misread
    std::vector<std::string> all;
    for (const char first : alphabet)
        for (const char second : alphabet) all.push_back({first, second});
    SIPLADDER_EXPECT(count <= all.size());
    random.shuffle(all);
    all.resize(count);
    return all;
}

std::vector<Card> deck(std::span<const int> portions, Seed seed, std::size_t cups_together,
                       std::span<const BlindCode> codes_before) {
    const std::size_t most = most_cards(cups_together, codes_before.size());
    std::vector<Card> cards;
    for (std::size_t level = 0; level < portions.size(); ++level)
        for (int portion = 0; portion < portions[level]; ++portion) cards.push_back({"", level, 0, {}});
    if (cards.size() > most)
        throw Refused("pour card", "would need " + std::to_string(cards.size()) + " lines",
                      "at most " + std::to_string(most));
    const auto drawn_letters = letters(Random(derived(seed, letters_use)), cards.size());
    const auto drawn_places = balanced_places(Random(derived(seed, places_use)), cards.size(), cups_together);
    Random code_random(derived(seed, codes_use));
    const auto codes = blind_codes(code_random, cups_together * cards.size(), codes_before);
    for (std::size_t i = 0; i < cards.size(); ++i) {
        cards[i].letter = drawn_letters[i];
        cards[i].place = drawn_places[i];
        const auto first = codes.begin() + static_cast<std::ptrdiff_t>(cups_together * i);
        cards[i].codes.assign(first, first + static_cast<std::ptrdiff_t>(cups_together));
    }
    return cards;
}

}  // namespace sipladder::drills::served
