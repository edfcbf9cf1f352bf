#pragma once

#include "drills/classroom/service.hpp"
#include "engine/content/content.hpp"
#include "engine/random.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// From what a class is to drill to its bottles: what to mix, how much of each rung, and which letter holds
/// what.
namespace sipladder::drills::classroom {

struct WantedDrill {
    ClassDrill drill;                       ///< without samples; naming: choices are those of the substances
    std::vector<solution::Ladder> ladders;  ///< one; naming: one or more
    std::size_t times = 1;                  ///< each rung, and naming and graded: the base too
};

struct ClassMix {
    std::vector<ClassDrill> drills;        ///< in order, with bottles as lettered and levels as planned
    std::vector<solution::MixPlan> mixes;  ///< each ladder in a base once
};

/// Every ladder is planned for exactly the cups that the class needs, spare seats and known cups included.
///
/// @param seats    people and spare seats, 1 to 400
/// @param letters  another seed gives the bottles other letters
/// @throws Refused for a drill without or with too many ladders, more than nine ladders in all, a base that
///                 content does not know, and as solution::plan
/// @checked tests/classroom/class_mix_test.cpp
ClassMix mix_class(const std::vector<WantedDrill>& wanted, std::size_t seats, const content::Content& content,
                   const solution::Equipment& equipment, Seed letters);

/// The drills as mix_class would serve them, with levels as wanted and stand-ins for letters: for counting
/// cups and intake before anything is planned.
/// @throws Refused  as mix_class for ladders and bases
std::vector<ClassDrill> before_mixing(const std::vector<WantedDrill>& wanted,
                                      const content::Content& content);

/// What one person takes in if every cup of all these drills is swallowed, known cups included.
/// @throws Refused for a base or substance that content does not know
safety::Intake intake_of_class(const std::vector<ClassDrill>& drills, const content::Content& content);

}  // namespace sipladder::drills::classroom
