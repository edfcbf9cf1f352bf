// A drill under way: one row for every step, written before the screen moves on. What is under way moves by
// the verbs of drills/drill alone; the clock of the rests is kept here.

#include "drills/record.hpp"
#include "gui/app/answering.hpp"
#include "gui/app/handlers.hpp"

#include <algorithm>
#include <chrono>

namespace sipladder::gui {

namespace {

Running& running_of(Next& next) {
    if (!next.app.running) throw Refused("Taste", "no drill is under way", "choose a mix and start one");
    return *next.app.running;
}

void expect_phase(const Running& running, Phase phase, const std::string& right) {
    if (phase_of(running) != phase) throw Refused("Taste", "that is not asked now", right);
}

void append_rows(Next& next, Running& running, const drills::State& after) {
    const std::vector<journal::Entry> entries = drills::record::entries_between(
        running.state, after, running.drill, running.next_number, next.app.now, next.app.chance);
    running.next_number += static_cast<int>(entries.size());
    next.rows.insert(next.rows.end(), entries.begin(), entries.end());
}

/// Where there is anew something to pour for each presentation. The cups of a sealed key all stand there.
bool pours_each_time(const drills::Plan& plan) {
    return plan.blinding != drills::Blinding::sealed_key;
}

void end_drill(Next& next) {
    App& app = next.app;
    app.just_done = app.running->drill;
    // What was gone on with another day belongs to the sitting of its first cups, which is over.
    if (!app.running->state.gone_on.empty()) {
        app.running.reset();
        next.read_again = true;
        return;
    }
    if (!app.sitting || app.sitting->id != app.running->sitting)
        app.sitting = OpenSitting{.id = app.running->sitting};
    ++app.sitting->drills_done;
    app.sitting->last_ms = app.now.monotonic_ms;
    app.running.reset();
    next.read_again = true;
}

/// The drill moves on: rows first, then the rest that follows, then the finding once all is done.
void move_on(Next& next, drills::State after) {
    Running& running = running_of(next);
    append_rows(next, running, after);
    running.state = std::move(after);
    next.app.notice.reset();  // it was about what is done now
    running.picked.reset();
    running.certainty.reset();
    running.found.reset();
    running.parts = {};
    running.stop_asked = false;
    const drills::Step step = drills::next(running.state);
    if (std::holds_alternative<drills::Finished>(step)) return end_drill(next);
    const bool waits = std::holds_alternative<drills::Reveal>(step);
    if (!waits && pours_each_time(running.state.plan)) running.poured = false;
    if (const auto* rest = std::get_if<drills::Rest>(&step)) {
        running.rest_over = false;
        running.rest_ends_ms = next.app.now.monotonic_ms + std::chrono::milliseconds{rest->length}.count();
    }
}

}  // namespace

drills::Step step_of(const Running& running) {
    drills::Step step = drills::next(running.state);
    if (std::holds_alternative<drills::Rest>(step) && running.rest_over)
        return drills::next_after_rest(running.state);
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

std::size_t cups_tasted(const Running& running) {
    const drills::State& state = running.state;
    const bool is_before_the_first = state.trials.empty() && running.acquainted;
    return is_before_the_first ? drills::known_cups(state.plan) : drills::cups_tasted(state);
}

std::optional<std::int64_t> next_wake(const App& app) {
    if (!app.running && app.bench.unsaved_since_ms)
        return *app.bench.unsaved_since_ms + pause_before_saving_ms;
    if (app.running)
        if (const auto ends = watch_ends_ms(*app.running)) return ends;
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
    stop_watch_at_its_end(running, next.app.now);
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
    const drills::Step step = step_of(running);
    const auto* serve = std::get_if<drills::Serve>(&step);
    if (serve == nullptr || phase_of(running) != Phase::answer) return;
    if (intent.place >= serve->question.choices.size()) return;
    running.picked = intent.place;
    if (!serve->question.first_is_nothing || intent.place > 0) return;
    running.parts.places.clear();
    running.parts.mark = 0.0;
}

void on(Next& next, const PickCertainty& intent) {
    Running& running = running_of(next);
    if (phase_of(running) == Phase::answer) running.certainty = intent.certainty;
}

void on(Next& next, const LockAnswer&) {
    const Running& running = running_of(next);
    expect_phase(running, Phase::answer, "answer once the cups are tasted");
    const auto serve = std::get<drills::Serve>(step_of(running));
    if (const auto problem = missing_in_answer(running, serve)) throw Refused(std::vector{*problem});
    move_on(next, drills::lock(running.state, answer_so_far(running, next.app.now)));
}

void on(Next& next, const FoundSign& intent) {
    Running& running = running_of(next);
    const drills::Step step = step_of(running);
    const auto* reveal = std::get_if<drills::Reveal>(&step);
    if (reveal != nullptr && intent.place < reveal->choices.size()) running.found = intent.place;
}

void on(Next& next, const LockSign&) {
    const Running& running = running_of(next);
    expect_phase(running, Phase::reveal, "lock the answer first");
    if (!running.found) throw Refused("Beneath", "it is not said what was seen", "look beneath and pick it");
    move_on(next, drills::reveal(running.state, *running.found, next.app.now));
}

void on(Next& next, const CutRest&) {
    Running& running = running_of(next);
    if (phase_of(running) != Phase::rest) return;
    const long seconds_left =
        static_cast<long>((running.rest_ends_ms - next.app.now.monotonic_ms + 999) / 1000);
    drills::State after = drills::cut_rest(running.state, seconds_left);
    append_rows(next, running, after);
    running.state = std::move(after);
    running.rest_over = true;
}

void on(Next& next, const AskToStop& intent) {
    running_of(next).stop_asked = intent.yes;
}

void on(Next& next, const StopDrill&) {
    const Running& running = running_of(next);
    move_on(next, drills::stop(running.state, "stopped by the taster"));
}

void on(Next& next, const LeaveFinding&) {
    next.app.just_done.reset();
}

}  // namespace sipladder::gui
