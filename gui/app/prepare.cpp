// The Prepare form and the bench. Everything said of a step is a note; notes go to the journal as a draft, a
// tick at once and typing after a pause, so that closing the program or losing power loses none of them.

#include "drills/record.hpp"
#include "engine/text.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace sipladder::gui {

namespace {

using drills::record::DraftStep;
using drills::record::MixDraft;

constexpr std::size_t most_forms_kept = 50;

/// A choice that no longer fits (an ingredient of another substance, a kitchen that content lacks) is
/// replaced by the first that does.
Setup made_whole(const content::Content& content, Setup setup) {
    const auto known = [](const auto& all, const std::string& id) {
        return std::ranges::any_of(all, [&](const auto& one) { return one.id == id; });
    };
    if (!known(content.substances, setup.substance)) setup.substance = content.substances.front().id;
    if (!known(content.bases, setup.base)) {
        setup.base = content.bases.front().id;
        setup.bicarbonate.clear();
    }
    if (!known(content.equipment, setup.kitchen)) setup.kitchen = content.equipment.front().id;
    const std::vector<solution::Ingredient> fitting = content.ingredients_of(setup.substance);
    if (!known(fitting, setup.ingredient) && !fitting.empty()) {
        setup.ingredient = fitting.front().id;
        setup.strength.clear();  // of another pack
        setup.strength_within.clear();
    }
    return setup;
}

/// With own history 5 rungs around it, else the wide first ladder: rungs of another substance never fit.
Rungs first_rungs(const App& app, const Setup& setup) {
    return own_of(app, setup) != nullptr ? Rungs::around_mine : Rungs::six_of_three;
}

StepNote note_from(const DraftStep& step) {
    return {.ticked = step.ticked,
            .reading = step.reading,
            .fate = step.fate == "skipped"   ? Fate::skipped
                    : step.fate == "spilled" ? Fate::spilled
                                             : Fate::as_written,
            .left = step.left};
}

/// The step that these words were said of: the same number if it still says the same, else the only one that
/// does.
std::optional<std::size_t> step_of(const solution::MixPlan& plan, const DraftStep& noted) {
    if (noted.number < plan.steps.size() && plan.steps[noted.number].text == noted.text) return noted.number;
    const auto found = std::ranges::find(plan.steps, noted.text, &solution::Step::text);
    if (found == plan.steps.end()) return std::nullopt;
    return static_cast<std::size_t>(found - plan.steps.begin());
}

std::string said_of(const DraftStep& step) {
    std::string said = step.text;
    if (!step.reading.empty()) said += " Read: " + step.reading + ".";
    if (!step.fate.empty())
        said += " It was " + step.fate + (step.left.empty() ? "" : ", left: " + step.left) + ".";
    if (step.ticked && step.reading.empty() && step.fate.empty()) said += " Ticked.";
    return said;
}

/// Notes that waited for their plan. What fits nowhere is told, and stays in the journal.
void take_up_waiting(App& app) {
    Bench& bench = app.bench;
    if (!bench.waiting || !bench.plan) return;
    Notice lost{
        .lines = {"The plan comes out different from the one you had begun; this was noted of the earlier "
                  "one and is not taken over:"},
        .is_problem = true};
    for (const DraftStep& noted : bench.waiting->steps) {
        if (const auto step = step_of(*bench.plan, noted))
            bench.notes.steps[*step] = note_from(noted);
        else
            lost.lines.push_back(said_of(noted));
    }
    bench.notes.checks = bench.waiting->checks;
    if (lost.lines.size() > 1) app.notice = std::move(lost);
    bench.waiting.reset();
}

StepNote* note_of(App& app, std::size_t step) {
    if (!app.bench.plan || step >= app.bench.plan->steps.size()) return nullptr;
    return &app.bench.notes.steps[step];
}

void is_noted(Next& next, std::size_t step, bool at_once) {
    Bench& bench = next.app.bench;
    if (bench.notes.steps[step] == StepNote{}) bench.notes.steps.erase(step);
    if (!bench.unsaved_since_ms || !at_once) bench.unsaved_since_ms = next.app.now.monotonic_ms;
    if (at_once) save_draft(next);
}

}  // namespace

const PalateEntry* own_of(const App& app, const Setup& setup) {
    if (!app.history) return nullptr;
    const auto base = std::ranges::find(app.content->bases, setup.base, &solution::Base::id);
    if (base == app.content->bases.end()) return nullptr;
    for (const PalateEntry& entry : app.history->palate)
        if (entry.past.state.plan.substance.id == setup.substance &&
            entry.past.state.plan.base_name == base->name)
            return &entry;
    return nullptr;
}

