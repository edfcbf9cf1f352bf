// What leaves the journal and what comes in: exports, imports, copies, and the one delete.

#include "drills/exchange.hpp"
#include "engine/content/csv.hpp"
#include "engine/journal/copies.hpp"
#include "engine/journal/draft.hpp"
#include "engine/journal/exchange.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "gui/app/app.hpp"
#include "gui/app/class_book.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/printing.hpp"

#include <algorithm>
#include <fstream>
#include <utility>

namespace sipladder::gui {

namespace {

/// Of a notice: more would push the place off the screen.
constexpr std::size_t most_lines = 6;

void write_private(const std::filesystem::path& file, const std::string& text) {
    journal::Draft draft(file);  // readable by its owner only
    std::ofstream out(draft.name(), std::ios::binary);
    out << text;
    if (!out.flush()) throw Failed(file.string() + " cannot be written; is there room on the disk?");
    out.close();
    if (!draft.keep_as(file)) throw Failed(file.string() + " is there already");
}

std::string read_typed_file(const std::string& typed) {
    const std::string file{trimmed(typed)};
    if (file.empty())
        throw Refused("Import", "no file is named", "a file that an export as JSON has written");
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error))
        throw Refused(file, "is no file", "a file that an export as JSON has written");
    if (std::filesystem::file_size(file, error) > journal::largest_exchange_bytes || error)
        throw Refused(file, "is too large to be meant", "an export person by person");
    std::ifstream in(file, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    if (!in) throw Refused(file, "cannot be read", "check the name and the permissions");
    return text;
}

/// The first problems, and how many there are beside them.
[[noreturn]] void refuse_shortened(const Refused& refused) {
    std::vector<Problem> shown = refused.problems();
    if (shown.size() > most_lines) {
        const std::size_t left = shown.size() - most_lines;
        shown.resize(most_lines);
        shown.push_back({"Import", std::to_string(left) + " more like these",
                         "nothing was taken in; tick below to keep what is here"});
    }
    throw Refused(shown);
}

journal::Merged taken_in(journal::Journal& journal, const journal::Exchange& exchange, bool keep_ours) {
    const auto accept = [&](const journal::Merged& merged) { drills::check_bodies(journal, merged); };
    try {
        return journal::merge(journal, exchange,
                              keep_ours ? journal::OnConflict::keep_ours : journal::OnConflict::refuse,
                              accept);
    } catch (const Refused& refused) {
        refuse_shortened(refused);
    }
}

Notice notice_of(const journal::Merged& merged) {
    Notice notice{.lines = {std::to_string(merged.added.size()) + " new rows, " +
                            std::to_string(merged.known) + " known already."}};
    for (std::size_t i = 0; i < std::min(merged.conflicts.size(), most_lines); ++i)
        notice.lines.push_back("Conflict: " + to_text(merged.conflicts[i]));
    if (merged.left_out > 0)
        notice.lines.push_back(counted(merged.left_out, "row was", "rows were") +
                               " left out because of conflicts.");
    if (merged.of_erased > 0)
        notice.lines.push_back(counted(merged.of_erased, "row was", "rows were") +
                               " left out: of people erased here.");
    if (!merged.erased_there.empty())
        notice.lines.push_back(counted(merged.erased_there.size(), "person was", "people were") +
                               " erased in the other journal and are still in this one; erase them here too "
                               "if they asked for it.");
    return notice;
}

}  // namespace

void on(Next& next, const TickEveryone& intent) {
    next.app.records_look.everyone = intent.on;
}

void on(Next& next, const ExportRecords& intent) {
    App& app = next.app;
    if (!app.person) return;
    const std::optional<Uuid> whose = app.records_look.everyone ? std::nullopt : app.person;
    if (!intent.is_csv) {
        const journal::Exchange exchange = journal::contents(*app.journal, whose);
        const std::filesystem::path file = file_for(app, "export", ".json");
        write_private(file, journal::exchange_json(exchange));
        app.notice = Notice{
            .lines = {"Wrote " + counted(exchange.rows.size(), "row", "rows") + " to " + file.string()}};
        return;
    }
    if (!app.history->unfinished.empty())
        throw Refused("Answers as CSV", "a drill is left open, and the table would tell its levels",
                      "finish it or close it in Taste first");
    const std::string table = drills::answers_csv(*app.journal, whose);
    const auto lines = static_cast<std::size_t>(std::ranges::count(table, '\n'));
    const std::filesystem::path file = file_for(app, "answers", ".csv");
    write_private(file, table);
    app.notice =
        Notice{.lines = {"Wrote " + counted(lines - 1, "answer", "answers") + " to " + file.string()}};
}

void on(Next& next, const TypeImportPath& intent) {
    next.app.records_look.path = intent.text;
}

void on(Next& next, const TickKeepOurs& intent) {
    next.app.records_look.keep_ours = intent.on;
}

void on(Next& next, const ImportRecords&) {
    App& app = next.app;
    if (app.is_demo())
        throw Refused("Import", "this is the demo, gone when it is left", "leave the demo first");
    const std::string& typed = app.records_look.path;
    const journal::Exchange exchange = journal::read_exchange_json(read_typed_file(typed), typed);
    // So that there is a way back.
    if (!app.journal->file().empty()) journal::copy_daily(*app.journal, app.now);
    app.notice = notice_of(taken_in(*app.journal, exchange, app.records_look.keep_ours));
    app.people = people_here(*app.journal);
    read_classes(app);
    app.records_look.path.clear();
    app.records_look.keep_ours = false;
    next.read_again = true;
}

void on(Next& next, const CopyNow&) {
    App& app = next.app;
    const std::filesystem::path file = file_for(app, "journal_copy", ".sipladder");
    journal::back_up(*app.journal, file);
    app.notice = Notice{.lines = {file.string() + " holds a copy that opens.",
                                  "It is yours to keep or delete: what is erased here later stays in it."}};
}

void on(Next& next, const TypeNameToErase& intent) {
    next.app.records_look.typed_name = intent.text;
}

void on(Next& next, const ErasePerson&) {
    App& app = next.app;
    if (app.is_demo())
        throw Refused("Erase", "everything in the demo is invented", "leave the demo; it goes by itself");
    const auto person =
        std::ranges::find_if(app.people, [&](const journal::Person& one) { return one.id == app.person; });
    if (person == app.people.end()) return;
    if (app.records_look.typed_name != person->name)
        throw Refused("Name", "is not the one of who is erased", "\"" + person->name + "\" to the letter");
    next.erase = person->id;
    app.records_look = {};
    take_another(next, *next.erase);
}

}  // namespace sipladder::gui
