#pragma once

#include "drills/presentation.hpp"
#include "engine/random.hpp"

#include <cstddef>
#include <string>

/// Alone: three identical opaque cups with ring, cross and dot beneath; the tray is spun with eyes shut.
namespace sipladder::drills::shuffled_tray {

/// The sign beneath the cup that gets the level, drawn for each presentation independently. Where that cup
/// comes to stand is up to the spinning, so the sign tells nothing.
///
/// @param cups_together  2 (ring or cross) or 3
Sign drawn_sign(Seed seed, std::size_t presentation, std::size_t cups_together = 3);

/// "ring", "cross", "dot".
std::string text_of(Sign sign);

}  // namespace sipladder::drills::shuffled_tray
