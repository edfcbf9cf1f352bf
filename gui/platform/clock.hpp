#pragma once

#include "engine/instant.hpp"
#include "engine/random.hpp"

/// The only clock and the only source of chance of the whole program; both are handed on as values.
namespace sipladder::gui {

/// Now: UTC with the offset of this machine's time zone, and a monotonic part.
Instant now();
/// A seed from the operating system.
Seed entropy_seed();

}  // namespace sipladder::gui
