// What F1 says about the present screen.

#include "gui/views/frame.hpp"

namespace sipladder::gui {

namespace {

HelpView prepare_help() {
    return {.title = "Prepare",
            .paragraphs =
                {"Choose what to train and with which scale and vessels. The plan follows by "
                 "itself: every number in it is one that "
                 "your equipment can show.",
                 "A ladder is a dilution series, weakest to strongest. The pale band shows what "
                 "papers report; it is no norm.",
                 "Drag an end of the ladder, or focus the strip and press Q W for the weakest rung "
                 "and O P for the strongest.",
                 "In the tree, heights are volumes and a fuller colour is better known; Space on it walks "
                 "through what every part holds and how it is made.",
                 "Enter what the scale really showed, and say where a step was skipped or spilled. The "
                 "levels, and later the threshold, follow what is in the bottles, not what was "
                 "planned. Ticks and readings are kept when the program is closed.",
                 "\"Within 2.8 %\" is a relative standard uncertainty. The part common to all "
                 "rungs (powder, stock, syringe) shifts the whole ladder; "
                 "it is carried into your threshold in full."},
            .keys = {{"Ctrl+Enter", "keep this mix"},
                     {"Ctrl+P", "print the bench sheet"},
                     {"Arrows, Space", "go about, press, tick; Enter types into a field"},
                     {"Q W, O P", "weakest, strongest rung down and up, on the strip"},
                     {"Ctrl+Z", "take the last choice back"}}};
}

HelpView taste_help() {
    return {.title = "Taste",
            .paragraphs =
                {"Three cups, one of them holds the substance. Say which, even when you guess: guesses are "
                 "counted for what they are.",
                 "The screen never shows the level or a running estimate, so that neither can sway you.",
                 "An answer is written to the journal before the screen moves on. If the program or the "
                 "machine stops, start again and go on.",
                 "A rest may be cut short; that is noted, because acid and tannin build up."},
            .keys = {{"1 2 3 or arrows", "left, middle, right"},
                     {"G L S", "guessed, leaning, sure"},
                     {"Enter", "lock"},
                     {"Space", "done, go on"},
                     {"X", "stop here and keep what was done"}}};
}

HelpView palate_help() {
    return {.title = "Palate",
            .paragraphs = {"One row for each substance and base: your newest measurement. The filled ridge "
                           "is what is known of your threshold, the bar its 95 % "
                           "interval, the pale band what papers report.",
                           "Open a row for the curve, the levels as mixed, the assumed prior beside a flat "
                           "one, and what mixing adds.",
                           "A threshold is where, beyond guessing, you are right half of the time "
                           "(chance-corrected 0.5, the convention of ISO 13301)."},
            .keys = {{"1 2 3 …", "open a row"}, {"Escape", "close it"}, {"Ctrl+P", "print the curve"}}};
}

HelpView first_help() {
    return {.title = "Start",
            .paragraphs = {"A ladder of solutions of known strength, tasted blind, shows how faint a taste "
                           "you can find. The first one takes an "
                           "evening: about an hour to mix, under an hour to taste.",
                           "The demo is an invented person with eight weeks of invented results."},
            .keys = {}};
}

}  // namespace

HelpView help_view(const App& app) {
    HelpView view;
    switch (app.place) {
        case Place::first_start:
            view = first_help();
            break;
        case Place::prepare:
            view = prepare_help();
            break;
        case Place::taste:
            view = taste_help();
            break;
        case Place::palate:
            view = palate_help();
            break;
    }
    view.keys.insert(view.keys.end(), {{"Ctrl+1 2 3", "Prepare, Taste, Palate"},
                                       {"F2 F3 F4", "who tastes, cautions, settings"},
                                       {"arrows, Tab", "move the focus; Space or Enter uses it"},
                                       {"F1", "open and close this page"}});
    return view;
}

}  // namespace sipladder::gui
