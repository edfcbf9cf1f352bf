#pragma once

#include "drills/plans.hpp"
#include "engine/content/content.hpp"
#include "engine/problem.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

/// A sitting of several drills with one bench sheet, and one budget of cups, minutes and intake.
namespace sipladder::drills {

/// The plans of a programme, in order, with the intake of those before counted in each.
/// @param mixed  the ladders as mixed, at least every one that the programme names (by substance)
/// @throws Refused for a ladder that is not there
std::vector<Plan> plans_of(const content::Programme& programme, const content::Content& content,
                           const std::vector<solution::MixedLadder>& mixed,
                           const safety::Intake& taken_today = {});

/// What one ladder has to supply to all drills of the programme.
struct BenchDemand {
    std::string ladder;  ///< id in content
    std::string base;
    solution::Demand demand;
};
/// One bench sheet's worth, each ladder once.
std::vector<BenchDemand> bench_demand(const content::Programme& programme, const content::Content& content);

struct Budget {
    std::size_t cups{};    ///< known cups included
    int minutes{};         ///< rests, pouring and tasting
    safety::Intake worst;  ///< if every cup were as strong as may be, all swallowed
};
Budget budget_of(std::span<const Plan> plans);
/// Of a programme whose ladders are mixed on target.
Budget budget_of(const content::Programme& programme, const content::Content& content);

/// Everything that keeps a programme from being carried out: a plan that is none, cups, minutes and intake
/// beyond their limits. Empty: it fits.
/// @param no_ethanol_reasons  as ticked; a programme with ethanol in any cup does not fit then
std::vector<Problem> problems_of(const content::Programme& programme, const content::Content& content,
                                 std::span<const std::string> no_ethanol_reasons = {});

}  // namespace sipladder::drills
