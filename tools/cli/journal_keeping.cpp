#include "engine/journal/copies.hpp"
#include "engine/problem.hpp"
#include "engine/uuid.hpp"
#include "tools/cli/journal.hpp"

#include <stdlib.h>
#include <time.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <memory>
#include <random>

namespace sipladder::cli {

namespace {

Json json_of(const std::vector<std::filesystem::path>& files) {
    Json list = Json::array();
    for (const auto& file : files) list.push_back(file.string());
    return list;
}

void begin(const Common& common, std::string file) {
    if (file.empty()) file = common.journal;
    if (file.empty()) throw Refused("journal new", "no file is named", "give it with --journal FILE");
    if (std::filesystem::exists(std::filesystem::symlink_status(file)))
        throw Refused(file, "is there already", "name a file that is not there yet");
    const journal::Journal journal = journal::Journal::open(file);
    if (common.json) return print({{"file", file}, {"rows", journal.rows()}});
    say("began " + file);
}

void back_up(const Common& common, const std::string& out) {
    const journal::Journal journal = open_journal(common, "journal backup");
    std::vector<std::filesystem::path> pruned;
    std::string copied = out;
    if (out.empty()) {
        const journal::DailyCopy copy = journal::copy_daily(journal, instant_now());
        copied = copy.file.string();
        pruned = copy.pruned;
    } else {
        journal::back_up(journal, out);
    }
    if (common.json) return print({{"file", copied}, {"rows", journal.rows()}, {"pruned", json_of(pruned)}});
    say(copied + " holds a copy that opens");
}

void restore(const Common& common) {
    if (common.journal.empty())
        throw Refused("journal restore", "no file is named", "give it with --journal FILE");
    const journal::Restored restored = journal::restore(common.journal, instant_now());
    if (!restored.from)
        throw Refused(common.journal, "has no good daily copy",
                      "look for a copy elsewhere; nothing was changed");
    if (common.json)
        return print({{"file", common.journal},
                      {"from", restored.from->string()},
                      {"set_aside", restored.set_aside.string()}});
    if (!restored.set_aside.empty()) say("the damaged file is now " + restored.set_aside.string());
    say(common.journal + " is again what it was in " + restored.from->string());
}

struct StrikeOptions {
    std::string target;
    std::string reason;
};

Uuid drawn_id() {
    std::random_device device;
    Random random{Seed{std::uint64_t{device()} << 32 | device()}};
    return uuid_from(random);
}

void strike(const Common& common, const StrikeOptions& options, bool strikes) {
    journal::Journal journal = open_journal(common, strikes ? "journal strike" : "journal put-back");
    const Uuid row = drawn_id();
    const Uuid target{options.target};
    if (strikes)
        journal.strike_out(row, target, options.reason, instant_now());
    else
        journal.put_back(row, target, options.reason, instant_now());
    if (common.json)
        return print({{"file", common.journal}, {"row", row.text}, {"target", target.text}, {"rows", 1}});
    say("row " + target.text + (strikes ? " is struck out; it stays with the reason" : " counts again"));
}

void erase(const Common& common, const std::string& named, bool sure) {
    journal::Journal journal = open_journal(common, "journal erase");
    const journal::Person person = person_named(journal, named);
    if (!sure)
        throw Refused("--yes", "is missing: everything of " + person.name + " would go for good",
                      "add --yes; nothing was changed");
    const journal::Erased gone = journal::erase_everywhere(journal, person.id);
    if (common.json)
        return print({{"file", common.journal},
                      {"erased", person.id.text},
                      {"rows", gone.rows},
                      {"copies", gone.copies},
                      {"unreached", json_of(gone.unreached)}});
    say(std::to_string(gone.rows) + " rows of " + person.name + " are gone from this file, and from " +
        std::to_string(gone.copies) + " daily copies.");
    for (const auto& file : gone.unreached)
        say("It may still be in " + file.string() + ", which cannot be opened; delete it by hand.");
    say("Copies and exports that you keep elsewhere still hold them.");
}

void add_strike(arguments::Command journal, const Common& common, bool strikes) {
    arguments::Command verb = journal.add_subcommand(strikes ? "strike" : "put-back",
                                                     strikes ? "strikes a row out; it stays, with the reason"
                                                             : "lets a row count again that was struck out");
    auto options = std::make_shared<StrikeOptions>();
    verb.add_option("row", options->target, "the id of a fact, sitting, drill or entry").required();
    verb.add_option("--reason", options->reason, "why, in a few words").required();
    verb.on_run([&common, options, strikes] { strike(common, *options, strikes); });
}

[[noreturn]] void fail_to_write(const std::string& file) {
    throw Failed(file + " cannot be written (" + std::strerror(errno) + ")");
}

}  // namespace

Instant instant_now() {
    const auto now = std::chrono::system_clock::now();
    const std::time_t seconds = std::chrono::system_clock::to_time_t(now);
    std::tm local{};
    ::localtime_r(&seconds, &local);
    const auto ms = [](auto since) {
        return std::chrono::duration_cast<std::chrono::milliseconds>(since.time_since_epoch()).count();
    };
    constexpr long seconds_a_minute = 60;
    return {ms(now), static_cast<int>(local.tm_gmtoff / seconds_a_minute),
            ms(std::chrono::steady_clock::now())};
}

void write_private_file(const std::filesystem::path& file, const std::string& text) {
    std::string part = file.string() + ".part-XXXXXX";
    const int descriptor = ::mkstemp(part.data());  // readable by its owner only
    if (descriptor < 0) fail_to_write(file.string());
    std::size_t written = 0;
    ssize_t got = 0;
    while (written < text.size() &&
           (got = ::write(descriptor, text.data() + written, text.size() - written)) > 0)
        written += static_cast<std::size_t>(got);
    const bool is_whole = written == text.size() && ::fsync(descriptor) == 0;
    const int why = errno;
    ::close(descriptor);
    if (is_whole && ::rename(part.c_str(), file.c_str()) == 0) return;
    if (!is_whole) errno = why;
    const int reported = errno;
    ::unlink(part.c_str());
    errno = reported;
    fail_to_write(file.string());
}

void add_journal_keeping(arguments::Command journal, const Common& common) {
    arguments::Command beginning = journal.add_subcommand("new", "begins an empty journal");
    auto file = std::make_shared<std::string>();
    beginning.add_option("file", *file, "a name that is not there yet (or --journal FILE)");
    beginning.on_run([&common, file] { begin(common, *file); });

    arguments::Command copying =
        journal.add_subcommand("backup", "copies the journal and opens the copy to check it");
    auto out = std::make_shared<std::string>();
    copying.add_option("--out", *out, "where to (default: the day's copy beside it; older ones are pruned)");
    copying.on_run([&common, out] { back_up(common, *out); });

    arguments::Command restoring = journal.add_subcommand(
        "restore", "sets a damaged journal aside and puts the newest good daily copy in its place");
    restoring.on_run([&common] { restore(common); });

    add_strike(journal, common, true);
    add_strike(journal, common, false);

    arguments::Command erasing = journal.add_subcommand(
        "erase", "takes a person and everything of theirs out of the file and its daily copies, for good");
    auto person = std::make_shared<std::string>();
    auto sure = std::make_shared<bool>(false);
    erasing.add_option("--person", *person, "name or id").required();
    erasing.add_flag("--yes", *sure, "there is no way back");
    erasing.on_run([&common, person, sure] { erase(common, *person, *sure); });
}

}  // namespace sipladder::cli
