#include "gui/views/records.hpp"

#include "engine/date_span.hpp"
#include "engine/instant.hpp"
#include "engine/journal/copies.hpp"
#include "engine/text.hpp"
#include "gui/app/app.hpp"
#include "gui/app/printing.hpp"
#include "gui/views/own_things.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

namespace sipladder::gui {

namespace {

constexpr std::size_t date_and_minute = 16;  // 2026-03-01T19:05

std::string moment(const Instant& at) {
    std::string text = to_iso8601(at).substr(0, date_and_minute);
    text[text.find('T')] = ' ';
    return text;
}

std::string lowered(std::string text) {
    // ASCII only: letters of other alphabets are found as they are typed.
    for (char& one : text)
        if (one >= 'A' && one <= 'Z') one = static_cast<char>(one - 'A' + 'a');
    return text;
}

/// All that a search looks through.
std::string searched(const RecordSitting& sitting, const RecordDrill* drill) {
    std::string text = moment(sitting.started);
    for (const std::string& spoiler : sitting.circumstances.spoilers) text.append("\n").append(spoiler);
    for (const RecordNote& note : sitting.notes) text.append("\n").append(note.text);
    if (sitting.struck) text.append("\n").append(sitting.struck->reason);
    if (drill != nullptr) {
        text.append("\n").append(drill->name).append("\n").append(drill->about);
        text.append("\n").append(drill->blinding);
        if (drill->struck) text.append("\n").append(drill->struck->reason);
    }
    return lowered(std::move(text));
}

Field date_field(const std::string& typed, const std::optional<Problem>& wrong) {
    Field field{.text = typed, .unit = {}, .problem = {}};
    if (wrong) field.problem = wrong->where + " " + wrong->what + "; " + wrong->right;
    return field;
}

/// The dates as far as they are right; what is wrong is told at its field.
DateSpan dates_of(const RecordsLook& look, RecordListView& list) {
    DateSpan span;
    const auto wrong_from = wrong_with_date(look.from, "From");
    if (!wrong_from) span.from = trimmed(look.from);
    auto wrong_to = wrong_with_date(look.to, "To");
    if (!wrong_to) span.to = trimmed(look.to);
    if (!wrong_to) wrong_to = wrong_with_order(span, "To");
    if (wrong_to) span.to.clear();
    list.from = date_field(look.from, wrong_from);
    list.to = date_field(look.to, wrong_to);
    return span;
}

bool is_wanted(const RecordsLook& look, const RecordSitting& sitting, const RecordDrill* drill) {
    if (!look.substance.empty() &&
        (drill == nullptr || std::ranges::find(drill->substances, look.substance) == drill->substances.end()))
        return false;
    if (!look.drill.empty() && (drill == nullptr || drill->name != look.drill)) return false;
    return look.text.empty() || searched(sitting, drill).find(lowered(look.text)) != std::string::npos;
}

RecordLine line_of(const RecordSitting& sitting, const RecordDrill* drill) {
    RecordLine line;
    line.sitting = sitting.id;
    line.date = moment(sitting.started);
    line.struck = struck_text(sitting.struck);
    line.what = "no drill";
    if (drill == nullptr) return line;
    line.what = drill->about.empty() ? drill->name : drill->name + ", " + drill->about;
    line.blinding = drill->blinding;
    line.presentations = std::to_string(drill->presentations);
    line.is_open = drill->is_open;
    if (drill->is_open) line.presentations += ", left open";
    if (drill->struck) line.struck = struck_text(drill->struck);
    return line;
}

void add_choice(std::vector<Choice>& choices, const std::string& label, const std::string& chosen) {
    if (std::ranges::find(choices, label, &Choice::label) != choices.end()) return;
    choices.push_back({.label = label, .is_chosen = label == chosen, .note = {}, .component = {}});
}

RecordListView list_of(const Records& records, const RecordsLook& look) {
    RecordListView list;
    list.text = look.text;
    list.substance = look.substance;
    list.drill = look.drill;
    list.is_filtered = !(look.text.empty() && look.substance.empty() && look.drill.empty() &&
                         look.from.empty() && look.to.empty());
    const DateSpan dates = dates_of(look, list);
    for (std::vector<Choice>* choices : {&list.substances, &list.drills})
        choices->push_back({.label = "all", .is_chosen = false, .note = {}, .component = {}});
    list.substances.front().is_chosen = look.substance.empty();
    list.drills.front().is_chosen = look.drill.empty();
    std::size_t sittings = 0;
    for (const RecordSitting& sitting : records.sittings) {
        bool is_first = true;
        const bool is_within = dates.holds(to_date(sitting.started));
        const auto add = [&](const RecordDrill* drill) {
            if (!is_within || !is_wanted(look, sitting, drill)) return;
            list.lines.push_back(line_of(sitting, drill));
            if (!is_first) list.lines.back().date.clear();
            if (is_first) ++sittings;
            is_first = false;
        };
        for (const RecordDrill& drill : sitting.drills) {
            add_choice(list.drills, drill.name, look.drill);
            for (const std::string& name : drill.substances)
                add_choice(list.substances, name, look.substance);
            add(&drill);
        }
        if (sitting.drills.empty()) add(nullptr);
    }
    list.count =
        counted(sittings, "sitting", "sittings") + ", " + counted(list.lines.size(), "drill", "drills") + ".";
    if (!list.lines.empty()) list.count += " Open one for its answers: Enter, or a click on its row.";
    if (records.sittings.empty())
        list.empty =
            "No sitting yet. Each one is kept here with every answer, from the first cup on; nothing is ever "
            "changed or lost.";
    else if (list.lines.empty())
        list.empty = "No sitting is like this.";
    return list;
}

/// Made anew only where something else is chosen.
std::shared_ptr<const RecordListView> shown_list(const Records& records, const RecordsLook& look) {
    const RecordListView* last = records.shown.get();
    if (last == nullptr || last->text != look.text || last->substance != look.substance ||
        last->drill != look.drill || last->from.text != look.from || last->to.text != look.to)
        records.shown = std::make_shared<const RecordListView>(list_of(records, look));
    return records.shown;
}

std::vector<std::string> facts_of(const drills::record::Circumstances& told) {
    std::vector<std::string> facts;
    std::string spoilers;
    for (const std::string& one : told.spoilers) spoilers.append(spoilers.empty() ? "" : ", ").append(one);
    if (!spoilers.empty()) facts.push_back("Before it: " + spoilers);
    if (told.closed_nose) facts.emplace_back("With the nose closed");
    if (told.temperature_degC) {
        std::string text = "Cups at ";
        facts.push_back(text.append(significant(*told.temperature_degC, 3)).append(" \u00b0C"));
    }
    return facts;
}

RecordDrillView drill_view_of(const RecordDrill& drill, const RecordAnswers* answers) {
    RecordDrillView view;
    view.id = drill.id;
    view.title = drill.about.empty() ? drill.name : drill.name + ", " + drill.about;
    view.how = drill.blinding;
    view.struck = struck_text(drill.struck);
    if (!view.how.empty())
        view.how.append(", ").append(counted(drill.presentations, "answer counts", "answers count"));
    if (drill.is_open) {
        view.how = drill.blinding + ", " + counted(drill.presentations, "answer", "answers") + " so far";
        view.hidden =
            "Left open. What was in its cups and what was said stays hidden until it is finished or closed "
            "in Taste.";
        return view;
    }
    if (answers == nullptr) return view;
    view.hidden = answers->problem;
    view.columns = answers->columns;
    view.columns.emplace_back("at");
    for (const RecordAnswer& answer : answers->answers) {
        RecordRowView row{.row = answer.row, .cells = answer.cells, .struck = struck_text(answer.struck)};
        row.cells.push_back(moment(answer.at).substr(std::string_view("2026-03-01 ").size()));
        view.answers.push_back(std::move(row));
    }
    return view;
}

/// What a row is called that is asked about.
std::string called(const RecordOpenView& view, const Uuid& row) {
    if (row == view.id) return "this whole sitting";
    for (const RecordRowView& note : view.notes)
        if (note.row == row) return "the note \"" + note.cells.front() + "\"";
    for (const RecordDrillView& drill : view.drills) {
        if (drill.id == row) return "the drill " + drill.title;
        for (const RecordRowView& answer : drill.answers)
            if (answer.row == row) return "answer " + answer.cells.front() + " of " + drill.title;
    }
    return "this row";
}

RecordAskedView asked_view(const RecordOpenView& view, const RecordsLook& look) {
    RecordAskedView asked = asked_for(look);
    asked.title = (look.puts_back ? "Put back " : "Strike out ") + called(view, *look.asked) + "?";
    asked.explains = look.puts_back
                         ? "It counts again; that it was struck out, and why it is back, stays in "
                           "the journal."
                         : "It stays here, crossed, with reason and date, and counts nowhere. It can "
                           "be put back.";
    return asked;
}

RecordOpenView open_view(const RecordSitting& sitting, const RecordOpened& opened, const RecordsLook& look) {
    RecordOpenView view;
    view.id = sitting.id;
    view.title = "Sitting of " + moment(sitting.started);
    view.facts = facts_of(sitting.circumstances);
    view.struck = struck_text(sitting.struck);
    view.note = look.note;
    for (const RecordNote& note : sitting.notes)
        view.notes.push_back({.row = note.fact, .cells = {note.text}, .struck = struck_text(note.struck)});
    for (const RecordDrill& drill : sitting.drills) {
        const auto answers = std::ranges::find(opened.drills, drill.id, &RecordAnswers::drill);
        view.drills.push_back(drill_view_of(drill, answers == opened.drills.end() ? nullptr : &*answers));
    }
    if (look.asked) view.asked = asked_view(view, look);
    return view;
}

RecordExchangeView exchange_view(const App& app) {
    RecordExchangeView view;
    view.person = name_of_person(app);
    view.folder = app.sheets.string();
    view.path = app.records_look.path;
    view.everyone = app.records_look.everyone;
    view.keep_ours = app.records_look.keep_ours;
    const std::filesystem::path& file = app.journal->file();
    if (file.empty()) {
        view.copies_note = "This journal is in memory and has no daily copies.";
        return view;
    }
    view.copies_note = "One copy a day is made by itself, in " + journal::copies_folder(file).string() +
                       ". A week of them is kept, and one of each month of a year.";
    for (const std::filesystem::path& copy : journal::daily_copies(file))
        view.copies.push_back(copy.filename().string());
    return view;
}

RecordEraseView erase_view(const App& app) {
    RecordEraseView view;
    view.typed = app.records_look.typed_name;
    for (const journal::Person& person : app.people)
        if (app.person && person.id == *app.person) view.person = person.name;
    view.is_right = !view.person.empty() && view.typed == view.person;
    view.sentences = {
        "Name, mixes, sittings, answers and notes of " + view.person +
            " go from the journal and from its daily copies, and their bytes are overwritten. There is no "
            "way "
            "back. Only a number stays, so that an import does not bring them back.",
        "Out of reach are copies and exports made elsewhere, sheets and reports on paper or in the folder of "
        "sheets, and spare blocks of the disk that no program can reach."};
    return view;
}

}  // namespace

std::string struck_text(const std::optional<journal::Struck>& struck) {
    if (!struck) return {};
    std::string text = "struck out ";
    return text.append(to_date(struck->at)).append(": ").append(struck->reason);
}

RecordAskedView asked_for(const RecordsLook& look) {
    return {.title = {},
            .explains = {},
            .reason = look.reason,
            .label = look.puts_back ? "Put it back" : "Strike it out"};
}

RecordsView records_view(const App& app) {
    RecordsView view;
    const RecordsLook& look = app.records_look;
    view.part = look.part;
    for (const auto& [part, label] :
         {std::pair{RecordsPart::sittings, "Sittings"}, std::pair{RecordsPart::exchange, "Exchange, copies"},
          std::pair{RecordsPart::erase, "Erase a person"},
          std::pair{RecordsPart::own_things, "Own equipment, ladders, substances"}})
        view.parts.push_back({.label = label, .is_chosen = look.part == part, .note = {}, .component = {}});
    if (look.part == RecordsPart::exchange) view.exchange = exchange_view(app);
    if (look.part == RecordsPart::erase) view.erase = erase_view(app);
    if (look.part == RecordsPart::own_things)
        view.own = std::make_shared<const OwnListView>(own_list(app, std::nullopt));
    if (look.part != RecordsPart::sittings) return view;
    view.waits = waits_for(app.records_awaited, app.records != nullptr);
    if (!app.records) return view;
    if (app.record_opened)
        for (const RecordSitting& sitting : app.records->sittings)
            if (sitting.id == app.record_opened->sitting)
                view.open = open_view(sitting, *app.record_opened, look);
    if (!view.open) view.list = shown_list(*app.records, look);
    return view;
}

}  // namespace sipladder::gui
