// Every code without a pattern is listed once and the list is shuffled, so codes are different by
// construction. A code has a pattern when two digits are the same (111, 100, 121) or when the three count up
// or down by one (123, 321): such codes are remembered, and liked or disliked, for themselves.

#include "drills/blind_code.hpp"

#include "engine/problem.hpp"

#include <algorithm>

namespace sipladder::drills {

namespace {

bool has_pattern(int code) {
    const int first = code / 100;
    const int middle = code / 10 % 10;
    const int last = code % 10;
    const bool repeats = first == middle || middle == last || first == last;
    const int step = middle - first;
    return repeats || ((step == 1 || step == -1) && last - middle == step);
}

}  // namespace

std::vector<BlindCode> blind_codes(Random& random, std::size_t count, std::span<const BlindCode> without) {
    std::vector<BlindCode> codes;
    for (int code = 100; code <= 999; ++code) {
        BlindCode one{std::to_string(code)};
        if (!has_pattern(code) && std::find(without.begin(), without.end(), one) == without.end())
            codes.push_back(std::move(one));
    }
    if (count > codes.size())
        throw Refused("blind codes", std::to_string(count) + " are wanted",
                      "there are " + std::to_string(codes.size()) +
                          " three-digit codes without a pattern that no cup of the sitting bears yet");
    random.shuffle(codes);
    codes.resize(count);
    return codes;
}

}  // namespace sipladder::drills
