#pragma once

#include "gui/app/app.hpp"
#include "gui/app/intent.hpp"

#include <variant>
#include <vector>

/// From the Prepare form to a plan request, and from a kept mix to a drill's closed plan.
namespace sipladder::gui {

/// The request that the form stands for, or what is wrong with it, field by field (`where` is the field's
/// label).
std::variant<solution::PlanRequest, std::vector<Problem>> request_of(const App& app, const Setup& setup);
/// Does a job: the plan, or why there is none. Takes long; runs on the worker.
PlanReady plan_for(const PlanJob& job);
/// The readings that can be read as numbers; the others are problems by step.
struct ReadReadings {
    solution::Readings readings;
    std::map<std::size_t, Problem> problems;
};
ReadReadings read_readings(const Bench& bench);
/// What the form's drill would take in at worst and what stands against keeping the mix, in one sentence
/// each.
std::vector<std::string> against_keeping(const App& app);
/// What the plan's drill would take in if every presentation were the strongest rung and all of it swallowed.
safety::Intake worst_of(const solution::MixPlan& plan);
/// Seconds that a drill of this many presentations takes: the rests, and what pouring and tasting need.
long seconds_of(const solution::Substance& substance, std::size_t presentations);

}  // namespace sipladder::gui
