#include "tools/cli/journal.hpp"

#include "engine/journal/copies.hpp"
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
    if (checked.problems.empty()) return;
    std::vector<Problem> problems = checked.problems;
    if (const auto copy = journal::newest_good_copy(file))
        problems.push_back({file, "has a good daily copy, " + copy->string(),
                            "`journal restore` sets the damaged file aside and puts the copy in its place"});
    throw Refused(std::move(problems));
}

}  // namespace

journal::Person person_named(const journal::Journal& journal, const std::string& named) {
    std::vector<journal::Person> found;
    for (const journal::Person& person : journal.people())
        if (person.id.text == named || person.name == named) found.push_back(person);
    if (found.empty())
        throw Refused("--person", "\"" + named + "\" is nobody in this journal",
                      "a name or an id as it has them");
    if (found.size() > 1) {
        std::string ids;
        for (const journal::Person& person : found)
            ids.append(ids.empty() ? "" : ", ").append(person.id.text);
        throw Refused("--person", "\"" + named + "\" is the name of several people", "one of the ids " + ids);
    }
    return found.front();
}

journal::Journal open_journal(const Common& common, const std::string& verb) {
    if (common.journal.empty()) throw Refused(verb, "no file is named", "give it with --journal FILE");
    return journal::Journal::open_existing(common.journal);
}

void add_journal(arguments::Command app, const Common& common) {
    arguments::Command journal = app.add_subcommand("journal", "the permanent record");
    journal.require_subcommand();
    arguments::Command verb = journal.add_subcommand("check", "is the file whole? reads only");
    auto file = std::make_shared<std::string>();
    verb.add_option("file", *file, "the journal (or --journal FILE)");
    verb.on_run([&common, file] { check(common, *file); });
    add_journal_exchange(journal, common);
    add_journal_keeping(journal, common);
}

}  // namespace sipladder::cli
