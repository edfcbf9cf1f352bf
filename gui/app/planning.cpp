#include "gui/app/planning.hpp"

#include "engine/safety/intake.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/solution/planner.hpp"
#include "engine/text.hpp"
#include "gui/app/handlers.hpp"

#include <algorithm>
#include <sstream>

namespace sipladder::gui {

namespace {

constexpr double smallest_cup_mL = 2.0;
constexpr double largest_cup_mL = 50.0;
constexpr long seconds_to_pour_and_taste = 120;  // measured on nobody yet; judgement of this project

/// Numbers with blanks or semicolons between; commas are decimal signs.
std::optional<std::vector<double>> numbers_typed(const std::string& text) {
    std::string spaced = text;
    std::replace(spaced.begin(), spaced.end(), ';', ' ');
    std::istringstream words(spaced);
    std::vector<double> numbers;
    for (std::string word; words >> word;) {
        const std::optional<double> number = number_from_typed(word);
        if (!number) return std::nullopt;
        numbers.push_back(*number);
    }
    return numbers;
}

/// The shipped ladder of this many rungs, else one around the assumed prior's centre.
solution::Ladder preset(const content::Content& content, const solution::Substance& substance,
                        std::size_t rungs, double ratio) {
    for (const solution::Ladder& ladder : content.ladders)
        if (ladder.substance() == substance.id && ladder.size() == rungs) return ladder;
    return solution::ladder_around(substance.id + "_" + std::to_string(rungs), substance.id, substance.scale,
                                   substance.prior.centre, rungs, ratio);
}

solution::Ladder ladder_of(const App& app, const Setup& setup, const solution::Substance& substance) {
    switch (setup.rungs) {
        case Rungs::six_of_three:
            return preset(*app.content, substance, 6, 3.0);
        case Rungs::eight_of_two:
            return preset(*app.content, substance, 8, 2.0);
        case Rungs::around_mine:
            if (const PalateEntry* own = own_of(app, substance.id))
                return solution::ladder_around(substance.id + "_mine", substance.id, substance.scale,
                                               own->threshold.value(), 5, 2.0);
            throw Refused("Ladder", "you have no result for " + substance.name + " yet",
                          "six rungs of ratio 3 for a first time");
        case Rungs::own:
            break;
    }
    const std::optional<std::vector<double>> typed = numbers_typed(setup.own_rungs);
    if (!typed || typed->size() < 2)
        throw Refused("Ladder", "the rungs typed are no list of numbers",
                      "two or more, weakest first, with blanks between: 0.1 0.2 0.4");
    return solution::Ladder(substance.id + "_own", substance.id, substance.scale, *typed, "Ladder");
}

}  // namespace

std::variant<solution::PlanRequest, std::vector<Problem>> request_of(const App& app, const Setup& setup) {
    const content::Content& content = *app.content;
    const std::optional<double> cup = number_from_typed(setup.cup_mL);
    if (!cup || *cup < smallest_cup_mL || *cup > largest_cup_mL)
        return std::vector{
            Problem{"Cup", "\"" + setup.cup_mL + "\" mL", "a volume from 2 to 50 mL; 10 to 15 is usual"}};
    try {
        const solution::Substance& substance = content.substance(setup.substance);
        return solution::PlanRequest{
            .ladder = ladder_of(app, setup, substance),
            .substance = substance,
            .ingredient = content.ingredient(setup.ingredient),
            .base = content.base(setup.base),
            .equipment = content.kitchen(setup.kitchen),
            .demand = {.presentations = setup.presentations, .cup = Millilitres{*cup}}};
    } catch (const Refused& refused) {
        return refused.problems();
    }
}

PlanReady plan_for(const PlanJob& job) {
    try {
        return {.generation = job.generation, .found = solution::plan(job.request)};
    } catch (const Refused& refused) {
        return {.generation = job.generation, .found = refused.problems()};
    }
}

ReadReadings read_readings(const Bench& bench) {
    ReadReadings read;
    for (const auto& [step, text] : bench.typed) {
        if (text.find_first_not_of(" \t") == std::string::npos) continue;
        const std::optional<double> number = number_from_typed(text);
        const double planned = bench.plan->steps.at(step).reading;
        if (!number || *number <= 0.0)
            read.problems[step] = {"step " + std::to_string(step + 1), "\"" + text + "\"",
                                   "a number above 0, point or comma"};
        else if (*number > 3.0 * planned || *number < planned / 3.0)
            read.problems[step] = {"step " + std::to_string(step + 1), "is far from " + exact(planned),
                                   "check the decimal sign; if it is right, begin this step anew"};
        else
            read.readings[step] = *number;
    }
    return read;
}

long seconds_of(const solution::Substance& substance, std::size_t presentations) {
    return static_cast<long>(presentations) * (seconds_to_pour_and_taste + substance.rest_s);
}

safety::Intake worst_of(const solution::MixPlan& plan) {
    const solution::PlanRequest& request = plan.request;
    return safety::worst_case(request.substance, solution::as_mixed(plan, {}),
                              static_cast<int>(request.demand.presentations), request.demand.cup);
}

std::vector<std::string> against_keeping(const App& app) {
    std::vector<std::string> against;
    const Bench& bench = app.bench;
    if (!bench.plan) return against;
    const solution::PlanRequest& request = bench.plan->request;
    const safety::Intake worst = worst_of(*bench.plan);
    safety::Intake day = app.history ? app.history->taken_today : safety::Intake{};
    day += worst;
    if (const auto crossed = safety::crossed(app.content->cautions.caps, worst, day))
        against.push_back(crossed->text);
    if (!app.person) {
        against.emplace_back("Nobody is set to taste it yet: add a person.");
        return against;
    }
    if (!app.history->cautions_read) against.emplace_back("The cautions have not been read yet.");
    if (request.substance.component == solution::Component::alcohol &&
        !app.history->no_ethanol_reasons.empty())
        against.emplace_back(
            "You ticked a reason not to take part in alcohol drills; another substance is as good a start.");
    if (!read_readings(bench).problems.empty())
        against.emplace_back("A reading cannot be read; see the step.");
    return against;
}

}  // namespace sipladder::gui
