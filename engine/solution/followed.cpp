#include "engine/solution/followed.hpp"

#include "engine/problem.hpp"
#include "engine/solution/bench_steps.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

// The steps are read back into a recipe; readings take the place of the planned ones.

namespace sipladder::solution {

namespace {

constexpr double furthest_factor = 3.0;
constexpr double estimate_half_width = 0.1;  // of what was spilled, when one says how much is left; judgement

std::string step_name(std::size_t index) {
    return "step " + std::to_string(index + 1);
}

void check_reading(std::vector<Problem>& problems, const Step& step, const std::string& where, double value) {
    if (!step.takes_reading)
        problems.push_back({where, "takes no reading", "it is filled to its one mark"});
    else if (!(value > 0.0) || !std::isfinite(value))
        problems.push_back({where, "reads " + exact(value) + " " + step.unit, "a reading above 0 is wanted"});
    else if (value > furthest_factor * step.reading || value < step.reading / furthest_factor)
        problems.push_back({where,
                            "reads " + exact(value) + " " + step.unit +
                                ", further than a factor 3 from the planned " + exact(step.reading) + " " +
                                step.unit,
                            "check the decimal point; else make this one anew"});
}

void check(const MixPlan& plan, const BenchRecord& record) {
    std::vector<Problem> problems;
    const auto is_in_plan = [&](std::size_t index) {
        if (index < plan.steps.size()) return true;
        problems.push_back({step_name(index), "is not in the plan",
                            "steps run from 1 to " + std::to_string(plan.steps.size())});
        return false;
    };
    for (const auto& [index, value] : record.readings)
        if (is_in_plan(index)) check_reading(problems, plan.steps[index], step_name(index), value);
    for (const std::size_t index : record.skipped)
        if (is_in_plan(index) && (record.readings.contains(index) || record.left.contains(index)))
            problems.push_back(
                {step_name(index), "is skipped and done", "either a reading, or nothing was done"});
    for (const auto& [index, left] : record.left) {
        if (!is_in_plan(index)) continue;
        const auto read = record.readings.find(index);
        const double most = read == record.readings.end() ? plan.steps[index].reading : read->second;
        if (!(left > 0.0 && left <= most))
            problems.push_back({step_name(index),
                                "has " + exact(left) + " " + plan.steps[index].unit + " left",
                                "more than 0, at most the " + exact(most) + " " + plan.steps[index].unit +
                                    " there were; where all is lost, make it anew or call the step skipped"});
    }
    if (!problems.empty()) throw Refused(problems);
}

void spill_load(Reading& load, double left) {
    load.u_own = std::hypot(load.u_own, estimate_half_width * (load.value - left) / std::sqrt(3.0));
    load.value = left;
}

/// What is left of a finished mixture, by its volume.
void spill_mixture(Mixture& mixture, const Making& making, double left) {
    mixture.volume_mL *= left / making.total.value;
}

}  // namespace

Followed followed(const MixPlan& plan, const BenchRecord& record) {
    check(plan, record);
    std::vector<Step> steps = plan.steps;
    for (const auto& [index, value] : record.readings) steps[index].reading = value;
    Followed result;
    result.makings = makings_of(plan.request, steps);
    result.first_step = steps.size() - 2 * result.makings.size();
    const auto place = [&](std::size_t step) { return (step - result.first_step) / 2; };
    const auto is_load = [&](std::size_t step) { return (step - result.first_step) % 2 == 0; };
    for (const std::size_t step : record.skipped) {
        if (step < result.first_step) continue;
        Making& making = result.makings[place(step)];
        (is_load(step) ? making.has_load : making.is_filled_up) = false;
    }
    for (const auto& [step, left] : record.left)
        if (step >= result.first_step && is_load(step)) spill_load(result.makings[place(step)].load, left);
    result.mixtures = mixtures(plan.request, result.makings);
    for (const auto& [step, left] : record.left)
        if (step >= result.first_step && !is_load(step))
            spill_mixture(result.mixtures[place(step)], result.makings[place(step)], left);
    result.bottles = bottles(result.makings, result.mixtures);
    return result;
}

const Bottle& bottle_named(const std::vector<Bottle>& all, const std::string& name) {
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const Bottle& one) { return one.name == name; });
    if (found == all.end()) throw Refused("steps", "do not make " + name, "the plan's own steps");
    return *found;
}

}  // namespace sipladder::solution
