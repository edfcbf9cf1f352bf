// The Prepare form and the bench. Everything said of a step is a note; notes go to the journal as a draft, a
// tick at once and typing after a pause, so that closing the program or losing power loses none of them.

#include "drills/record.hpp"
#include "drills/record_notes.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace sipladder::gui {

namespace {

using drills::record::DraftStep;
using drills::record::MixDraft;

constexpr std::size_t most_forms_kept = 50;

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
void take_up_waiting(App& app, Bench& bench) {
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

drills::record::MixDraft draft_of_all(const App& app) {
    MixDraft draft = draft_of(app.bench);
    for (const Bench& other : app.beside) draft.beside.push_back(draft_of(other));
    draft.place = app.open_ladder;
    return draft;
}

void keep_aside(App& app) {
    app.earlier.push_back(draft_of_all(app));
    if (app.earlier.size() > most_forms_kept) app.earlier.erase(app.earlier.begin());
}

void take_up(App& app, MixDraft draft) {
    Setup setup = setup_from(draft.form, first_setup(app));
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
    Bench open;
    open.setup = setup;
    open.former_plan = app.bench.plan ? app.bench.plan : app.bench.former_plan;
    app.beside.clear();
    for (const MixDraft& other : draft.beside) {
        app.beside.emplace_back();
        app.beside.back().setup = setup_from(other.form, first_setup(app));
    }
    app.open_ladder = draft.place;
    app.bench = std::move(open);
    set_up(app, std::move(setup));
    const auto wait = [&](Bench& bench, MixDraft noted) {
        if (!noted.steps.empty() || !noted.checks.empty()) bench.waiting = std::move(noted);
    };
    for (std::size_t i = 0; i < std::min(app.beside.size(), draft.beside.size()); ++i)
        wait(app.beside[i], draft.beside[i]);
    wait(app.bench, std::move(draft));
}

void save_draft(Next& next) {
    App& app = next.app;
    if (!app.bench.unsaved_since_ms) return;
    app.bench.unsaved_since_ms.reset();
    for (Bench& other : app.beside) other.unsaved_since_ms.reset();
    if (!app.person) return;
    next.rows.emplace_back(journal::Fact{.id = uuid_from(app.chance),
                                         .person = *app.person,
                                         .kind = "mix_draft",
                                         .at = app.now,
                                         .body = drills::record::body_of(draft_of_all(app)),
                                         .struck = {}});
}

void on(Next& next, const SaveDraft&) {
    save_draft(next);
}

void on(Next& next, const PlanReady& intent) {
    const auto asked_by = [&](const Bench& one) {
        return one.job && one.job->generation == intent.generation;
    };
    const auto other = std::ranges::find_if(next.app.beside, asked_by);
    if (!asked_by(next.app.bench) && other == next.app.beside.end()) return;  // a form changed since
    Bench& bench = asked_by(next.app.bench) ? next.app.bench : *other;
    bench.job.reset();
    bench.former_plan.reset();
    if (const auto* plan = std::get_if<std::shared_ptr<const solution::MixPlan>>(&intent.found))
        bench.plan = *plan;
    else
        bench.problems = std::get<std::vector<Problem>>(intent.found);
    take_up_waiting(next.app, bench);
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

namespace {

/// What is to be tasted from these mixes, in order.
drills::record::SittingPlan plan_kept(const App& app, const std::vector<Uuid>& mixes) {
    const auto sitting = prepared(app);
    SIPLADDER_EXPECT(sitting.has_value());
    const Setup& setup = app.bench.setup;
    drills::record::SittingPlan kept{
        .name = setup.programme.empty() ? std::string() : app.content->programme(setup.programme).name,
        .cup = sitting->sitting.cup,
        .drills = {}};
    for (const drills::WantedDrill& drill : sitting->sitting.drills) {
        kept.drills.push_back(
            {drill.kind, drill.order, drill.blinding, drill.presentations, {}, drill.condition});
        for (const std::size_t ladder : drill.ladders) kept.drills.back().mixes.push_back(mixes.at(ladder));
    }
    return kept;
}

}  // namespace

void on(Next& next, const KeepMix&) {
    App& app = next.app;
    for (const Bench* bench : benches(app))
        if (!bench->plan)
            throw Refused("Mix", "there is no plan yet", "wait for it, or mend the fields above");
    std::vector<Problem> problems;
    for (const std::string& reason : against_keeping(app))
        problems.push_back({"This mix", reason, "it is not kept until that is put right"});
    if (!problems.empty()) throw Refused(problems);
    const auto keep = [&](const std::string& kind, std::string body) {
        next.rows.emplace_back(journal::Fact{.id = uuid_from(app.chance),
                                             .person = *app.person,
                                             .kind = kind,
                                             .at = app.now,
                                             .body = std::move(body),
                                             .struck = {}});
        return std::get<journal::Fact>(next.rows.back()).id;
    };
    std::vector<Uuid> mixes;
    for (const Bench* bench : benches(app)) {
        const ReadNotes read = read_notes(*bench);
        mixes.push_back(
            keep("mix", drills::record::body_of_mix(*bench->plan, read.record,
                                                    mixed_after(*bench->plan, read.record).ladder)));
    }
    keep("sitting_plan", drills::record::body_of(plan_kept(app, mixes)));
    next.read_again = true;
    // The bench is as new: what was noted stands in the mixes now.
    for (std::size_t i = 0; i <= app.beside.size(); ++i) {
        Bench& bench = bench_at(app, i);
        bench.notes = {};
        bench.waiting.reset();
        bench.unsaved_since_ms.reset();
    }
    app.own_choice = false;
    app.place = Place::taste;
}

}  // namespace sipladder::gui
