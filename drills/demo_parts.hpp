#pragma once

#include "drills/demo.hpp"
#include "engine/content/field.hpp"
#include "engine/solution/as_mixed.hpp"

#include <cstdint>

/// How the demo is split over files. Inside drills only.
namespace sipladder::drills::demo_parts {

constexpr std::int64_t minute_ms = 60'000;
constexpr std::int64_t day_ms = 24 * 60 * minute_ms;
constexpr std::int64_t tasting_ms = 40'000;  ///< a few sips and a decision
constexpr std::int64_t mixing_ms = 60 * minute_ms;

Instant later(Instant at, std::int64_t ms);
/// Nobody stops exactly at the planned reading: about 1 % off, as the display can show it.
solution::Readings simulated_readings(const solution::MixPlan& plan, Random& random);

DemoSittingPlan read_sitting(const content::Field& field);
/// Mixes, pours, tastes and writes one sitting of several drills. Thresholds are those of the person's
/// courses, everything else is drawn from what is assumed of people.
void write_sitting(journal::Journal& journal, const content::Content& content, const Demo& demo,
                   const DemoSittingPlan& sitting, const Uuid& person, Seed seed);

}  // namespace sipladder::drills::demo_parts
