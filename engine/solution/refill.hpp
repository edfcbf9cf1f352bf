#pragma once

#include "engine/solution/as_mixed.hpp"
#include "engine/solution/mix_plan.hpp"

#include <string>
#include <vector>

/// A rung that runs out during a drill.
namespace sipladder::solution {

/// A bottle filled anew.
struct Refill {
    std::vector<Step> steps;  ///< what to do
    MixedLevel level;         ///< what is then in the bottle
    /// Covariance of its relative error with that of each level of the ladder as mixed, in its order.
    std::vector<double> covariance_with;
};

/// The same steps for this rung once more, from the stock or ingredient that it was made from: a new batch
/// with reading errors of its own and the same shared ones.
/// @throws Refused  for a bottle that the plan lacks, or where the stock that is left does not suffice
/// @checked tests/solution/refill_test.cpp
Refill refill_anew(const MixPlan& plan, const BenchRecord& record, const std::string& bottle);

/// From the next stronger rung with as much base, where that one is twice as strong (1.8 to 2.2 times): the
/// uncertainty of the stronger rung is carried and that of the two measures added.
/// @param portions       cups wanted of it, 1 to 1000
/// @param stronger_left  what is still in the bottle of the stronger rung
/// @throws Refused  for a bottle that the ladder lacks; where there is no stronger rung of ratio 2, too
/// little
///                  is left of it, or no balance or syringe measures the two halves
/// @checked tests/solution/refill_test.cpp
Refill refill_from_stronger(const MixPlan& plan, const BenchRecord& record, const std::string& bottle,
                            int portions, Millilitres stronger_left);

}  // namespace sipladder::solution
