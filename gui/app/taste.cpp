#include "drills/record.hpp"
#include "drills/record_notes.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"

#include <algorithm>
#include <chrono>

namespace sipladder::gui {

namespace {

namespace detection = drills::detection;

std::string name_of(drills::Blinding blinding) {
    return blinding == drills::Blinding::served ? "served" : "shuffled_tray";
}

Running& running_of(Next& next) {
    if (!next.app.running) throw Refused("Taste", "no drill is under way", "choose a mix and start one");
    return *next.app.running;
}

void expect_phase(const Running& running, Phase phase, const std::string& right) {
    if (phase_of(running) != phase) throw Refused("Taste", "that is not asked now", right);
}

/// The drill moves on: rows first, then the rest that follows, then the finding once all is done.
void move_on(Next& next, detection::State after) {
    App& app = next.app;
    Running& running = running_of(next);
    const std::vector<journal::Entry> entries = drills::record::entries_between(
        running.state, after, running.drill, running.next_number, app.now, app.chance);
    running.next_number += static_cast<int>(entries.size());
    next.rows.insert(next.rows.end(), entries.begin(), entries.end());
    running.state = std::move(after);
    running.picked.reset();
    running.certainty.reset();
    running.found.reset();
    running.stop_asked = false;
    const drills::Step step = detection::next(running.state);
    if (const auto* rest = std::get_if<drills::Rest>(&step)) {
        running.poured = false;
        running.rest_over = false;
        running.rest_ends_ms = app.now.monotonic_ms + std::chrono::milliseconds{rest->length}.count();
    }
    if (std::holds_alternative<drills::Finished>(step)) {
        app.just_done = running.drill;
        app.running.reset();
        next.read_again = true;
    }
}

}  // namespace

drills::Step step_of(const Running& running) {
    drills::Step step = detection::next(running.state);
    if (std::holds_alternative<drills::Rest>(step) && running.rest_over)
        return detection::next_after_rest(running.state);
    return step;
}

Phase phase_of(const Running& running) {
    const drills::Step step = step_of(running);
    if (std::holds_alternative<drills::Finished>(step)) return Phase::done;
    if (std::holds_alternative<drills::Reveal>(step)) return Phase::reveal;
    if (std::holds_alternative<drills::Rest>(step)) return Phase::rest;
    if (!running.acquainted) return Phase::acquaint;
    return running.poured ? Phase::answer : Phase::pour;
}

std::optional<std::int64_t> next_wake(const App& app) {
    if (!app.running && app.bench.unsaved_since_ms)
        return *app.bench.unsaved_since_ms + pause_before_saving_ms;
    if (!app.running || phase_of(*app.running) != Phase::rest) return std::nullopt;
    // Once a second, when the figure shown changes.
    const std::int64_t left = app.running->rest_ends_ms - app.now.monotonic_ms;
    return app.now.monotonic_ms + std::max<std::int64_t>(1, (left - 1) % 1000 + 1);
}

void on(Next& next, const Tick&) {
    if (!next.app.running) {
        const auto& since = next.app.bench.unsaved_since_ms;
        if (since && next.app.now.monotonic_ms >= *since + pause_before_saving_ms) save_draft(next);
        return;
    }
    Running& running = *next.app.running;
    if (!running.rest_over && next.app.now.monotonic_ms >= running.rest_ends_ms) running.rest_over = true;
}

void on(Next& next, const ChooseMix& intent) {
    if (!next.app.history || intent.mix >= next.app.history->mixes.size()) return;
    next.app.chosen_mix = intent.mix;
    next.app.chosen_prior.reset();  // of another substance there may be no history
}
void on(Next& next, const ChooseBlinding& intent) {
    next.app.chosen_blinding = intent.blinding;
}
void on(Next& next, const ChoosePrior& intent) {
    next.app.chosen_prior = intent.prior;
}
void on(Next& next, const TickSpoiler& intent) {
    if (intent.on)
        next.app.spoilers.ticked.insert(intent.what);
    else
        next.app.spoilers.ticked.erase(intent.what);
}
void on(Next& next, const TickClosedNose& intent) {
    next.app.spoilers.closed_nose = intent.on;
}

void on(Next& next, const StartDrill&) {
    App& app = next.app;
    if (!app.person || !app.chosen_mix)
        throw Refused("Taste", "no mix is chosen", "choose one, or prepare one first");
    if (!app.history->cautions_read) {
        app.dialog = Dialog::cautions;
        return;
    }
    detection::Plan plan = drill_plan(app, app.history->mixes.at(*app.chosen_mix));
    if (plan.substance.component == solution::Component::alcohol && !app.history->no_ethanol_reasons.empty())
        throw Refused("Taste", "you ticked a reason not to take part in alcohol drills",
                      "another substance is as good");
    const Seed seed{app.chance.bits()};
    Running running{.sitting = uuid_from(app.chance),
                    .drill = uuid_from(app.chance),
                    .started = app.now,
                    .state = detection::begin(std::move(plan), seed)};
    const drills::record::Circumstances circumstances{
        .spoilers = {app.spoilers.ticked.begin(), app.spoilers.ticked.end()},
        .closed_nose = app.spoilers.closed_nose,
        .blinding = name_of(running.state.plan.blinding)};
    next.rows.emplace_back(journal::Sitting{.id = running.sitting,
                                            .person = *app.person,
                                            .started = app.now,
                                            .body = drills::record::body_of(circumstances),
                                            .struck = {}});
    next.rows.emplace_back(journal::Drill{.id = running.drill,
                                          .sitting = running.sitting,
                                          .kind = "detection",
                                          .started = app.now,
                                          .body = drills::record::body_of(running.state.plan, seed),
                                          .struck = {}});
    app.running = std::move(running);
    app.just_done.reset();
    app.place = Place::taste;
}

void on(Next& next, const GoOn& intent) {
    App& app = next.app;
    if (!app.history) return;
    const auto past = std::ranges::find(app.history->unfinished, intent.drill, &PastDrill::drill);
    if (past == app.history->unfinished.end())
        throw Refused("Taste", "this drill is not open", "choose one that is");
    Running running{
        .sitting = past->sitting, .drill = past->drill, .started = past->started, .state = past->state};
    running.next_number = past->rows;
    running.acquainted = !past->state.trials.empty();
    // A rest goes on where the clock on the wall says; the monotonic one began anew with this run.
    const drills::Step step = detection::next(running.state);
    if (const auto* rest = std::get_if<drills::Rest>(&step)) {
        const std::int64_t left_ms =
            past->last.utc_ms + std::chrono::milliseconds{rest->length}.count() - app.now.utc_ms;
        running.rest_over = left_ms <= 0;
        running.rest_ends_ms =
            app.now.monotonic_ms + std::min(left_ms, std::chrono::milliseconds{rest->length}.count());
    }
    app.running = std::move(running);
    app.just_done.reset();
    app.place = Place::taste;
}

void on(Next& next, const Acquainted&) {
    running_of(next).acquainted = true;
}

void on(Next& next, const Poured&) {
    Running& running = running_of(next);
    const Phase phase = phase_of(running);
    if (phase == Phase::pour || phase == Phase::rest) running.poured = true;
}

void on(Next& next, const PickCup& intent) {
    Running& running = running_of(next);
    if (phase_of(running) == Phase::answer && intent.place < drills::places) running.picked = intent.place;
}

void on(Next& next, const PickCertainty& intent) {
    Running& running = running_of(next);
    if (phase_of(running) == Phase::answer) running.certainty = intent.certainty;
}

void on(Next& next, const LockAnswer&) {
    const Running& running = running_of(next);
    expect_phase(running, Phase::answer, "answer once the cups are tasted");
    if (!running.picked)
        throw Refused("Answer", "no cup is picked", "pick left, middle or right; a guess is an answer too");
    if (!running.certainty)
        throw Refused("Answer", "how sure you are is missing", "guessed, leaning or sure");
    const detection::Answer answer{
        .choice = *running.picked, .certainty = *running.certainty, .at = next.app.now};
    move_on(next, detection::lock(running.state, answer));
}

void on(Next& next, const FoundSign& intent) {
    Running& running = running_of(next);
    if (phase_of(running) == Phase::reveal && intent.place < drills::places) running.found = intent.place;
}

void on(Next& next, const LockSign&) {
    const Running& running = running_of(next);
    expect_phase(running, Phase::reveal, "lock the answer first");
    if (!running.found) throw Refused("Sign", "it is not said where the sign was", "left, middle or right");
    move_on(next, detection::reveal(running.state, *running.found, next.app.now));
}

void on(Next& next, const CutRest&) {
    Running& running = running_of(next);
    if (phase_of(running) != Phase::rest) return;
    const long seconds_left =
        static_cast<long>((running.rest_ends_ms - next.app.now.monotonic_ms + 999) / 1000);
    next.rows.emplace_back(journal::Entry{.id = uuid_from(next.app.chance),
                                          .drill = running.drill,
                                          .number = running.next_number,
                                          .kind = "rest_cut",
                                          .at = next.app.now,
                                          .body = drills::record::body_of_rest_cut(seconds_left),
                                          .struck = {}});
    ++running.next_number;
    running.rest_over = true;
}

void on(Next& next, const AskToStop& intent) {
    running_of(next).stop_asked = intent.yes;
}

void on(Next& next, const StopDrill&) {
    const Running& running = running_of(next);
    move_on(next, detection::stop(running.state, "stopped by the taster"));
}

void on(Next& next, const LeaveFinding&) {
    next.app.just_done.reset();
}

}  // namespace sipladder::gui
