// The list needs no answers, so it takes what the history has read already; only what is struck out is read
// here. Answers are read for the one sitting that is open.

#include "gui/app/records.hpp"

#include "drills/palate_detail.hpp"
#include "drills/record.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "gui/app/app.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace sipladder::gui {

namespace {

namespace record = drills::record;

/// Where the history has each drill that is done.
using Places = std::map<Uuid, std::size_t>;

Places places_in(const History& history) {
    Places places;
    for (std::size_t i = 0; i < history.done.size(); ++i) places.emplace(history.done.lines()[i].drill, i);
    return places;
}

void describe(RecordDrill& made, const drills::State& state, bool is_open) {
    made.name = name_of_drill(state.plan);
    made.about = title_of(state.plan);
    made.blinding = drills::blinding_text(state.plan.blinding);
    made.presentations = state.trials.size();
    made.is_open = is_open;
    for (std::size_t line = 0; line < drills::line_count(state.plan); ++line)
        made.substances.push_back(drills::substance_of(state.plan, line).name);
}

RecordDrill record_of(const journal::Journal& journal, const journal::DrillLine& drill,
                      const History& history, const Places& places) {
    RecordDrill made;
    made.id = drill.id;
    made.name = drill.kind;
    made.struck = drill.struck;
    if (!is_known_kind(drill.kind)) return made;
    const auto done = places.find(drill.id);
    const auto open = std::ranges::find(history.unfinished, drill.id, &PastDrill::drill);
    try {
        if (done != places.end()) {
            describe(made, history.done[done->second].state, false);
        } else if (open != history.unfinished.end()) {
            describe(made, open->state, true);
        } else if (const auto row = journal.drill(drill.id)) {
            const drills::State state = record::read(*row, journal.entries(drill.id));
            describe(made, state, !drills::is_finished(state));
        }
    } catch (const Refused& refused) {
        made.about = to_text(refused.problems().front());
    }
    return made;
}

std::map<Uuid, std::vector<RecordNote>> notes_of(const journal::Journal& journal, const Uuid& person) {
    std::map<Uuid, std::vector<RecordNote>> notes;
    for (const journal::Fact& fact : journal.facts(person, {record::sitting_note})) {
        const record::SittingNote note = record::read_sitting_note(fact);
        notes[note.sitting].push_back({fact.id, note.text, fact.struck});
    }
    return notes;
}

void let_be(RecordsLook& look) {
    look.asked.reset();
    look.reason.clear();
}

}  // namespace

Records records_of(const FitJob& job, const std::stop_token& stop) {
    const journal::Journal& journal = *job.journal;
    const Uuid& person = job.person;
    const History& history = *job.history;
    Records records{.person = person, .journal_rows = job.journal_rows, .sittings = {}, .shown = {}};
    auto notes = notes_of(journal, person);
    const Places places = places_in(history);
    std::map<Uuid, std::vector<journal::DrillLine>> drills;
    for (journal::DrillLine& drill : journal.drill_lines(person)) {
        std::vector<journal::DrillLine>& of_sitting = drills[drill.sitting];
        of_sitting.push_back(std::move(drill));
    }
    for (const journal::Sitting& sitting : journal.sittings(person)) {
        if (stop.stop_requested()) break;
        RecordSitting made;
        made.id = sitting.id;
        made.started = sitting.started;
        made.struck = sitting.struck;
        // Sittings that were never asked about have an empty body.
        if (!sitting.body.empty() && sitting.body != "{}")
            made.circumstances = record::read_circumstances(sitting);
        for (const journal::DrillLine& drill : drills[sitting.id])
            made.drills.push_back(record_of(journal, drill, history, places));
        made.notes = std::move(notes[sitting.id]);
        records.sittings.push_back(std::move(made));
    }
    std::ranges::reverse(records.sittings);
    return records;
}

