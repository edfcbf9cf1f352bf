#pragma once

#include "drills/classroom/results.hpp"
#include "tools/cli/verb.hpp"

namespace sipladder::cli {

/// What a class's ballots tell, for programs: one object a drill.
Json results_json(const drills::classroom::ClassResults& results, const drills::classroom::Service& service);

}  // namespace sipladder::cli
