#include "engine/journal/journal.hpp"

#include "engine/problem.hpp"
#include "tools/cli/verb.hpp"

namespace sipladder::cli {

namespace {

void check(const Common& common, std::string file) {
    if (file.empty()) file = common.journal;
    if (file.empty()) throw Refused("journal check", "no file is named", "give it with --journal FILE");
    const journal::Checked checked = journal::check(file);
    if (common.json) {
        Json problems = Json::array();
        for (const Problem& problem : checked.problems)
            problems.push_back({{"where", problem.where}, {"what", problem.what}, {"right", problem.right}});
        print({{"file", file}, {"rows", checked.rows}, {"problems", problems}});
    } else if (checked.problems.empty()) {
        say(file + ": " + std::to_string(checked.rows) + " rows, no problem");
    }
    if (!checked.problems.empty()) throw Refused(checked.problems);
}

}  // namespace

void add_journal(CLI::App& app, const Common& common) {
    CLI::App* journal = app.add_subcommand("journal", "the permanent record");
    journal->require_subcommand(1);
    CLI::App* verb = journal->add_subcommand("check", "is the file whole? reads only");
    auto file = std::make_shared<std::string>();
    verb->add_option("file", *file, "the journal (or --journal FILE)");
    verb->callback([&common, file] { check(common, *file); });
}

}  // namespace sipladder::cli
