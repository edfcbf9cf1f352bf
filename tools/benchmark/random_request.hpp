#pragma once

#include "engine/content/content.hpp"
#include "engine/random.hpp"
#include "engine/solution/mix_plan.hpp"

namespace sipladder::benchmark {

/// A request as somebody might make it: any substance, ingredient, base and kitchen of the content, a ladder
/// of 4 to 12 levels around the assumed prior, 1 to 40 people. The same seed gives the same request.
solution::PlanRequest random_request(const content::Content& content, Seed seed);

}  // namespace sipladder::benchmark
