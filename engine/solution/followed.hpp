#pragma once

#include "engine/solution/as_mixed.hpp"
#include "engine/solution/recipe.hpp"

#include <string>
#include <vector>

namespace sipladder::solution {

/// The recipe that was really followed.
struct Followed {
    std::vector<Making> makings;
    std::vector<Mixture> mixtures;
    std::vector<Bottle> bottles;
    std::size_t first_step{};  ///< index of the step that is the load of the first making
};

/// @throws Refused  for a record that does not fit the plan, see after_mixing
Followed followed(const MixPlan& plan, const BenchRecord& record);

/// @throws Refused  where no step fills it
const Bottle& bottle_named(const std::vector<Bottle>& all, const std::string& name);

}  // namespace sipladder::solution
