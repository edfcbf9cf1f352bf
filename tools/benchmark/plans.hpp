#pragma once

#include "engine/content/content.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>

namespace sipladder::benchmark {

/// How long plans take on one core, and what they come to, over random requests.
struct PlanFigures {
    std::size_t requests{};
    std::size_t met{};      ///< plans that reach the uncertainty wanted
    std::size_t refused{};  ///< requests that cannot be planned at all
    std::size_t
        impossible{};  ///< readings that an instrument cannot show or hold, caps or solubility broken: 0
    double median_ms{};
    double worst_ms{};
    std::size_t worst_seed{};
    double median_operations{};
};

/// @param requests  seeds 1 to this number
PlanFigures plan_figures(const content::Content& content, std::size_t requests);

/// Readings and strengths of a plan that should never be: off the display or the marks, below the smallest
/// load, above the capacity, stocks above their cap or solubility, cups above theirs.
std::size_t impossible_in(const solution::MixPlan& plan);

}  // namespace sipladder::benchmark
