#pragma once

#include "drills/plan.hpp"
#include "engine/instant.hpp"

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>

/// Rests, and how long a measurement may take.
namespace sipladder::drills::pacing {

/// The rest that a cup of this level calls for: the plan's shorter rest up to the centre that is assumed of
/// people, the longer one for the strongest cup there may be, and between them by the logarithm; in steps of
/// 5 s, upwards.
std::chrono::seconds rest_for(const Plan& plan, std::size_t level, std::size_t line = 0);

/// The rest after a presentation of this level. Where the taster must not know the level, every rest is as
/// long as the longest: one that differed would tell how strong the cup was.
std::chrono::seconds rest_after(const Plan& plan, std::size_t level, std::size_t line = 0);

/// Why: which feelings build up from cup to cup.
std::string why_rest(const Plan& plan);

/// One measurement may be spread over sittings within this time.
constexpr std::chrono::hours longest_span{48};
/// Nothing while a measurement whose first answer came at `first` may go on; else why not.
std::optional<std::string> too_old(const Instant& first, const Instant& now);

}  // namespace sipladder::drills::pacing
