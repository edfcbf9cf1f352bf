#include "drills/record.hpp"
#include "engine/solution/as_mixed.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

constexpr std::size_t most_setups_kept = 50;

/// A choice that no longer fits (an ingredient of another substance) is replaced by the first that does.
Setup made_whole(const content::Content& content, Setup setup) {
    const std::vector<solution::Ingredient> fitting = content.ingredients_of(setup.substance);
    const bool fits =
        std::ranges::find(fitting, setup.ingredient, &solution::Ingredient::id) != fitting.end();
    if (!fits && !fitting.empty()) setup.ingredient = fitting.front().id;
    return setup;
}

}  // namespace

const PalateEntry* own_of(const App& app, const std::string& substance) {
    if (!app.history) return nullptr;
    for (const PalateEntry& entry : app.history->palate)
        if (entry.past.state.plan.substance.id == substance) return &entry;
    return nullptr;
}

Setup first_setup(const content::Content& content) {
    Setup setup;
    // Sucrose first: cheap, harmless, and everyone knows what to look for.
    const bool has_sucrose = std::ranges::find(content.substances, "sucrose", &solution::Substance::id) !=
                             content.substances.end();
    setup.substance = has_sucrose ? "sucrose" : content.substances.front().id;
    setup.base = content.bases.front().id;
    setup.kitchen = content.equipment.front().id;
    return made_whole(content, setup);
}

void set_up(App& app, Setup setup) {
    Bench bench;
    bench.setup = made_whole(*app.content, std::move(setup));
    ++app.generation;
    auto request = request_of(app, bench.setup);
    if (auto* problems = std::get_if<std::vector<Problem>>(&request))
        bench.problems = std::move(*problems);
    else
        bench.job = PlanJob{.generation = app.generation,
                            .request = std::get<solution::PlanRequest>(std::move(request))};
    app.bench = std::move(bench);
}

void on(Next& next, const ChangeSetup& intent) {
    if (intent.setup == next.app.bench.setup) return;
    next.app.earlier_setups.push_back(next.app.bench.setup);
    if (next.app.earlier_setups.size() > most_setups_kept)
        next.app.earlier_setups.erase(next.app.earlier_setups.begin());
    set_up(next.app, intent.setup);
}

void on(Next& next, const PlanReady& intent) {
    if (intent.generation != next.app.generation) return;  // of a form that was changed since
    Bench& bench = next.app.bench;
    bench.job.reset();
    if (const auto* plan = std::get_if<solution::MixPlan>(&intent.found))
        bench.plan = *plan;
    else
        bench.problems = std::get<std::vector<Problem>>(intent.found);
}

void on(Next& next, const TickStep& intent) {
    if (intent.on)
        next.app.bench.ticked.insert(intent.step);
    else
        next.app.bench.ticked.erase(intent.step);
}

void on(Next& next, const TypeReading& intent) {
    next.app.bench.typed[intent.step] = intent.text;
    if (!intent.text.empty()) next.app.bench.ticked.insert(intent.step);
}

void on(Next& next, const KeepMix&) {
    App& app = next.app;
    if (!app.bench.plan)
        throw Refused("Mix", "there is no plan yet", "wait for it, or mend the fields above");
    std::vector<Problem> problems;
    for (const std::string& reason : against_keeping(app))
        problems.push_back({"This mix", reason, "it is not kept until that is put right"});
    if (!problems.empty()) throw Refused(problems);
    const solution::Readings readings = read_readings(app.bench).readings;
    const solution::MixedLadder mixed = solution::as_mixed(*app.bench.plan, readings);
    next.rows.emplace_back(
        journal::Fact{.id = uuid_from(app.chance),
                      .person = *app.person,
                      .kind = "mix",
                      .at = app.now,
                      .body = drills::record::body_of_mix(*app.bench.plan, readings, mixed),
                      .struck = {}});
    next.read_again = true;
    app.chosen_mix = 0;
    app.chosen_blinding = app.bench.setup.blinding;
    app.chosen_presentations = app.bench.setup.presentations;
    app.chosen_cup = app.bench.plan->request.demand.cup;
    app.place = Place::taste;
}

}  // namespace sipladder::gui
