// Before a drill: what is chosen, what is asked once, and the two ways in, a new drill and one left open.

#include "drills/pacing.hpp"
#include "drills/record.hpp"
#include "drills/record_notes.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/own_words.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <chrono>

namespace sipladder::gui {

namespace {

std::string name_of(drills::Blinding blinding) {
    switch (blinding) {
        case drills::Blinding::served:
            return "served";
        case drills::Blinding::shuffled_tray:
            return "shuffled_tray";
        case drills::Blinding::sealed_key:
            return "sealed_key";
        case drills::Blinding::class_service:
            break;
    }
    return "class_service";
}

/// What was asked once, as the journal keeps it with the sitting.
drills::record::Circumstances circumstances_of(const App& app, drills::Blinding blinding) {
    return {.spoilers = {app.spoilers.ticked.begin(), app.spoilers.ticked.end()},
            .closed_nose = app.spoilers.closed_nose,
            .blinding = name_of(blinding),
            .temperature_degC = number_from_typed(app.spoilers.temperature)};
}

constexpr std::int64_t longest_pause_ms = 2 * 3'600'000;

/// A drill that was left long enough is gone on with in a sitting of its own, with caps of its own.
bool is_another_sitting(const PastDrill& past, const Instant& now) {
    if (past.state.trials.empty()) return false;
    return now.utc_ms - past.last.utc_ms > longest_pause_ms || to_date(past.last) != to_date(now);
}

const PastDrill& open_drill(const App& app, const Uuid& drill) {
    if (app.history) {
        const auto past = std::ranges::find(app.history->unfinished, drill, &PastDrill::drill);
        if (past != app.history->unfinished.end()) return *past;
    }
    throw Refused("Taste", "this drill is not open", "choose one that is");
}

/// Begins what was planned, in the sitting that goes on or in one of its own.
void begin(Next& next, std::variant<drills::Plan, std::vector<Problem>> (*plan_for_it)(const App&)) {
    App& app = next.app;
    if (!app.person) throw Refused("Taste", "nobody is set to taste", "add a person first");
    if (!app.history->cautions_read) {
        app.dialog = Dialog::cautions;
        return;
    }
    auto planned = plan_for_it(app);
    if (auto* against = std::get_if<std::vector<Problem>>(&planned)) throw Refused(std::move(*against));
    drills::Plan plan = std::get<drills::Plan>(std::move(planned));
    const Seed seed{app.chance.bits()};
    const bool joins = sitting_to_join(app) != nullptr;
    Running running{.sitting = joins ? app.sitting->id : uuid_from(app.chance),
                    .drill = uuid_from(app.chance),
                    .started = app.now,
                    .state = drills::begin(std::move(plan), seed, app.history->no_ethanol_reasons)};
    const drills::Plan& closed = running.state.plan;
    if (!joins)
        next.rows.emplace_back(
            journal::Sitting{.id = running.sitting,
                             .person = *app.person,
                             .started = app.now,
                             .body = drills::record::body_of(circumstances_of(app, closed.blinding)),
                             .struck = {}});
    next.rows.emplace_back(journal::Drill{.id = running.drill,
                                          .sitting = running.sitting,
                                          .kind = drills::name_of(closed.kind),
                                          .started = app.now,
                                          .body = drills::record::body_of(closed, seed),
                                          .struck = {}});
    app.running = std::move(running);
    app.typed_words.clear();  // from now on they are those of the last drill
    app.just_done.reset();
    app.place = Place::taste;
}

}  // namespace

namespace {

/// The drill that was tasted last, of those that a sitting may still go on from; nothing where there is none.
const PastDrill* last_drill(const App& app) {
    const PastDrill* last = nullptr;
    // What was gone on with another day belongs to the sitting of its first cups, which is over.
    const auto compare = [&](const PastDrill& past) {
        if (past.state.gone_on.empty()) last = &past;
    };
    const auto is_later = [&](const Instant& at) { return last == nullptr || at.utc_ms > last->last.utc_ms; };
    const auto& done = app.history->done;
    for (std::size_t i = 0; i < done.size(); ++i)
        if (is_later(done.lines()[i].last)) compare(done[i]);
    for (const PastDrill& past : app.history->unfinished)
        if (is_later(past.last)) compare(past);
    return last;
}

/// The newest mix that this drill can have poured.
std::optional<std::size_t> mix_of(const PastDrill& past, const History& history) {
    for (std::size_t i = 0; i < history.mixes.size(); ++i) {  // newest first
        const drills::record::KeptMix& mix = history.mixes[i];
        if (mix.substance == past.state.plan.substance.id && mix.base_name == past.state.plan.base_name &&
            mix.at.utc_ms <= past.started.utc_ms)
            return i;
    }
    return std::nullopt;
}

}  // namespace

void find_sitting(App& app) {
    app.sitting.reset();
    const PastDrill* last = last_drill(app);
    if (last == nullptr) return;
    const std::int64_t gone_ms = app.now.utc_ms - last->last.utc_ms;
    if (gone_ms < 0 || gone_ms > longest_pause_ms) return;
    app.sitting = OpenSitting{.id = last->sitting,
                              .drills_done = static_cast<std::size_t>(std::ranges::count(
                                  app.history->done.lines(), last->sitting, &PastLine::sitting)),
                              .last_ms = app.now.monotonic_ms - gone_ms};
    // What stood on the table before the program was left is what stands there still.
    if (!app.chosen_mix && is_in(*app.content, last->state.plan.substance.id))
        app.chosen_mix = mix_of(*last, *app.history);
}

const OpenSitting* sitting_to_join(const App& app) {
    const bool goes_on = app.sitting && app.now.monotonic_ms - app.sitting->last_ms <= longest_pause_ms;
    return goes_on ? &*app.sitting : nullptr;
}

void on(Next& next, const ChooseOffer& intent) {
    if (intent.offer >= offers().size()) return;
    next.app.own_choice = true;
    next.app.chosen_offer = intent.offer;
    next.app.chosen_presentations = offers()[intent.offer].usual;
    next.app.chosen_prior.reset();
}
void on(Next& next, const ChooseMyself& intent) {
    next.app.own_choice = intent.yes;
    follow_sitting(next.app);
}
void on(Next& next, const TickOther& intent) {
    next.app.own_choice = true;
    if (intent.on)
        next.app.chosen_others.insert(intent.mix);
    else
        next.app.chosen_others.erase(intent.mix);
}
void on(Next& next, const ChoosePresentations& intent) {
    next.app.chosen_presentations = intent.presentations;
}
void on(Next& next, const TypeTemperature& intent) {
    next.app.spoilers.temperature = intent.text;
}
void on(Next& next, const EndSitting&) {
    next.app.sitting.reset();
    next.app.spoilers = {};
}
void on(Next& next, const ChooseMix& intent) {
    if (!next.app.history || intent.mix >= next.app.history->mixes.size()) return;
    next.app.own_choice = true;
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

void on(Next& next, const TypeWords& intent) {
    next.app.typed_words = intent.text;
}
void on(Next& next, const ShowOwnWine& intent) {
    next.app.own_wine.is_open = intent.yes;
}
void on(Next& next, const TypeWine& intent) {
    next.app.own_wine.name = intent.name;
    next.app.own_wine.strength = intent.strength;
}

void on(Next& next, const StartDrill&) {
    begin(next, &drill_plan);
}
void on(Next& next, const StartOwnWine&) {
    begin(next, &own_wine_drill);
}

void on(Next& next, const GoOn& intent) {
    App& app = next.app;
    const PastDrill* past = &open_drill(app, intent.drill);
    if (!past->state.trials.empty())
        if (const auto why = drills::pacing::too_old(past->state.trials.front().given->at, app.now))
            throw Refused("This drill", *why, "close it, and begin a new one");
    Running running{
        .sitting = past->sitting, .drill = past->drill, .started = past->started, .state = past->state};
    running.next_number = past->rows;
    if (is_another_sitting(*past, app.now)) {
        const OpenSitting* sitting = sitting_to_join(app);
        drills::State gone_on = drills::go_on(
            running.state,
            {.before = 0,
             .taken_this_sitting = sitting ? taken_in(*app.history, sitting->id) : safety::Intake{},
             .taken_today = app.history->taken_today});
        for (const journal::Entry& entry : drills::record::entries_between(
                 running.state, gone_on, running.drill, running.next_number, app.now, app.chance)) {
            next.rows.emplace_back(entry);
            ++running.next_number;
        }
        running.state = std::move(gone_on);
    }
    running.acquainted = !past->state.trials.empty();
    running.poured = running.acquainted && past->state.plan.blinding == drills::Blinding::sealed_key;
    // A rest goes on where the clock on the wall says; the monotonic one began anew with this run.
    const drills::Step step = drills::next(running.state);
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

void on(Next& next, const CloseOpen& intent) {
    App& app = next.app;
    const PastDrill& past = open_drill(app, intent.drill);
    const drills::State closed = drills::stop(past.state, "left open for more than 48 hours");
    for (const journal::Entry& entry :
         drills::record::entries_between(past.state, closed, past.drill, past.rows, app.now, app.chance))
        next.rows.emplace_back(entry);
    app.just_done = past.drill;
    next.read_again = true;
}

}  // namespace sipladder::gui
