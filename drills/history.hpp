#pragma once

#include "drills/drill.hpp"
#include "drills/record.hpp"
#include "engine/journal/journal.hpp"
#include "engine/solution/substance.hpp"
#include "engine/threshold/prior.hpp"
#include "engine/trend/trend.hpp"

#include <functional>
#include <span>
#include <string>
#include <vector>

/// What the journal holds about one person over weeks, as the trend wants it.
namespace sipladder::drills {

/// One substance, all its sittings of detection or quick look in the order of time.
struct Followed {
    solution::Substance substance;
    Scale scale{};
    threshold::Prior prior;  ///< assumed for the substance, before any sitting
    std::vector<trend::Sitting> sittings;
};

/// Each substance in the order of its first sitting. Struck-out rows are left out, and drills without an
/// answer. Certainty goes in where it may count, and the grades of a quick look, which tell of the same
/// threshold. Drills of one sitting that share mix, base and blinding are one sitting of the trend; its mix
/// is the newest one kept before it whose levels are those of the drill, and the mix's ingredient is the lot.
/// A drill whose mix was never kept shares its mixing error with drills of the very same levels. What spoiled
/// a sitting, and what was written down about it, are its notes.
/// @throws Refused naming the row whose body cannot be read
/// @checked tests/drills/history_test.cpp
std::vector<Followed> followed(const journal::Journal& journal, const Uuid& person);

/// The same from drills and mixes that were read already.
/// @param drill  the state of a drill that is not struck out
/// @param mixes  of the person, oldest first
std::vector<Followed> followed(const journal::Journal& journal, const Uuid& person,
                               const std::function<const State&(const Uuid& drill)>& drill,
                               std::span<const record::KeptMix* const> mixes);

}  // namespace sipladder::drills
