#include "gui/views/taste.hpp"

#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/planning.hpp"
#include "gui/views/finding.hpp"

#include <algorithm>
#include <array>

namespace sipladder::gui {

namespace {

namespace detection = drills::detection;

constexpr std::size_t most_mixes_offered = 6;
constexpr std::array<const char*, drills::places> place_names{"left", "middle", "right"};
/// What may spoil a sitting; asked for once and kept with it.
constexpr std::array<const char*, 4> spoiler_names{"coffee or tea in the last hour",
                                                   "toothpaste or mouthwash in the last hour",
                                                   "smoked in the last hour", "a cold or a blocked nose"};

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string sign_name(drills::Sign sign) {
    switch (sign) {
        case drills::Sign::ring:
            return "RING";
        case drills::Sign::cross:
            return "CROSS";
        case drills::Sign::dot:
            break;
    }
    return "DOT";
}

std::string other_signs(drills::Sign sign) {
    switch (sign) {
        case drills::Sign::ring:
            return "cross and dot";
        case drills::Sign::cross:
            return "ring and dot";
        case drills::Sign::dot:
            break;
    }
    return "ring and cross";
}

std::string title_of(const detection::Plan& plan) {
    return plan.substance.name + " in " + plan.base_name;
}

// --- before
// -----------------------------------------------------------------------------------------------------

void show_unfinished(TasteStartView& view, const History& history) {
    for (const PastDrill& past : history.unfinished)
        view.unfinished.push_back(
            {past.drill, title_of(past.state.plan) + ", begun " + to_date(past.started) + ": " +
                             std::to_string(detection::answered(past.state).size()) + " of " +
                             std::to_string(past.state.plan.most_presentations) + " presentations done"});
}

void show_blinding(TasteStartView& view, const App& app) {
    const bool is_served = app.chosen_blinding == drills::Blinding::served;
    view.blindings = {
        {.label = "me alone, shuffled tray", .is_chosen = !is_served, .note = {}, .component = {}},
        {.label = "a helper pours", .is_chosen = is_served, .note = {}, .component = {}}};
    view.blinding_note =
        is_served
            ? "A helper pours by a printed card. You see a letter and three codes; the helper says nothing."
            : "Three identical opaque cups, one with a ring, one with a cross, one with a dot beneath. You "
              "pour, spin the tray with your eyes shut, taste with your eyes shut, and look beneath only "
              "after your answer is locked.";
}

/// What the answers are added to: own history where there is one, said in full.
void show_priors(TasteStartView& view, const App& app, const drills::record::KeptMix& mix) {
    using drills::PriorChoice;
    const std::optional<drills::OwnHistory> own = own_history_for(app, mix);
    const PriorChoice chosen = prior_choice(app, mix);
    const auto add = [&](PriorChoice choice, const std::string& label, const threshold::Prior& prior,
                         const std::string& note) {
        view.priors.push_back(
            {.label = label, .is_chosen = choice == chosen, .note = prior.name, .component = {}});
        view.prior_choices.push_back(choice);
        if (choice == chosen) view.prior_note = note;
    };
    if (own)
        add(PriorChoice::own_history, "own history of " + own->date, drills::own_prior(*own),
            "Your last result, " + with_interval(own->last.value(), own->last.lower(), own->last.upper()) +
                " " + unit_text(own->last.scale) + ", carried forward and widened for the time since.");
    const threshold::Prior assumed = drills::assumed_prior(app.content->substance(mix.substance));
    add(PriorChoice::assumed, "what is assumed of anyone", assumed,
        "As if nothing were known of you: " + assumed.name + ".");
    const threshold::Prior flat = drills::flat_prior(mix.ladder);
    add(PriorChoice::flat, "nothing", flat,
        "Only the answers count: " + flat.name + "; intervals come out wider.");
}

TasteStartView start_view(const App& app) {
    TasteStartView view;
    if (!app.history) return view;
    const History& history = *app.history;
    show_unfinished(view, history);
    const std::size_t offered = std::min(history.mixes.size(), most_mixes_offered);
    if (offered < history.mixes.size())
        view.older_mixes = counted(history.mixes.size() - offered, "older mix", "older mixes") +
                           " in the journal; solutions do not keep for weeks.";
    for (std::size_t i = 0; i < offered; ++i) {
        const auto& mix = history.mixes[i];
        const solution::Substance& substance = app.content->substance(mix.substance);
        view.mixes.push_back({.label = substance.name + " in " + mix.base_name + ", mixed " + to_date(mix.at),
                              .is_chosen = app.chosen_mix == i,
                              .note = mix.ingredient_name + "; " + mix.equipment_name,
                              .component = substance.component});
    }
    show_blinding(view, app);
    for (const char* name : spoiler_names)
        view.spoilers.push_back(
            {.label = name, .is_chosen = app.spoilers.ticked.contains(name), .note = {}, .component = {}});
    if (!app.chosen_mix) return view;
    const solution::Substance& substance =
        app.content->substance(history.mixes.at(*app.chosen_mix).substance);
    show_priors(view, app, history.mixes.at(*app.chosen_mix));
    view.asks_for_closed_nose = substance.closed_nose;
    view.nose_is_closed = app.spoilers.closed_nose;
    view.will_take = counted(app.chosen_presentations, "presentation", "presentations") + ", " +
                     counted(3 * app.chosen_presentations, "cup", "cups") + " of " +
                     exact(app.chosen_cup.value) + " mL, about " +
                     std::to_string(seconds_of(substance, app.chosen_presentations) / 60) +
                     " min. Spit every cup.";
    if (substance.component == solution::Component::alcohol && !history.no_ethanol_reasons.empty())
        view.against.emplace_back("You ticked a reason not to take part in alcohol drills.");
    view.can_start = view.against.empty();
    return view;
}

// --- during
// -----------------------------------------------------------------------------------------------------

/// How to pour what is shown. Only what the assessor may know is at hand here.
std::vector<std::string> pouring(const detection::Plan& plan, const drills::Presentation& shown) {
    const std::string cup = exact(plan.cup.value) + " mL";
    if (plan.blinding == drills::Blinding::served)
        return {"Letter " + shown.letter + ".",
                "Your helper looks " + shown.letter + " up on the card, pours " + cup +
                    " into each cup out of your sight, and sets them before you by their codes."};
    return {
        "Bottle " + shown.bottle + ": " + cup + " into the cup with the " + sign_name(*shown.sign) +
            " beneath.",
        "Base into " + other_signs(*shown.sign) + ", " + cup + " each, drop by drop the same. Wipe the rims.",
        "Shut your eyes and spin the tray."};
}

std::vector<std::string> acquainting(const detection::Plan& plan) {
    const bool is_served = plan.blinding == drills::Blinding::served;
    std::vector<std::string> lines;
    if (is_served) lines.emplace_back("Print the pour card, hand it to your helper, and do not look at it.");
    lines.push_back(
        is_served
            ? "First, knowing what they are: one cup of the strongest rung and one of the base alone, from "
              "your helper."
            : "First, knowing what they are: a cup from the strongest bottle, " +
                  plan.ladder.levels.back().bottle + ", and one of the base alone.");
    lines.emplace_back("Taste both, spit, and remember what you look for. Rinse with water.");
    if (plan.substance.closed_nose)
        lines.emplace_back("Close your nose with a clip or your fingers for every cup of this drill.");
    return lines;
}

void name_cups(DrillView& view, const drills::Presentation& shown) {
    for (std::size_t place = 0; place < drills::places; ++place)
        view.cup_names.emplace_back(place < shown.codes.size() ? shown.codes[place].digits
                                                               : place_names.at(place));
}

void show_serve(DrillView& view, const Running& running, const drills::Presentation& shown) {
    const detection::Plan& plan = running.state.plan;
    if (view.phase == Phase::acquaint) {
        view.instruction = acquainting(plan);
    } else if (view.phase == Phase::pour) {
        view.instruction = pouring(plan, shown);
    } else {
        view.instruction = {"Taste all three, left to right, as often as you like. Spit."};
        view.question = "Which cup holds the " + plan.substance.asked_for + "?";
        name_cups(view, shown);
        view.picked = running.picked;
        view.certainty = running.certainty;
        view.can_lock = running.picked && running.certainty;
    }
}

void show_rest(DrillView& view, const App& app, const drills::Rest& rest) {
    const Running& running = *app.running;
    const std::int64_t left_ms = std::max<std::int64_t>(0, running.rest_ends_ms - app.now.monotonic_ms);
    view.rest_left = clock_text(static_cast<long>((left_ms + 999) / 1000));
    const auto whole_ms = static_cast<double>(std::chrono::milliseconds{rest.length}.count());
    view.rest_share = whole_ms > 0.0 ? std::clamp(static_cast<double>(left_ms) / whole_ms, 0.0, 1.0) : 0.0;
    const drills::Step after = detection::next_after_rest(running.state);
    view.instruction = {rest.why};
    const auto* serve = std::get_if<drills::Serve>(&after);
    if (serve != nullptr && !running.poured) {
        view.instruction.emplace_back("Meanwhile, the next one:");
        for (std::string& line : pouring(running.state.plan, serve->shown))
            view.instruction.push_back(std::move(line));
    }
    view.is_poured = running.poured;
}

void show_reveal(DrillView& view, const Running& running, const drills::Reveal& reveal) {
    const detection::Trial& trial = running.state.trials.back();
    view.locked = "Locked: " + std::string(place_names.at(trial.given->choice)) + ".";
    view.question = reveal.ask;
    for (const char* name : place_names) view.cup_names.emplace_back(name);
    view.picked = running.found;
    view.can_lock = running.found.has_value();
}

DrillView drill_view(const App& app) {
    const Running& running = *app.running;
    DrillView view;
    view.phase = phase_of(running);
    const drills::Step step = step_of(running);
    std::size_t number = detection::answered(running.state).size();
    if (const auto* serve = std::get_if<drills::Serve>(&step)) show_serve(view, running, serve->shown);
    if (const auto* rest = std::get_if<drills::Rest>(&step)) show_rest(view, app, *rest);
    if (const auto* reveal = std::get_if<drills::Reveal>(&step)) show_reveal(view, running, *reveal);
    if (view.phase == Phase::rest) --number;  // the one that was just done
    view.heading = "Presentation " + std::to_string(number + 1) + " of " +
                   std::to_string(running.state.plan.most_presentations);
    if (view.phase == Phase::acquaint) view.heading = "Before the first";
    view.cups = counted(detection::cups(running.state), "cup", "cups") + " so far";
    view.stop_asked = running.stop_asked;
    view.prints_card =
        view.phase == Phase::acquaint && running.state.plan.blinding == drills::Blinding::served;
    return view;
}

}  // namespace

TasteView taste_view(const App& app) {
    TasteView view;
    if (app.running) {
        view.drill = drill_view(app);
        return view;
    }
    if (app.just_done && app.history) {
        const auto past = std::ranges::find(app.history->done, *app.just_done, &PastDrill::drill);
        if (past != app.history->done.end()) {
            view.finding = finding_view(app, *past);
            return view;
        }
    }
    view.start = start_view(app);
    return view;
}

}  // namespace sipladder::gui