Setup first_setup(const content::Content& content) {
    Setup setup;
    // Sucrose first: cheap, harmless, and everyone knows what to look for.
    const bool has_sucrose = std::ranges::find(content.substances, "sucrose", &solution::Substance::id) !=
                             content.substances.end();
    setup.substance = has_sucrose ? "sucrose" : content.substances.front().id;
    return made_whole(content, setup);
}

void set_up(App& app, Setup setup) {
    Bench bench;
    bench.setup = made_whole(*app.content, std::move(setup));
    if (bench.setup.rungs == Rungs::around_mine && own_of(app, bench.setup) == nullptr)
        bench.setup.rungs = Rungs::six_of_three;
    bench.former_plan = app.bench.plan ? app.bench.plan : app.bench.former_plan;
    ++app.generation;
    auto request = request_of(app, bench.setup);
    if (auto* problems = std::get_if<std::vector<Problem>>(&request)) {
        bench.problems = std::move(*problems);
    } else {
        bench.job = PlanJob{.generation = app.generation,
                            .request = std::get<solution::PlanRequest>(std::move(request))};
    }
    app.bench = std::move(bench);
}

void set_up_for_person(App& app) {
    Setup setup = app.bench.setup;
    if (setup.rungs == Rungs::six_of_three || setup.rungs == Rungs::around_mine)
        setup.rungs = first_rungs(app, setup);
    set_up(app, std::move(setup));
}

void keep_aside(App& app) {
    app.earlier.push_back(draft_of(app.bench));
    if (app.earlier.size() > most_forms_kept) app.earlier.erase(app.earlier.begin());
}

void take_up(App& app, MixDraft draft) {
    Setup setup = setup_from(draft.form, first_setup(*app.content));
    const bool is_missing = std::ranges::find(app.content->equipment, setup.kitchen,
                                              &solution::Equipment::id) == app.content->equipment.end();
    if (is_missing && !setup.kitchen_file.empty()) {
        try {
            app.content = with_kitchen(app, setup.kitchen_file).content;
        } catch (const Refused&) {
            app.notice = Notice{.lines = {"Your equipment in " + setup.kitchen_file +
                                          " cannot be read any more; another is chosen in its place."},
                                .is_problem = true};
        }
    }
    set_up(app, std::move(setup));
    if (!draft.steps.empty() || !draft.checks.empty()) app.bench.waiting = std::move(draft);
}

void save_draft(Next& next) {
    App& app = next.app;
    if (!app.bench.unsaved_since_ms) return;
    app.bench.unsaved_since_ms.reset();
    if (!app.person) return;
    next.rows.emplace_back(journal::Fact{.id = uuid_from(app.chance),
                                         .person = *app.person,
                                         .kind = "mix_draft",
                                         .at = app.now,
                                         .body = drills::record::body_of(draft_of(app.bench)),
                                         .struck = {}});
}

void on(Next& next, const SaveDraft&) {
    save_draft(next);
}

void on(Next& next, const ChangeSetup& intent) {
    App& app = next.app;
    if (intent.setup == app.bench.setup) return;
    save_draft(next);
    const bool had_notes = !app.bench.notes.empty() || app.bench.waiting.has_value();
    keep_aside(app);
    Setup setup = intent.setup;
    if (setup.substance != app.bench.setup.substance || setup.base != app.bench.setup.base)
        setup.rungs = first_rungs(app, setup);
    if (setup.base != app.bench.setup.base) setup.bicarbonate.clear();
    if (setup.ingredient != app.bench.setup.ingredient) {
        setup.strength.clear();
        setup.strength_within.clear();
    }
    set_up(app, std::move(setup));
    if (!had_notes) return;
    // From here on the form as it is now is what a start of the program finds.
    app.bench.unsaved_since_ms = app.now.monotonic_ms;
    app.notice =
        Notice{.lines = {"This is another plan: what you had ticked and read is set aside with the one "
                         "before. Ctrl+Z brings both back."}};
}

