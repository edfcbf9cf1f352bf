#include "gui/app/planning.hpp"

#include "engine/solution/planner.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::gui {

namespace {

void read_step(ReadNotes& read, const solution::MixPlan& plan, std::size_t number, const StepNote& note) {
    const solution::Step& step = plan.steps.at(number);
    const std::string where = "step " + std::to_string(number + 1);
    if (note.fate == Fate::skipped) {
        read.record.skipped.insert(number);
        return;
    }
    double reading = step.reading;
    if (!trimmed(note.reading).empty()) {
        const std::optional<double> typed = number_from_typed(note.reading);
        if (!typed || *typed <= 0.0)
            read.problems[number] = {where, "\"" + note.reading + "\"", "a number above 0, point or comma"};
        else if (*typed > 3.0 * step.reading || *typed < step.reading / 3.0)
            read.problems[number] = {where, "is far from " + exact(step.reading),
                                     "check the decimal sign; if it is right, begin this step anew"};
        else
            read.record.readings[number] = reading = *typed;
    }
    if (note.fate != Fate::spilled || read.problems.contains(number)) return;
    const std::optional<double> left = number_from_typed(note.left);
    if (!left || *left <= 0.0 || *left >= reading)
        read.problems[number] = {
            where, "what the spill left is " + (trimmed(note.left).empty() ? "not said" : note.left),
            "about how much is left, less than " + exact(reading) + " " + step.unit};
    else
        read.record.left[number] = *left;
}

}  // namespace

PlanReady plan_for(const PlanJob& job) {
    try {
        return {.generation = job.generation,
                .found = std::make_shared<const solution::MixPlan>(solution::plan(job.request))};
    } catch (const Refused& refused) {
        return {.generation = job.generation, .found = refused.problems()};
    }
}

ReadNotes read_notes(const Bench& bench) {
    ReadNotes read;
    if (!bench.plan) return read;
    for (const auto& [number, note] : bench.notes.steps) read_step(read, *bench.plan, number, note);
    for (const auto& [check, typed] : bench.notes.checks) {
        if (trimmed(typed).empty()) continue;
        const std::optional<double> number = number_from_typed(typed);
        if (number && std::isfinite(*number))
            read.checks[check] = *number;
        else
            read.check_problems[check] = {check, "\"" + typed + "\"", "a number, point or comma"};
    }
    return read;
}

solution::AsMixed mixed_after(const solution::MixPlan& plan, const solution::BenchRecord& record) {
    return solution::after_mixing(plan, record);
}

}  // namespace sipladder::gui
