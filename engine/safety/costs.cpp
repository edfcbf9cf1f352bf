#include "engine/safety/costs.hpp"

#include "engine/problem.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/text.hpp"

#include <cmath>

// The worst case is what the drill could serve at most: the known clear cup and every presentation at the
// strongest rung, and the base in every cup of the sitting, blanks included.

namespace sipladder::safety {

namespace {

constexpr double seconds_to_pour_and_taste = 120.0;  // judgement
constexpr double minutes_per_operation = 2.0;        // judgement
constexpr std::size_t known_cups = 2;                // one clear, one blank, before the first presentation

}  // namespace

Costs costs_of(const solution::MixPlan& plan) {
    const solution::PlanRequest& request = plan.request;
    const solution::Demand& demand = request.demand;
    Costs costs;
    costs.cups = demand.presentations * demand.cups_per_presentation + known_cups;
    const double seconds = static_cast<double>(demand.presentations) *
                           (seconds_to_pour_and_taste + static_cast<double>(request.substance.rest_s));
    costs.minutes = static_cast<int>(std::ceil(seconds / 60.0));
    costs.bench_minutes =
        static_cast<int>(std::ceil(minutes_per_operation * static_cast<double>(plan.operations)));
    costs.worst = worst_case(request.substance, solution::as_planned(plan),
                             static_cast<int>(demand.presentations) + 1, demand.cup);
    const Intake base_cup = intake_of_base(request.base, demand.cup);
    if (base_cup.acid_cups > 0.0) costs.worst.acid_cups = 0.0;  // each cup is an acid cup once
    for (std::size_t cup = 0; cup < costs.cups; ++cup) costs.worst += base_cup;
    return costs;
}

std::optional<Crossed> crossed_by(const solution::MixPlan& plan, const std::vector<Cap>& caps,
                                  const Intake& taken_this_sitting, const Intake& taken_today) {
    const Intake worst = costs_of(plan).worst;
    Intake sitting = taken_this_sitting;
    Intake today = taken_today;
    sitting += worst;
    today += worst;
    return crossed(caps, sitting, today);
}

void refuse_above_caps(const solution::MixPlan& plan, const std::vector<Cap>& caps,
                       const Intake& taken_this_sitting, const Intake& taken_today) {
    const auto over = crossed_by(plan, caps, taken_this_sitting, taken_today);
    if (!over) return;
    std::string what = over->text;
    if (what.ends_with(".")) what.pop_back();
    throw Refused("intake, " + over->cap.what, what,
                  "fewer presentations, smaller cups, a weaker strongest rung or a base without it");
}

}  // namespace sipladder::safety