void on(Next& next, const DragEnd& intent) {
    App& app = next.app;
    const auto request = request_of(app, app.bench.setup);
    const auto* good = std::get_if<solution::PlanRequest>(&request);
    if (good == nullptr || !std::isfinite(intent.to) || intent.to <= 0.0) return;
    const std::vector<double>& targets = good->ladder.targets();
    double lowest = targets.front();
    double highest = targets.back();
    constexpr double least_span = 1.5;  // ends that cross would turn the ladder round
    if (intent.is_highest)
        highest = std::max(intent.to, lowest * least_span);
    else
        lowest = std::min(intent.to, highest / least_span);
    Setup setup = app.bench.setup;
    setup.rungs = Rungs::from_end_to_end;
    setup.count = std::to_string(targets.size());
    setup.lowest = significant(lowest, 2);
    setup.ratio = significant(std::pow(highest / number_from_typed(setup.lowest).value_or(lowest),
                                       1.0 / static_cast<double>(targets.size() - 1)),
                              3);
    if (setup == app.bench.setup) return;
    // One pull is one thing to take back, however many frames it lasts.
    if (app.bench.setup.rungs == Rungs::from_end_to_end && app.bench.notes.empty())
        set_up(app, std::move(setup));
    else
        on(next, ChangeSetup{std::move(setup)});
}

void on(Next& next, const TypeKitchenPath& intent) {
    next.app.kitchen_path = intent.text;
}

void on(Next& next, const LoadKitchen&) {
    App& app = next.app;
    OwnKitchen own = with_kitchen(app, app.kitchen_path);
    app.content = std::move(own.content);
    Setup setup = app.bench.setup;
    setup.kitchen = own.id;
    setup.kitchen_file = app.kitchen_path;
    app.kitchen_path.clear();
    on(next, ChangeSetup{std::move(setup)});
}

void on(Next& next, const PlanReady& intent) {
    if (intent.generation != next.app.generation) return;  // of a form that was changed since
    Bench& bench = next.app.bench;
    bench.job.reset();
    bench.former_plan.reset();
    if (const auto* plan = std::get_if<std::shared_ptr<const solution::MixPlan>>(&intent.found))
        bench.plan = *plan;
    else
        bench.problems = std::get<std::vector<Problem>>(intent.found);
    take_up_waiting(next.app);
}

void on(Next& next, const TickStep& intent) {
    StepNote* note = note_of(next.app, intent.step);
    if (note == nullptr) return;
    note->ticked = intent.on;
    is_noted(next, intent.step, true);
}

void on(Next& next, const TypeReading& intent) {
    StepNote* note = note_of(next.app, intent.step);
    if (note == nullptr) return;
    note->reading = intent.text;
    if (!intent.text.empty()) note->ticked = true;
    is_noted(next, intent.step, false);
}

void on(Next& next, const SetFate& intent) {
    StepNote* note = note_of(next.app, intent.step);
    if (note == nullptr) return;
    note->fate = intent.fate;
    if (intent.fate != Fate::spilled) note->left.clear();
    is_noted(next, intent.step, true);
}

void on(Next& next, const TypeLeft& intent) {
    StepNote* note = note_of(next.app, intent.step);
    if (note == nullptr) return;
    note->left = intent.text;
    is_noted(next, intent.step, false);
}

void on(Next& next, const TypeCheck& intent) {
    Bench& bench = next.app.bench;
    if (intent.text.empty())
        bench.notes.checks.erase(intent.check);
    else
        bench.notes.checks[intent.check] = intent.text;
    bench.unsaved_since_ms = next.app.now.monotonic_ms;
}

void on(Next& next, const ToggleBudget&) {
    next.app.budget_open = !next.app.budget_open;
}

void on(Next& next, const KeepMix&) {
    App& app = next.app;
    if (!app.bench.plan)
        throw Refused("Mix", "there is no plan yet", "wait for it, or mend the fields above");
    std::vector<Problem> problems;
    for (const std::string& reason : against_keeping(app))
        problems.push_back({"This mix", reason, "it is not kept until that is put right"});
    if (!problems.empty()) throw Refused(problems);
    const ReadNotes read = read_notes(app.bench);
    next.rows.emplace_back(
        journal::Fact{.id = uuid_from(app.chance),
                      .person = *app.person,
                      .kind = "mix",
                      .at = app.now,
                      .body = drills::record::body_of_mix(*app.bench.plan, read.record,
                                                          mixed_after(*app.bench.plan, read.record).ladder),
                      .struck = {}});
    next.read_again = true;
    // The bench is as new: what was noted stands in the mix now.
    app.bench.notes = {};
    app.bench.unsaved_since_ms.reset();
    app.chosen_mix = 0;
    app.chosen_prior.reset();
    app.chosen_blinding = app.bench.setup.blinding;
    app.chosen_presentations = app.bench.setup.presentations;
    app.chosen_cup = app.bench.plan->request.demand.cup;
    app.place = Place::taste;
}

}  // namespace sipladder::gui
