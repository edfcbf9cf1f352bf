#include "engine/uuid.hpp"

#include <array>
#include <cstddef>

namespace sipladder {

Uuid uuid_from(Random& random) {
    constexpr std::string_view hex = "0123456789abcdef";
    const std::array<std::uint64_t, 2> halves{random.bits(), random.bits()};
    std::string text;
    for (std::size_t nibble = 0; nibble < 32; ++nibble) {
        std::uint64_t bits = (halves[nibble / 16] >> (4 * (nibble % 16))) & 0xF;
        if (nibble == 12) bits = 4;                 // version
        if (nibble == 16) bits = 8 | (bits & 0x3);  // variant
        if (nibble == 8 || nibble == 12 || nibble == 16 || nibble == 20) text += '-';
        text += hex[bits];
    }
    return Uuid{text};
}

bool is_uuid(std::string_view text) {
    if (text.size() != 36) return false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool dash = i == 8 || i == 13 || i == 18 || i == 23;
        if (dash ? text[i] != '-'
                 : std::string_view("0123456789abcdef").find(text[i]) == std::string_view::npos)
            return false;
    }
    return true;
}

}  // namespace sipladder
