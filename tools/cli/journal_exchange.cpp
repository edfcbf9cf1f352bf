// An import is one transaction: what came in is merged, read the way the program will, and only then kept.
// The day's copy is made before it, so that there is a way back.

#include "drills/exchange.hpp"
#include "engine/journal/copies.hpp"
#include "engine/journal/exchange.hpp"
#include "engine/problem.hpp"
#include "tools/cli/journal.hpp"

#include <algorithm>
#include <filesystem>
#include <memory>
#include <optional>

namespace sipladder::cli {

namespace {

struct ExportOptions {
    std::string out;
    std::string person;
    bool csv = false;
};

void export_to(const Common& common, const ExportOptions& options) {
    const journal::Journal journal = open_journal(common, "journal export");
    std::optional<Uuid> person;
    if (!options.person.empty()) person = person_named(journal, options.person).id;
    if (options.csv) {
        const std::string table = drills::answers_csv(journal, person);
        const auto lines = static_cast<std::size_t>(std::count(table.begin(), table.end(), '\n'));
        write_private_file(options.out, table);
        if (common.json) return print({{"file", options.out}, {"rows", lines - 1}, {"format", "csv"}});
        return say("wrote " + options.out);
    }
    const journal::Exchange exchange = journal::contents(journal, person);
    write_private_file(options.out, journal::exchange_json(exchange));
    if (common.json)
        return print({{"file", options.out},
                      {"rows", exchange.rows.size()},
                      {"erased", exchange.erased.size()},
                      {"format", "sipladder-exchange/1"}});
    say("wrote " + std::to_string(exchange.rows.size()) + " rows to " + options.out);
}

struct ImportOptions {
    std::string file;
    bool keep_ours = false;
    bool look_only = false;
};

/// Thrown to undo what was only looked at.
struct LookedAt {};

journal::Merged taken_in(journal::Journal& journal, const journal::Exchange& exchange,
                         const ImportOptions& options) {
    journal::Merged looked;
    const auto accept = [&](const journal::Merged& merged) {
        drills::check_bodies(journal, merged);
        looked = merged;
        if (options.look_only) throw LookedAt{};
    };
    const auto on_conflict = options.keep_ours ? journal::OnConflict::keep_ours : journal::OnConflict::refuse;
    try {
        return journal::merge(journal, exchange, on_conflict, accept);
    } catch (const LookedAt&) {
        return looked;
    }
}

void say_merged(const journal::Merged& merged, const ImportOptions& options) {
    say(std::to_string(merged.added.size()) + (options.look_only ? " rows would be new, " : " new rows, ") +
        std::to_string(merged.known) + " known already.");
    for (const Problem& conflict : merged.conflicts) say("Conflict: " + to_text(conflict));
    if (merged.left_out > 0)
        say(std::to_string(merged.left_out) + " rows were left out because of conflicts.");
    if (merged.of_erased > 0)
        say(std::to_string(merged.of_erased) + " rows were left out: they are of people erased here.");
    for (const Uuid& person : merged.erased_there)
        say("Person " + person.text +
            " was erased in the other journal and is still in this one; `journal erase` takes them out "
            "here.");
}

void import_from(const Common& common, const ImportOptions& options) {
    journal::Journal journal = open_journal(common, "journal import");
    const journal::Exchange exchange =
        journal::read_exchange_json(read_file(options.file, journal::largest_exchange_bytes), options.file);
    if (!options.look_only) journal::copy_daily(journal, instant_now());
    const journal::Merged merged = taken_in(journal, exchange, options);
    if (!common.json) return say_merged(merged, options);
    Json problems = Json::array();
    for (const Problem& problem : merged.conflicts)
        problems.push_back({{"where", problem.where}, {"what", problem.what}, {"right", problem.right}});
    Json erased = Json::array();
    for (const Uuid& person : merged.erased_there) erased.push_back(person.text);
    print({{"file", options.file},
           {"rows", merged.added.size()},
           {"known", merged.known},
           {"problems", problems},
           {"left_out", merged.left_out},
           {"of_erased", merged.of_erased},
           {"erased_there", erased},
           {"kept", !options.look_only}});
}

}  // namespace

void add_journal_exchange(arguments::Command journal, const Common& common) {
    arguments::Command out = journal.add_subcommand(
        "export", "everything as JSON for another journal, or the answers as CSV, one row an answer");
    auto exporting = std::make_shared<ExportOptions>();
    out.add_option("--out", exporting->out, "the file to write, readable by you only").required();
    out.add_option("--person", exporting->person, "one person, by name or id");
    out.add_flag("--csv", exporting->csv, "answers as a table, for R, Python or a spreadsheet");
    out.on_run([&common, exporting] { export_to(common, *exporting); });

    arguments::Command in = journal.add_subcommand("import", "takes in what another journal exported");
    auto importing = std::make_shared<ImportOptions>();
    in.add_option("file", importing->file, "as `journal export` wrote it").required();
    in.add_flag("--keep-mine", importing->keep_ours,
                "where the two disagree, keep what is here and take in the rest (default: take in nothing)");
    in.add_flag("--dry-run", importing->look_only, "say what would happen; nothing is kept");
    in.on_run([&common, importing] { import_from(common, *importing); });
}

}  // namespace sipladder::cli
