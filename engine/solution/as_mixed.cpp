#include "engine/solution/as_mixed.hpp"

#include "engine/problem.hpp"
#include "engine/solution/bench_steps.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/solution/recipe.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

// The steps are read back into a recipe, the readings take the place of the planned ones, and the same sum is
// done again; so what a reading does to a level reaches every mixture drawn from it.

namespace sipladder::solution {

namespace {

constexpr double furthest_factor = 3.0;

void check(const MixPlan& plan, const Readings& readings) {
    std::vector<Problem> problems;
    for (const auto& [index, value] : readings) {
        const std::string where = "step " + std::to_string(index + 1);
        if (index >= plan.steps.size()) {
            problems.push_back(
                {where, "is not in the plan", "steps run from 1 to " + std::to_string(plan.steps.size())});
            continue;
        }
        const Step& step = plan.steps[index];
        if (!step.takes_reading)
            problems.push_back({where, "takes no reading", "it is filled to its one mark"});
        else if (!(value > 0.0) || !std::isfinite(value))
            problems.push_back(
                {where, "reads " + exact(value) + " " + step.unit, "a reading above 0 is wanted"});
        else if (value > furthest_factor * step.reading || value < step.reading / furthest_factor)
            problems.push_back({where,
                                "reads " + exact(value) + " " + step.unit +
                                    ", further than a factor 3 from the planned " + exact(step.reading) +
                                    " " + step.unit,
                                "check the decimal point; else make this one anew"});
    }
    if (!problems.empty()) throw Refused(problems);
}

}  // namespace

MixedLadder as_mixed(const MixPlan& plan, const Readings& readings) {
    check(plan, readings);
    std::vector<Step> steps = plan.steps;
    for (const auto& [index, value] : readings) steps[index].reading = value;
    const std::vector<Making> makings = makings_of(plan.request, steps);
    const std::vector<Mixture> all = mixtures(plan.request, makings);
    std::vector<std::size_t> places;
    for (const PlannedLevel& level : plan.levels) {
        const auto made = std::find_if(makings.begin(), makings.end(), [&](const Making& one) {
            return one.into == "bottle " + level.bottle;
        });
        if (made == makings.end())
            throw Refused("steps", "do not make bottle " + level.bottle, "the plan's own steps");
        places.push_back(static_cast<std::size_t>(made - makings.begin()));
    }
    const std::vector<bool> is_shared = shared_errors(all, places);
    MixedLadder ladder{plan.request.substance.id, plan.request.base.id, plan.request.ladder.scale(), {}};
    for (std::size_t i = 0; i < places.size(); ++i) {
        const Mixture& mixture = all[places[i]];
        const Parts u = parts(mixture, is_shared);
        ladder.levels.push_back({plan.levels[i].target,
                                 level_from_held(plan.request.substance, GramsPerLitre{mixture.held_g_per_L}),
                                 u.own, u.shared, plan.levels[i].bottle,
                                 portions_from(plan.request.demand, Millilitres{mixture.volume_mL})});
    }
    std::stable_sort(ladder.levels.begin(), ladder.levels.end(),
                     [](const MixedLevel& one, const MixedLevel& other) { return one.mixed < other.mixed; });
    return ladder;
}

MixedLadder as_planned(const MixPlan& plan) {
    return as_mixed(plan, {});
}

}  // namespace sipladder::solution
