#pragma once

#include "drills/presentation.hpp"
#include "engine/random.hpp"

#include <cstddef>
#include <string>

/// Alone: three identical opaque cups with ring, cross and dot beneath; the tray is spun with eyes shut.
namespace sipladder::drills::shuffled_tray {

/// The sign beneath the cup that gets the level, drawn for each presentation independently. Where that cup
/// comes to stand is up to the spinning, so the sign tells nothing.
Sign drawn_sign(Seed seed, std::size_t presentation);

/// "ring", "cross", "dot".
std::string text_of(Sign sign);

}  // namespace sipladder::drills::shuffled_tray