namespace {

/// Every answer that was ever locked, the struck ones too, each with the row that holds it.
RecordAnswers answers_in(const journal::Drill& drill, std::vector<journal::Entry> entries) {
    RecordAnswers made{.drill = drill.id, .columns = {}, .answers = {}, .problem = {}};
    std::vector<journal::Entry> locks;
    for (journal::Entry& entry : entries) {
        if (entry.kind == "lock") locks.push_back(entry);
        entry.struck.reset();
    }
    const drills::State state = record::read(drill, entries);
    drills::PalateTable table = drills::answers_of(state, {});
    made.columns = std::move(table.columns);
    for (std::vector<std::string>& row : table.rows) {
        const auto number = number_from_file(row.front());
        const std::size_t trial = number ? static_cast<std::size_t>(*number) - 1 : locks.size();
        if (trial >= locks.size() || locks.size() != state.trials.size()) {
            made.answers.clear();
            made.problem = "Its answers are not as many as its rows; sipladder-cli journal check says more.";
            return made;
        }
        made.answers.push_back({.row = locks[trial].id,
                                .cells = std::move(row),
                                .at = state.trials[trial].given->at,
                                .struck = locks[trial].struck});
    }
    return made;
}

RecordOpened open_record(const journal::Journal& journal, const RecordSitting& sitting) {
    RecordOpened opened{.sitting = sitting.id, .journal_rows = journal.rows(), .drills = {}};
    const std::vector<journal::Drill> rows = journal.drills(sitting.id);
    for (std::size_t i = 0; i < rows.size() && i < sitting.drills.size(); ++i) {
        RecordAnswers answers{.drill = rows[i].id, .columns = {}, .answers = {}, .problem = {}};
        if (!is_known_kind(rows[i].kind)) {
            answers.problem = "A later version of this program can show this drill.";
        } else if (!sitting.drills[i].is_open) {
            try {
                answers = answers_in(rows[i], journal.entries(rows[i].id));
            } catch (const Refused& refused) {
                answers.problem = to_text(refused.problems().front());
            }
        }
        opened.drills.push_back(std::move(answers));
    }
    return opened;
}

void open_sitting(App& app, std::size_t rows) {
    RecordsLook& look = app.records_look;
    if (!app.records) {
        app.record_opened.reset();
        return;
    }
    const auto& sittings = app.records->sittings;
    const auto open =
        look.open ? std::ranges::find(sittings, *look.open, &RecordSitting::id) : sittings.end();
    if (open == sittings.end()) {  // of nobody, or of another person
        look.open.reset();
        app.record_opened.reset();
        return;
    }
    if (app.record_opened && app.record_opened->sitting == open->id &&
        app.record_opened->journal_rows == rows)
        return;
    app.record_opened = std::make_shared<const RecordOpened>(open_record(*app.journal, *open));
}

}  // namespace

void look_at_records(App& app) {
    if (app.records && app.person != app.records->person) app.records.reset();
    if (!app.person || !app.history) {
        app.records.reset();
        app.records_awaited.reset();
        app.record_opened.reset();
        return;
    }
    const std::size_t rows = app.journal->rows();
    const auto is_newest = [&](const Uuid& person, std::size_t journal_rows) {
        return person == *app.person && journal_rows == rows;
    };
    if (app.records && is_newest(app.records->person, app.records->journal_rows)) {
        app.records_awaited.reset();
    } else if (const auto& awaited = app.records_awaited;
               awaited && is_newest(awaited->job.person, awaited->job.journal_rows)) {
        // On its way, or met problems: not a second time.
    } else if (app.history->done.unread() <= most_at_once) {
        app.records_awaited.reset();
        app.records = std::make_shared<const Records>(records_of(fit_job(app)));
    } else {
        app.records_awaited = Awaited{fit_job(app)};
    }
    open_sitting(app, rows);
}

void on(Next& next, const RecordsReady& intent) {
    if (auto found = wanted_of(intent, next.app.records_awaited, next.app.person))
        next.app.records = std::move(found);
}

void on(Next& next, const ShowRecords& intent) {
    next.app.records_look.part = intent.part;
    next.app.records_look.open.reset();
    let_be(next.app.records_look);
}

void on(Next& next, const FilterRecords& intent) {
    RecordsLook& look = next.app.records_look;
    look.substance = intent.substance;
    look.drill = intent.drill;
    look.text = intent.text;
    look.from = intent.from;
    look.to = intent.to;
}

void on(Next& next, const OpenRecord& intent) {
    next.app.records_look.open = intent.sitting;
    next.app.records_look.note.clear();
    let_be(next.app.records_look);
}

void on(Next& next, const AskToStrike& intent) {
    let_be(next.app.records_look);
    next.app.records_look.asked = intent.row;
    next.app.records_look.puts_back = intent.puts_back;
}

void on(Next& next, const TypeReason& intent) {
    next.app.records_look.reason = intent.text;
}

void on(Next& next, const StrikeOut&) {
    App& app = next.app;
    RecordsLook& look = app.records_look;
    if (!look.asked) return;
    const std::string reason{trimmed(look.reason)};
    if (reason.empty()) throw Refused("Reason", "is empty", "why, in a few words; it stays with the row");
    next.rows.emplace_back(journal::StrikeRow{.id = uuid_from(app.chance),
                                              .target = *look.asked,
                                              .strikes = !look.puts_back,
                                              .reason = reason,
                                              .at = app.now});
    if (look.puts_back) check_put_back(app, *look.asked);
    // What another drill would join, and the finding of the last one, may be what was struck out.
    if (app.sitting && app.sitting->id == *look.asked) app.sitting.reset();
    app.just_done.reset();
    let_be(look);
    next.read_again = true;
}

void on(Next& next, const TypeNote& intent) {
    next.app.records_look.note = intent.text;
}

void on(Next& next, const AddNote&) {
    App& app = next.app;
    RecordsLook& look = app.records_look;
    if (!look.open || !app.person) return;
    const std::string text{trimmed(look.note)};
    if (text.empty()) throw Refused("Note", "is empty", "a few words: a cold, a new pack");
    next.rows.emplace_back(journal::Fact{.id = uuid_from(app.chance),
                                         .person = *app.person,
                                         .kind = record::sitting_note,
                                         .at = app.now,
                                         .body = record::body_of(record::SittingNote{*look.open, text}),
                                         .struck = {}});
    look.note.clear();
}

}  // namespace sipladder::gui
