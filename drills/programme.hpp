#pragma once

#include "drills/plans.hpp"
#include "engine/content/content.hpp"
#include "engine/problem.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

/// A sitting of one drill or several with one bench sheet, and one budget of cups, minutes and intake.
namespace sipladder::drills {

/// One drill as it is wanted, before anything is mixed.
struct WantedDrill {
    Kind kind{};
    Order order = Order::adaptive;
    Blinding blinding{};
    std::size_t presentations{};
    /// Indices into WantedSitting::ladders; several for recognition, naming and the mouth map. Balance,
    /// persistence: a second one is the same ladder in another base.
    std::vector<std::size_t> ladders;
    /// Balance, persistence: how the other condition is called; with one ladder it is the same bottles in a
    /// second set ("cool").
    std::string condition = {};

    bool operator==(const WantedDrill&) const = default;
};

struct WantedSitting {
    std::string name;                       ///< as problems call it
    std::vector<WantedDrill> drills;        ///< in order
    std::vector<solution::Ladder> ladders;  ///< each once
    std::string base;                       ///< id in content
    std::vector<std::string> bases = {};    ///< of each ladder, where it is not `base`; empty: all in `base`
    Millilitres cup{10.0};
    int most_minutes{};  ///< 0: only the limit of every sitting
};
/// @throws Refused for a ladder or a kind that is not known
WantedSitting sitting_of(const content::Programme& programme, const content::Content& content);

/// The drill's plans, in order, with the intake of those before counted in each.
/// @param mixed  the ladders as mixed, in the order of `sitting.ladders`
/// @throws Refused where a drill cannot be made of them at all
std::vector<Plan> plans_of(const WantedSitting& sitting, const content::Content& content,
                           const std::vector<solution::MixedLadder>& mixed,
                           const safety::Intake& taken_today = {});
/// The same bottles in a second set, marked with what is done to it: "K, cool".
solution::MixedLadder otherwise_served(solution::MixedLadder ladder, const std::string& condition);

/// The ladders as if mixed on target, with more than enough of each rung: what the budget before planning
/// rests on.
std::vector<solution::MixedLadder> on_target(const WantedSitting& sitting);

/// What each ladder has to supply to all drills of the sitting, in the order of `sitting.ladders`.
std::vector<solution::Demand> demands_of(const WantedSitting& sitting, const content::Content& content);

/// How long a drill takes if every rest is the longest and kept to the end, pouring and tasting included.
int minutes_of(const Plan& plan);

struct Budget {
    std::size_t cups{};    ///< known cups included
    int minutes{};         ///< rests, pouring and tasting
    safety::Intake worst;  ///< if every cup were as strong as may be, all swallowed
};
Budget budget_of(std::span<const Plan> plans);
/// Of a programme whose ladders are mixed on target.
Budget budget_of(const content::Programme& programme, const content::Content& content);

/// Cups and minutes beyond what one sitting may have.
std::vector<Problem> limits_crossed(const WantedSitting& sitting, const content::Content& content,
                                    std::span<const Plan> plans);
/// Everything that keeps a sitting from being carried out: a plan that is none, cups, minutes and intake
/// beyond their limits. Empty: it fits.
/// @param plans  as `plans_of` gives them
/// @param no_ethanol_reasons  as ticked; a sitting with ethanol in any cup does not fit then
std::vector<Problem> problems_of(const WantedSitting& sitting, const content::Content& content,
                                 std::span<const Plan> plans,
                                 std::span<const std::string> no_ethanol_reasons = {});
/// Of a programme whose ladders are mixed on target.
std::vector<Problem> problems_of(const content::Programme& programme, const content::Content& content,
                                 std::span<const std::string> no_ethanol_reasons = {});

}  // namespace sipladder::drills
