#include "tools/cli/journal.hpp"

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

namespace {

void erase(const Common& common, const std::string& named, bool sure) {
    if (common.journal.empty())
        throw Refused("journal erase", "no file is named", "give it with --journal FILE");
    journal::Journal journal = journal::Journal::open_existing(common.journal);
    const journal::Person person = person_named(journal, named);
    if (!sure)
        throw Refused("--yes", "is missing: everything of " + person.name + " would go for good",
                      "add --yes; nothing was changed");
    const std::size_t gone = journal.erase(person.id);
    if (common.json) return print({{"file", common.journal}, {"erased", person.id.text}, {"rows", gone}});
    say(std::to_string(gone) + " rows of " + person.name +
        " are gone from this file. Copies and exports that you keep elsewhere still hold them.");
}

}  // namespace

void add_journal(CLI::App& app, const Common& common) {
    CLI::App* journal = app.add_subcommand("journal", "the permanent record");
    journal->require_subcommand(1);
    CLI::App* verb = journal->add_subcommand("check", "is the file whole? reads only");
    auto file = std::make_shared<std::string>();
    verb->add_option("file", *file, "the journal (or --journal FILE)");
    verb->callback([&common, file] { check(common, *file); });

    CLI::App* erasing =
        journal->add_subcommand("erase", "takes a person and everything of theirs out of the file, for good");
    auto person = std::make_shared<std::string>();
    auto sure = std::make_shared<bool>(false);
    erasing->add_option("--person", *person, "name or id")->required();
    erasing->add_flag("--yes", *sure, "there is no way back");
    erasing->callback([&common, person, sure] { erase(common, *person, *sure); });
}

}  // namespace sipladder::cli
