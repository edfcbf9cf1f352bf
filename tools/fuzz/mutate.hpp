#pragma once

#include "engine/random.hpp"

#include <string>

namespace sipladder::fuzz {

/// The bytes with one to four changes, the kind that break readers: bytes flipped, cut out, doubled, put in;
/// numbers replaced by extreme ones; lines dropped, doubled and swapped; quotes, brackets and invalid UTF-8
/// put in.
std::string mutated(std::string bytes, Random& random);

}  // namespace sipladder::fuzz
