// What the taster sees while a drill runs. It is made from what drills::next hands out to the assessor, and
// of the plan only what is the same for every presentation, so a level or a place cannot get here by
// accident.

#include "drills/blinding/shuffled_tray.hpp"
#include "drills/rules.hpp"
#include "engine/text.hpp"
#include "gui/app/answering.hpp"
#include "gui/views/taste.hpp"

#include <algorithm>
#include <chrono>
#include <map>

namespace sipladder::gui {

namespace {

using drills::Blinding;
using drills::Kind;
using drills::Plan;
using drills::Presentation;

std::string in_capitals(std::string word) {
    for (char& letter : word)
        if (letter >= 'a' && letter <= 'z') letter = static_cast<char>(letter - 'a' + 'A');
    return word;
}

/// The signs of the cups beside the level: "cross and dot".
std::string other_signs(drills::Sign sign, std::size_t cups) {
    std::string others;
    for (std::size_t i = 0; i < cups; ++i) {
        if (static_cast<drills::Sign>(i) == sign) continue;
        if (!others.empty()) others += " and ";
        others += drills::shuffled_tray::text_of(static_cast<drills::Sign>(i));
    }
    return others;
}

std::string beside_name(const Plan& plan) {
    const std::string bottle = drills::beside_bottle(plan);
    return bottle.empty() ? "Base" : "Bottle " + bottle;
}

bool is_tray_check(const Plan& plan) {
    return plan.kind == Kind::tray_check;
}

std::vector<std::string> pouring_on_tray(const Plan& plan, const Presentation& shown, bool is_first,
                                         VolumeUnit unit) {
    if (is_tray_check(plan) && !is_first)
        return {"Leave the cups filled. Shut your eyes and spin the tray again."};
    const std::string cup = volume_text(plan.cup, unit);
    const std::size_t cups = drills::cups_together(plan);
    return {"Bottle " + shown.bottle + ": " + cup + " into the cup with the " +
                in_capitals(drills::shuffled_tray::text_of(*shown.sign)) + " beneath.",
            beside_name(plan) + " into " + other_signs(*shown.sign, cups) + ", " + cup +
                (cups > 2 ? " each" : "") + ", drop by drop the same. Wipe the rims.",
            "Shut your eyes and spin the tray."};
}

std::vector<std::string> pouring_by_card(const Plan& plan, const Presentation& shown, VolumeUnit unit) {
    const std::string cup = volume_text(plan.cup, unit);
    const std::string who = "Your helper looks " + shown.letter + " up on the card, pours " + cup;
    if (shown.codes.size() == 1)
        return {"Letter " + shown.letter + ".",
                who + " into one cup out of your sight, and sets it before you with its code."};
    return {"Letter " + shown.letter + ".",
            who + " into each cup out of your sight, and sets them before you by their codes."};
}

/// All the cups of a sealed key at once. The list is what is poured, which everybody may know; which of them
/// are served, and in what order, nobody does.
std::vector<std::string> pouring_sealed(const Plan& plan, VolumeUnit unit) {
    const std::vector<drills::sealed_key::Identity> list = drills::sealed_key::pour_list(plan);
    std::map<std::size_t, std::string> by_line;
    for (const auto& identity : list) {
        if (identity.poured == 0) continue;
        std::string& line = by_line[identity.is_blank ? drills::line_count(plan)
                                                      : drills::line_of_series(plan, identity.series)];
        line += (line.empty() ? "" : ", ") + identity.mark + " × " + std::to_string(identity.poured);
    }
    std::vector<std::string> lines{"Write beneath each cup what it will hold, then pour " +
                                   volume_text(plan.cup, unit) + ":"};
    for (const auto& [line, marks] : by_line)
        lines.push_back(
            (line < drills::line_count(plan) ? drills::substance_of(plan, line).name + ": " : std::string()) +
            marks);
    lines.emplace_back(
        "Shut your eyes and shuffle all the cups, turning none over. Then set these codes on top, one a "
        "cup, in any order:");
    return lines;
}

std::vector<std::string> pouring(const Plan& plan, const Presentation& shown, bool is_first,
                                 VolumeUnit unit) {
    switch (plan.blinding) {
        case Blinding::shuffled_tray:
            return pouring_on_tray(plan, shown, is_first, unit);
        case Blinding::sealed_key:
            return pouring_sealed(plan, unit);
        case Blinding::served:
        case Blinding::class_service:
            break;
    }
    return pouring_by_card(plan, shown, unit);
}

std::vector<std::string> acquainting(const Plan& plan, const std::string& before) {
    std::vector<std::string> lines;
    if (plan.blinding == Blinding::served)
        lines.emplace_back("Print the pour card, hand it to your helper, and do not look at it.");
    lines.push_back(before);
    if (is_tray_check(plan)) return lines;
    if (plan.substance.closed_nose && plan.kind != Kind::nose)
        lines.emplace_back("Close your nose with a clip or your fingers for every cup of this drill.");
    lines.emplace_back("Spit every cup. Stop whenever something feels off.");
    return lines;
}

std::string tasting(const Plan& plan, const Presentation& shown) {
    if (is_tray_check(plan)) return "Open your eyes: look and sniff only. Taste nothing.";
    const std::string often = ", as often as you like. Spit.";
    if (plan.blinding == Blinding::shuffled_tray)
        return drills::cups_together(plan) == 2
                   ? "Eyes shut: taste both, left first" + often + " Put each back in its place."
                   : "Eyes shut: taste all three, left to right" + often + " Put each back in its place.";
    if (shown.codes.size() == 1)
        return "Taste cup " + shown.codes.front().digits + ". Spit." +
               (plan.blinding == Blinding::sealed_key ? " Do not turn it over." : "");
    return (shown.codes.size() == 2   ? "Taste both, left first"
            : shown.codes.size() == 3 ? "Taste all three, left to right"
                                      : "Taste them all, left to right") +
           often;
}

std::string nose_line(const Presentation& shown) {
    if (!shown.nose) return {};
    return *shown.nose == drills::Nose::closed ? "Nose CLOSED for this one" : "Nose OPEN for this one";
}

std::vector<Tile> tiles_of(const Plan& plan, const drills::Serve& serve) {
    std::vector<Tile> tiles;
    const std::vector<std::string>& choices = serve.question.choices;
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const bool is_coded = serve.question.about_places && i < serve.shown.codes.size();
        Tile tile{is_coded ? serve.shown.codes[i].digits : choices[i], {}};
        if ((plan.kind == Kind::recognition || plan.kind == Kind::naming) && i < drills::line_count(plan))
            tile.component = drills::substance_of(plan, i).component;
        tiles.push_back(std::move(tile));
    }
    return tiles;
}

std::string keys_of(std::size_t tiles) {
    return tiles == 2 ? "1, 2" : tiles == 10 ? "1 to 9, 0" : "1 to " + std::to_string(tiles);
}

std::vector<Part> parts_of(const std::vector<std::string>& names, const std::vector<std::size_t>& on) {
    std::vector<Part> parts;
    for (std::size_t i = 0; i < names.size(); ++i)
        parts.push_back({names[i], std::ranges::find(on, i) != on.end()});
    return parts;
}

/// What is asked beside a choice.
void show_parts(DrillView& view, const Running& running, const drills::Serve& serve) {
    const drills::Question& question = serve.question;
    const AnswerParts& parts = running.parts;
    if (question.asks_order) {
        for (const drills::BlindCode& code : serve.shown.codes) view.set.push_back(code.digits);
        view.ordered = parts.order;
        view.least = running.state.plan.kind == Kind::weight ? "lightest" : "weakest";
    }
    view.line = question.mark;
    view.mark = parts.mark;
    if (parts.mark) view.mark_text = fixed(*parts.mark, 0);
    view.mouth = parts_of(question.places, parts.places);
    view.words = parts_of(question.words, parts.words);
    if (question.most_seconds <= 0) return;
    view.watch = parts.seconds   ? DrillView::Watch::stopped
                 : parts.spat_ms ? DrillView::Watch::running
                                 : DrillView::Watch::ready;
    if (!parts.seconds) return;
    const bool outlasts = *parts.seconds >= question.most_seconds;
    view.watch_text =
        fixed(*parts.seconds, *parts.seconds < 10.0 ? 1 : 0) + " s" + (outlasts ? " and more" : "");
}

/// What to do next, until it can be locked.
std::string hint_of(const DrillView& view, const drills::Serve& serve) {
    const drills::Question& question = serve.question;
    if (question.asks_order)
        return "The " + view.least + " first: its key, then the next. Again takes it out.";
    if (view.watch == DrillView::Watch::ready) return "Space when you spit.";
    if (view.watch == DrillView::Watch::running) return "Space when it is gone.";
    if (!view.tiles.empty() && !view.picked)
        return "Pick one: " + keys_of(view.tiles.size()) + (view.line ? "." : " or the arrows.") +
               " A guess is an answer too.";
    const bool is_nothing = question.first_is_nothing && view.picked == 0U;
    const bool is_somewhere = std::ranges::any_of(view.mouth, [](const Part& part) { return part.is_on; });
    if (!view.mouth.empty() && !is_somewhere && !is_nothing) return "Where? A to J, one or several.";
    if (view.line && !view.mark) return "And the mark: left and right by 1, up and down by 10, or the mouse.";
    return view.asks_certainty ? "And how sure: G guessed, L leaning, S sure." : std::string();
}

void show_question(DrillView& view, const Running& running, const drills::Serve& serve) {
    const Plan& plan = running.state.plan;
    view.instruction = {tasting(plan, serve.shown)};
    view.question = serve.question.text;
    view.tiles = tiles_of(plan, serve);
    view.tiles_are_cups = serve.question.about_places;
    view.asks_certainty = serve.question.asks_certainty;
    view.picked = running.picked;
    view.certainty = running.certainty;
    show_parts(view, running, serve);
    view.can_lock = !missing_in_answer(running, serve);
    if (!view.can_lock) view.hint = hint_of(view, serve);
}

void show_serve(DrillView& view, const Running& running, const drills::Serve& serve, VolumeUnit unit) {
    const Plan& plan = running.state.plan;
    if (view.phase == Phase::acquaint) {
        view.instruction = acquainting(plan, serve.before);
        return;
    }
    view.nose = nose_line(serve.shown);
    if (view.phase == Phase::answer) return show_question(view, running, serve);
    view.instruction = pouring(plan, serve.shown, running.state.trials.empty(), unit);
    if (plan.blinding != Blinding::sealed_key) return;
    for (const drills::BlindCode& code : drills::sealed_key::codes(plan, running.state.seed))
        view.codes.push_back(code.digits);
    std::ranges::sort(view.codes);  // the order in which they are called stays unknown
}

/// What the mouth needs first, as the rest goes by: the same words after every cup.
std::string rinsing(double share_left) {
    if (share_left > 0.66) return "Rinse with water and spit, twice.";
    if (share_left > 0.33) return "Breathe through your nose and let the mouth settle.";
    return "One more sip of water, spit, and wait.";
}

void show_rest(DrillView& view, const App& app, const drills::Rest& rest) {
    const Running& running = *app.running;
    const std::int64_t left_ms = std::max<std::int64_t>(0, running.rest_ends_ms - app.now.monotonic_ms);
    view.rest_left = clock_text(static_cast<long>((left_ms + 999) / 1000));
    const auto whole_ms = static_cast<double>(std::chrono::milliseconds{rest.length}.count());
    view.rest_share = whole_ms > 0.0 ? std::clamp(static_cast<double>(left_ms) / whole_ms, 0.0, 1.0) : 0.0;
    view.instruction = {rinsing(view.rest_share), rest.why};
    view.is_poured = running.poured;
    const drills::Step after = drills::next_after_rest(running.state);
    const auto* serve = std::get_if<drills::Serve>(&after);
    view.pours_meanwhile = serve != nullptr && running.state.plan.blinding != Blinding::sealed_key;
    if (!view.pours_meanwhile || running.poured) return;
    view.instruction.back() = "Meanwhile, the next one:";
    if (const std::string nose = nose_line(serve->shown); !nose.empty())
        view.instruction.push_back(nose + ".");
    for (std::string& line : pouring(running.state.plan, serve->shown, false, app.usual.volume))
        view.instruction.push_back(std::move(line));
}

void show_reveal(DrillView& view, const Running& running, const drills::Reveal& reveal) {
    const drills::Trial& trial = running.state.trials.at(reveal.number);
    if (running.state.plan.blinding == Blinding::shuffled_tray)
        view.locked = "Locked: " + reveal.choices.at(trial.given->choice) + ".";
    else
        view.locked = "All is answered and locked. Now the key, cup by cup.";
    view.question = reveal.ask;
    for (const std::string& name : reveal.choices) view.tiles.push_back({name, {}});
    view.tiles_are_cups = running.state.plan.blinding == Blinding::shuffled_tray;
    view.tiles_by_letter = !view.tiles_are_cups;
    view.can_stop = view.tiles_are_cups;
    view.picked = running.found;
    view.can_lock = running.found.has_value();
    if (view.can_lock) return;
    const bool has_base = std::ranges::find(reveal.choices, "base") != reveal.choices.end();
    view.hint = !view.tiles_by_letter ? "Pick what you see: " + keys_of(view.tiles.size()) + "."
                : has_base            ? "Press the letter that you see; B for the base."
                                      : "Press the letter that you see.";
}

/// "Presentation 7 of 12", "Cup 3 of 10", "Round 2 of 12".
std::string heading_of(const Running& running, Phase phase, const drills::Step& step) {
    const Plan& plan = running.state.plan;
    if (phase == Phase::acquaint) return "Before the first";
    std::size_t number = running.state.trials.size();
    if (const auto* reveal = std::get_if<drills::Reveal>(&step)) {
        number = reveal->number;
        if (plan.blinding == Blinding::sealed_key)
            return "Key " + std::to_string(number + 1) + " of " + std::to_string(running.state.trials.size());
    } else if (plan.blinding == Blinding::sealed_key && phase == Phase::pour && number == 0) {
        return "Pour all the cups";
    }
    if (phase == Phase::rest) --number;  // the one that was just done
    const std::string what = is_tray_check(plan)                ? "Round "
                             : drills::is_set(plan)             ? "Set "
                             : drills::cups_together(plan) == 1 ? "Cup "
                                                                : "Presentation ";
    return what + std::to_string(number + 1) + " of " + std::to_string(plan.most_presentations);
}

}  // namespace

DrillView drill_view(const App& app) {
    SIPLADDER_EXPECT(app.running.has_value());
    const Running& running = *app.running;
    DrillView view;
    view.phase = phase_of(running);
    const drills::Step step = step_of(running);
    if (const auto* serve = std::get_if<drills::Serve>(&step))
        show_serve(view, running, *serve, app.usual.volume);
    if (const auto* rest = std::get_if<drills::Rest>(&step)) show_rest(view, app, *rest);
    if (const auto* reveal = std::get_if<drills::Reveal>(&step)) show_reveal(view, running, *reveal);
    view.heading = heading_of(running, view.phase, step);
    view.cups = counted(cups_tasted(running), "cup", "cups") + " so far";
    view.stop_asked = running.stop_asked;
    view.stop_text = running.state.plan.blinding == Blinding::sealed_key && !running.state.trials.empty()
                         ? "Stop tasting for good? What was answered counts, once its key is read in."
                         : "Stop this drill for good? What was locked is kept and counts.";
    view.prints_card =
        view.phase == Phase::acquaint && running.state.plan.blinding == drills::Blinding::served;
    return view;
}

}  // namespace sipladder::gui
