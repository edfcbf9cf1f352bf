#pragma once

#include "engine/content/content.hpp"
#include "engine/instant.hpp"
#include "engine/journal/journal.hpp"

#include <cstddef>

namespace sipladder::benchmark {

/// Somebody who has tasted one sitting a day for years, written into an empty journal in one transaction. The
/// sittings are those of four invented people of the demo, all kinds of drills with their mixes, tasted by
/// the simulated assessor and told over and over on days of their own.
/// @param sittings  how many
/// @param last      before the day of this moment
void write_long_person(journal::Journal& journal, const content::Content& content, std::size_t sittings,
                       const Instant& last);

}  // namespace sipladder::benchmark
