#pragma once

#include "engine/random.hpp"

#include <compare>
#include <string>
#include <string_view>

namespace sipladder {

/// The id of a row of the journal: 36 characters, lower case (RFC 9562). Ids are handed in, never drawn
/// inside.
struct Uuid {
    std::string text;
    auto operator<=>(const Uuid&) const = default;
};

/// A version 4 UUID from two draws (RFC 9562, 5.4).
Uuid uuid_from(Random& random);
/// True if the text has the form of a UUID in lower case.
bool is_uuid(std::string_view text);

}  // namespace sipladder
