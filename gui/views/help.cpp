// What F1 says about the present screen.

#include "gui/views/frame.hpp"

namespace sipladder::gui {

namespace {

// A paragraph is one literal over several lines, which the check takes for a forgotten comma.
// NOLINTBEGIN(bugprone-suspicious-missing-comma)

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

/// What the drill under way asks, and how its cups are kept blind.
void explain_drill(HelpView& view, const drills::Plan& plan) {
    using drills::Kind;
    const bool is_single = drills::cups_together(plan) == 1;
    if (plan.kind == Kind::tray_check)
        view.paragraphs.emplace_back(
            "A tray that can be told by eye or nose is not blind. Look and sniff, do not taste. Eight right "
            "of "
            "twelve would happen by luck in two of a hundred such checks.");
    else if (plan.kind == Kind::quick_look)
        view.paragraphs.emplace_back(
            "One cup at a time; a third of them hold the base alone. Grade what you perceive, not what you "
            "think "
            "was poured.");
    else if (plan.kind == Kind::recognition)
        view.paragraphs.emplace_back(
            "One cup at a time holds one of these substances. Name it, even when you guess.");
    else if (plan.kind == Kind::difference)
        view.paragraphs.emplace_back(
            "Both cups hold it; one holds a little more. Say which, even when you guess.");
    else
        view.paragraphs.emplace_back(
            "Three cups, one of them holds the substance. Say which, even when you guess: guesses are "
            "counted for "
            "what they are.");
    if (plan.blinding == drills::Blinding::sealed_key)
        view.paragraphs.emplace_back(
            "More cups stand there than are called, so that what is left cannot be counted out. Turn none "
            "over "
            "before all are answered; then the key is read in, cup by cup.");
    if (plan.blinding == drills::Blinding::shuffled_tray)
        view.paragraphs.emplace_back(
            "You may know the bottle, but nobody knows where the sign stands once the tray was spun. Look "
            "beneath "
            "only after the answer is locked.");
    if (plan.blinding == drills::Blinding::served)
        view.paragraphs.emplace_back(
            "The letter means something to your helper's card only; every letter is used once. Every rest is "
            "equally long, so that it tells nothing of the cup before.");
    view.keys = {
        {is_single ? "1 2 3 … or arrows" : "1 2 3 or arrows", is_single ? "pick one" : "pick a cup"}};
    if (plan.kind != Kind::quick_look && plan.kind != Kind::tray_check)
        view.keys.emplace_back("G L S", "guessed, leaning, sure");
}

HelpView drill_help(const drills::Plan& plan) {
    HelpView view{.title = "Taste", .paragraphs = {}, .keys = {}};
    explain_drill(view, plan);
    view.paragraphs.emplace_back(
        "The screen never shows the level or a running estimate, so that neither can sway you.");
    view.paragraphs.emplace_back(
        "An answer is written to the journal before the screen moves on. If the program or the machine "
        "stops, "
        "start again and go on; a measurement may span 48 hours.");
    view.paragraphs.emplace_back("A rest may be cut short; that is noted, because acid and tannin build up.");
    view.keys.insert(view.keys.end(), {{"Enter", "lock"},
                                       {"Space", "done, go on"},
                                       {"C", "cut a rest short"},
                                       {"X", "stop here and keep what was done"}});
    return view;
}

HelpView taste_help() {
    return {
        .title = "Taste",
        .paragraphs =
            {"Choose what you want to know, the bottles and who pours. Detection with three cups is the "
             "usual "
             "way to a threshold; the quick look takes fewer cups and tells less; recognition needs two "
             "substances in bottles.",
             "Alone, three cups go on a tray that you spin; single cups need the sealed key: more poured "
             "than "
             "served, shuffled, codes on top. Check a tray once for each substance.",
             "What may spoil a sitting is asked once and kept with it. Another drill begun within two hours "
             "joins the sitting: one budget of cups and intake.",
             "A drill that would cross a limit cannot be started, and who has a reason to take no alcohol "
             "starts none whose cups hold it, spat or not. Local rules and a doctor's word come first.",
             "What was left open can be gone on with for 48 hours; after that it is closed with what was "
             "done."},
        .keys = {{"Ctrl+Enter", "start, or go on"},
                 {"Arrows, Space", "go about, choose, tick"},
                 {"N", "at the end: another drill in this sitting"}}};
}

HelpView palate_help() {
    return {.title = "Palate",
            .paragraphs =
                {"Six questions, one tab each. One row for each substance and base: of each kind of drill "
                 "your newest "
                 "sitting counts; names that you gave in several sittings are joined.",
                 "A filled ridge is what is known of your detection threshold, an outline of recognition; "
                 "bars are "
                 "95 % intervals. The band is what papers report of the same substance, base and kind of "
                 "threshold; "
                 "it is no norm.",
                 "What it rests on: every answer, the levels as mixed, the assumed prior beside none, what "
                 "mixing "
                 "adds, lots, blinding and dates.",
                 "A threshold is where, beyond guessing, you are right half of the time (chance-corrected "
                 "0.5, the "
                 "convention of ISO 13301).",
                 "What next weighs how much a drill would tell against its cups, and more where you are "
                 "above a goal "
                 "that you set in an opened row. It sets the Prepare form."},
            .keys = {{"1 to 6", "the questions"},
                     {"A B C …", "what a row rests on; Enter on its button does the same"},
                     {"7 8 9", "prepare what is advised"},
                     {"Escape", "all rows again"},
                     {"Space", "on a chart: walk through its marks; Shift goes back"},
                     {"+ -, Q W, 0",
                      "on a chart of an opened row: nearer and farther, along its axis, all again; "
                      "the wheel and pulling do the same"},
                     {"Ctrl+P", "the report; in an opened row its charts as files"}}};
}

HelpView weeks_help() {
    return {.title = "Weeks",
            .paragraphs =
                {"One chart for each substance, all on the same weeks. A sitting's dot rests on its own "
                 "answers and on what is assumed of anyone, on nothing earlier or later.",
                 "A new pack, another water or another way of blinding begins a new stretch: what "
                 "differs between stretches may be the pack, not you.",
                 "\"May be noise\" is what people who do not change seem to change by, in 95 of 100 "
                 "cases, over the same sittings.",
                 "Practice with the task itself lowers most thresholds at first, so the first two "
                 "sittings stand outside the line.",
                 "Two periods are compared with a level each and nothing assumed of the one from the other: "
                 "before and after a course, or a winter. A goal, set in the opened row of the Palate, is a "
                 "dashed rule."},
            .keys = {{"Space", "on a chart: walk through its dots"},
                     {"+ -, Q W, 0",
                      "on a chart: nearer and farther, along the weeks, all again; the wheel and "
                      "pulling do the same, for all charts at once"},
                     {"Ctrl+P", "the charts as files, as they are seen"}}};
}

HelpView first_help() {
    return {.title = "Start",
            .paragraphs = {"A ladder of solutions of known strength, tasted blind, shows how faint a taste "
                           "you can find. The first one takes an "
                           "evening: up to an hour to mix, and as long to taste.",
                           "The demo is an invented person with eight weeks of invented results."},
            .keys = {}};
}

HelpView class_help() {
    return {
        .title = "Class",
        .paragraphs =
            {"Roster, plan, sheets, entry, results: from left to right. Nothing is typed twice but the "
             "ballots.",
             "Cups, litres and pouring minutes stand above the plan before it is kept. Ranking, naming and "
             "graded cups tell more a cup than a threshold for everybody.",
             "What it is mixed with may be your own scale and vessels, from Settings (F4). The class keeps "
             "them as they were, whatever is changed there later.",
             "A design that is kept does not change any more: codes, orders and letters on paper stay true. "
             "Another one can be made at any time.",
             "Nobody is recorded by default: ask, then tick on the roster who agrees, or all of them with "
             "one key. Who does not agree tastes along and is not typed in; when a word is taken back, what "
             "was typed in goes with it.",
             "Who takes no ethanol sits out the drills whose cups hold any; their ballot says so, and "
             "nothing "
             "is poured for them.",
             "While typing in, the next line is always under the finger, and what cannot be is refused at "
             "once. A second pass over the pile shows only what differs; look that up on paper.",
             "Every line is in the journal before the next one comes. Who asks to be forgotten is erased on "
             "the roster, with everything of theirs."},
        .keys = {{"Ctrl+Enter", "the next thing to do"},
                 {"F6 F7", "the step before, the next step"},
                 {"Roster: F8", "you asked: all on it agree to be recorded"},
                 {"Entry: digits, letters", "the code; the rank; number or first letter of a choice; g l s"},
                 {"Entry: Enter, Tab", "leave the line empty"},
                 {"Entry: arrows, Backspace", "another line; one thing back"},
                 {"Entry: Delete", "this person did not come, or came after all"},
                 {"Ctrl+P", "write the sheets, or the reports"}}};
}

HelpView settings_help() {
    return {
        .title = "Settings",
        .paragraphs =
            {"Look, size, paper, and the unit of volumes belong to this machine. Nothing here changes what "
             "is "
             "in the journal.",
             "US fluid ounces stand beside the mL of cups and of what is got ready. What a scale or a "
             "syringe "
             "shows is read in g and mL, as these tools are marked; 1 US fl oz is 29.5735295625 mL.",
             "Who pours, the cup and the equipment are what a new form in Prepare begins with. The form that "
             "stands there follows as long as nothing is noted at the bench and you have not chosen "
             "otherwise.",
             "Your own equipment, ladders and substances are kept in the journal with you. They pass the "
             "checks "
             "of what is shipped, and are offered in Prepare at once. What is struck out stays in Records "
             "and "
             "can be put back there.",
             "A kept thing can be changed in its form. What was mixed or tasted with it keeps it as it was; "
             "from then on the changed one is offered, and the one before stands struck out in Records. A "
             "changed substance counts as another one, with thresholds of its own. While steps of a mix are "
             "noted, what its plan was made with is not changed.",
             "A substance has to say what it counts as against the limits of a day. If you are unsure, leave "
             "it "
             "out."},
        .keys = {{"F6 F7", "the part before, the next part"},
                 {"Ctrl+Enter", "begin a form, or keep it"},
                 {"F4", "open Settings from anywhere"},
                 {"Escape", "back to where you were"}}};
}

HelpView records_help() {
    return {
        .title = "Records",
        .paragraphs =
            {"Every sitting as it stands in the journal, newest first. Open one to see each answer with the "
             "level as mixed.",
             "Substance, drill, dates and words hold together. A date is a day, a month or a year: "
             "2026-03-01, 2026-03 or 2026; both ends count, and an empty one is no end.",
             "Nothing is ever changed or deleted here. What went wrong (a wrong cup, an interrupted rest) is "
             "struck out with a reason: it stays to be read and counts nowhere, until it is put back.",
             "A note to a sitting (a cold, a new pack) becomes a flag in Weeks.",
             "A drill that is left open shows how many answers it has and nothing of them, so that no level "
             "to come can be told.",
             "Exchange: JSON is for another journal of this program, CSV for R, Python or a spreadsheet. An "
             "import is taken in whole or not at all.",
             "Own equipment, ladders and substances stand in a part of their own, those struck out too.",
             "Erasing a person is the one delete."},
        .keys = {{"F6 F7", "the part before, the next part"},
                 {"Enter", "open the sitting in focus; strike out, once the reason is typed"},
                 {"Escape", "the list again"}}};
}

HelpView place_help(const App& app) {
    HelpView view;
    switch (app.place) {
        case Place::first_start:
            view = first_help();
            break;
        case Place::prepare:
            view = prepare_help();
            break;
        case Place::taste:
            view = app.running ? drill_help(app.running->state.plan) : taste_help();
            break;
        case Place::palate:
            view = palate_help();
            break;
        case Place::weeks:
            view = weeks_help();
            break;
        case Place::classroom:
            view = class_help();
            break;
        case Place::records:
            view = records_help();
            break;
    }
    return view;
}

// NOLINTEND(bugprone-suspicious-missing-comma)

}  // namespace

HelpView help_view(const App& app) {
    HelpView view = app.dialog == Dialog::settings ? settings_help() : place_help(app);
    view.keys.insert(view.keys.end(), {{"Ctrl+1 to 6", "Prepare, Taste, Palate, Weeks, Class, Records"},
                                       {"F2 F3 F4 F5", "who tastes, cautions, settings, handbook"},
                                       {"arrows, Tab", "move the focus; Space or Enter uses it"},
                                       {"F1", "open and close this page"}});
    return view;
}

}  // namespace sipladder::gui
