#pragma once

#include "engine/random.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace sipladder::drills {

/// Three random digits on a cup (common practice; ISO 6658).
struct BlindCode {
    std::string digits;
    auto operator<=>(const BlindCode&) const = default;
};

/// How many codes there are without a pattern.
constexpr std::size_t most_blind_codes = 633;

/// `count` different codes without a pattern (no digit twice, no counting up or down: no 111, 100, 123, 321)
/// and without a leading zero.
/// @param without  codes that other cups bear already
/// @throws Refused when more codes are wanted than there are
std::vector<BlindCode> blind_codes(Random& random, std::size_t count,
                                   std::span<const BlindCode> without = {});

}  // namespace sipladder::drills
