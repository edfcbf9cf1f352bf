#include "gui/app/planning.hpp"

#include "engine/safety/costs.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/planner.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

constexpr long seconds_to_pour_and_taste = 120;  // measured on nobody yet; judgement of this project

bool is_blank(const std::string& text) {
    return text.find_first_not_of(" \t") == std::string::npos;
}

void read_step(ReadNotes& read, const solution::MixPlan& plan, std::size_t number, const StepNote& note) {
    const solution::Step& step = plan.steps.at(number);
    const std::string where = "step " + std::to_string(number + 1);
    if (note.fate == Fate::skipped) {
        read.record.skipped.insert(number);
        return;
    }
    double reading = step.reading;
    if (!is_blank(note.reading)) {
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
        read.problems[number] = {where,
                                 "what the spill left is " + (is_blank(note.left) ? "not said" : note.left),
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
        if (is_blank(typed)) continue;
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

long seconds_of(const solution::Substance& substance, std::size_t presentations) {
    return static_cast<long>(presentations) * (seconds_to_pour_and_taste + substance.rest_s);
}

/// Every presentation at the strongest rung, and before them a known clear cup and a known blank.
safety::Intake worst_of(const solution::PlanRequest& request, const solution::MixedLadder& ladder) {
    const auto served = [&request](std::size_t presentations, std::size_t cups) {
        return safety::Served{static_cast<int>(presentations), static_cast<int>(cups), request.demand.cup};
    };
    safety::Intake worst = safety::worst_case(request.substance, ladder, request.base, served(1, 2));
    worst += safety::worst_case(request.substance, ladder, request.base,
                                served(request.demand.presentations, request.demand.cups_per_presentation));
    return worst;
}

safety::Intake worst_of(const solution::MixPlan& plan) {
    return safety::costs_of(plan).worst;
}

std::vector<std::string> against_keeping(const App& app) {
    std::vector<std::string> against;
    const Bench& bench = app.bench;
    if (!bench.plan) return against;
    const solution::PlanRequest& request = bench.plan->request;
    const ReadNotes read = read_notes(bench);
    const safety::Intake taken = app.history ? app.history->taken_today : safety::Intake{};
    const auto check = [&](const safety::Intake& worst) {
        safety::Intake day = taken;
        day += worst;
        const auto crossed = safety::crossed(app.content->cautions.caps, worst, day);
        if (crossed && std::ranges::find(against, crossed->text) == against.end())
            against.push_back(crossed->text);
    };
    check(worst_of(*bench.plan));
    if (!read.problems.empty()) {
        against.emplace_back("A reading cannot be read; see the step.");
    } else {
        try {
            // What was misread may have made the strongest rung stronger than planned.
            check(worst_of(request, mixed_after(*bench.plan, read.record).ladder));
        } catch (const Refused& refused) {
            for (const Problem& problem : refused.problems()) against.push_back(to_text(problem));
        }
    }
    if (!app.person) {
        against.emplace_back("Nobody is set to taste it yet: add a person.");
        return against;
    }
    if (!app.history->cautions_read) against.emplace_back("The cautions have not been read yet.");
    if (request.substance.component == solution::Component::alcohol &&
        !app.history->no_ethanol_reasons.empty())
        against.emplace_back(
            "You ticked a reason not to take part in alcohol drills; another substance is as good a start.");
    return against;
}

}  // namespace sipladder::gui
