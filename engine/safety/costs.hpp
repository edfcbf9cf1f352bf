#pragma once

#include "engine/safety/caution.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <optional>
#include <vector>

/// What a mix costs one person, before anything is mixed.
namespace sipladder::safety {

struct Costs {
    std::size_t cups{};   ///< of one person in one drill, blanks and the known clear cup included
    int minutes{};        ///< of one drill: rests, pouring and tasting
    int bench_minutes{};  ///< to mix it
    Intake worst;  ///< if every presentation were the strongest rung, all swallowed, blanks included where
                   ///< the base holds any
};

Costs costs_of(const solution::MixPlan& plan);

/// The first cap that the worst case crosses, for a sitting and day in which so much was taken already.
std::optional<Crossed> crossed_by(const solution::MixPlan& plan, const std::vector<Cap>& caps,
                                  const Intake& taken_this_sitting = {}, const Intake& taken_today = {});

/// @throws Refused  where a cap is crossed: which, by how much, and what would be right
void refuse_above_caps(const solution::MixPlan& plan, const std::vector<Cap>& caps,
                       const Intake& taken_this_sitting = {}, const Intake& taken_today = {});

}  // namespace sipladder::safety
