#pragma once

#include "engine/threshold/posterior.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace sipladder::threshold {

/// The level whose answer is expected to lower the entropy of the theta marginal most (width and lapse summed
/// out), among those with portions left; the weakest of ties. Nothing if no level is left.
/// @param levels_log10  log10 of each level as mixed, ascending
/// @param portions_left cups of each level that can still be poured
std::optional<std::size_t> next_level(const Posterior& posterior, std::span<const double> levels_log10,
                                      std::span<const int> portions_left);

/// Expected entropy (nats) of the theta marginal after one answer at each level.
std::vector<double> expected_entropy(const Posterior& posterior, std::span<const double> levels_log10);

}  // namespace sipladder::threshold
