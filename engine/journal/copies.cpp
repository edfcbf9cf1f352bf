// SQLite's own backup copies page by page under a read lock, so that a copy is of one moment even while
// another program writes (https://www.sqlite.org/backup.html). It is made under another name, checked, and
// only then given its own.

#include "engine/journal/copies.hpp"

#include "engine/journal/connection.hpp"
#include "engine/journal/draft.hpp"
#include "engine/journal/opening.hpp"
#include "engine/problem.hpp"

#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <set>
#include <string>
#include <string_view>

namespace sipladder::journal {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view copy_ending = ".sipladder";
constexpr std::size_t date_length = 10;  // 2026-03-01

/// The date in the name of a daily copy; nothing for another file.
std::optional<std::string> date_of(const fs::path& copy) {
    const std::string name = copy.filename().string();
    if (name.size() != date_length + copy_ending.size() || !name.ends_with(copy_ending)) return std::nullopt;
    const std::string date = name.substr(0, date_length);
    for (std::size_t i = 0; i < date.size(); ++i) {
        const bool is_dash = i == 4 || i == 7;
        if (is_dash ? date[i] != '-' : date[i] < '0' || date[i] > '9') return std::nullopt;
    }
    return date;
}

void copy_pages(const Journal& journal, const Database& target) {
    sqlite3_backup* backup =
        sqlite3_backup_init(target.handle(), "main", Inside::database(journal).handle(), "main");
    if (backup == nullptr) target.fail("copying the journal");
    constexpr int all_pages = -1;
    const int code = sqlite3_backup_step(backup, all_pages);
    sqlite3_backup_finish(backup);
    if (code == SQLITE_BUSY || code == SQLITE_LOCKED)
        throw Failed(target.file().string() +
                     ": copying the journal: another program is writing to it; try again");
    if (code != SQLITE_DONE) target.fail("copying the journal");
}

void check_copy(const Journal& journal, const fs::path& copy) {
    const Checked checked = check(copy);
    if (!checked.problems.empty())
        throw Refused(journal.file().string(),
                      "cannot be copied whole (" + checked.problems.front().what + ")",
                      "run `journal check` on it; older copies were left as they are");
    const Journal opened = Journal::open_existing(copy);
    if (opened.rows() != checked.rows)
        throw Failed(copy.string() + ": copying the journal: the copy lacks rows; try again");
}

std::vector<fs::path> prune(const fs::path& journal) {
    std::vector<fs::path> pruned;
    std::set<std::string> months;
    std::size_t kept = 0;
    for (const fs::path& copy : daily_copies(journal)) {
        const std::string month = date_of(copy)->substr(0, 7);
        if (kept < days_kept) {
            ++kept;
            continue;
        }
        if (months.size() < months_kept && months.insert(month).second) continue;
        if (std::error_code error; fs::remove(copy, error)) pruned.push_back(copy);
    }
    return pruned;
}

bool is_set_aside(const fs::path& journal, const fs::path& other) {
    return other.filename().string().starts_with(journal.filename().string() + ".damaged-");
}

/// True if the person was there and is not any more. @throws what opening and writing throw
bool erase_from_copy(const fs::path& file, const Uuid& person) {
    Journal copy = Journal::open_existing(file);
    const std::vector<Person> people = copy.people();
    if (std::ranges::find(people, person, &Person::id) == people.end()) return false;
    copy.erase(person);
    return true;
}

/// Adds to what is known of the erasing: the copies it reached, and those that may still hold the person.
void erase_from_copies(const fs::path& journal, const Uuid& person, Erased& erased) {
    for (const fs::path& copy : daily_copies(journal)) {
        try {
            if (erase_from_copy(copy, person)) ++erased.copies;
        } catch (const Refused&) {  // damaged or newer: told, since it may hold them
            erased.unreached.push_back(copy);
        } catch (const Failed&) {
            erased.unreached.push_back(copy);
        }
    }
}

}  // namespace

fs::path copies_folder(const fs::path& file) {
    return file.string() + "-copies";
}

void back_up(const Journal& journal, const fs::path& to) {
    if (is_there(to)) throw Refused(to.string(), "is there already", "name a file that is not there yet");
    Draft draft(to);
    copy_pages(journal, Database(draft.name(), Access::read_write));
    check_copy(journal, draft.name());
    if (!draft.keep_as(to))
        throw Refused(to.string(), "is there already", "name a file that is not there yet");
}

Journal in_memory_copy(const Journal& journal) {
    Journal copy = Journal::in_memory();
    copy_pages(journal, Inside::database(copy));
    return copy;
}

DailyCopy copy_daily(const Journal& journal, const Instant& now) {
    const fs::path folder = copies_folder(journal.file());
    if (::mkdir(folder.c_str(), S_IRWXU) != 0 && errno != EEXIST) fail_to_make(folder);
    DailyCopy copy{.file = folder / (to_date(now) + std::string(copy_ending)), .is_new = false, .pruned = {}};
    if (is_there(copy.file)) return copy;
    back_up(journal, copy.file);
    copy.is_new = true;
    // Who was erased while the copy was made goes from it too; who is erased from here on finds it in its
    // place.
    for (const Uuid& person : journal.erased()) erase_from_copy(copy.file, person);
    copy.pruned = prune(journal.file());
    return copy;
}

std::vector<fs::path> daily_copies(const fs::path& file) {
    std::vector<fs::path> copies;
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator(copies_folder(file), error))
        if (entry.is_regular_file(error) && !entry.is_symlink(error) && date_of(entry.path()))
            copies.push_back(entry.path());
    std::ranges::sort(copies, std::ranges::greater{});
    return copies;
}

std::optional<fs::path> newest_good_copy(const fs::path& file) {
    for (const fs::path& copy : daily_copies(file)) {
        try {
            if (check(copy).problems.empty()) return copy;
        } catch (const Failed&) {  // cannot be read: no good copy
        }
    }
    return std::nullopt;
}

Restored restore(const fs::path& file, const Instant& now) {
    const bool was_there = is_there(file);
    if (was_there) {
        const Checked checked = check(file);
        if (checked.problems.empty())
            throw Refused(file.string(), "is whole", "nothing needs to be restored");
        if (is_newer(file)) throw Refused(checked.problems);
    }
    Restored restored{.set_aside = {}, .from = newest_good_copy(file)};
    if (!restored.from) return restored;
    Draft draft(file);
    {
        const Journal copy = Journal::open_existing(*restored.from);
        copy_pages(copy, Database(draft.name(), Access::read_write));
        check_copy(copy, draft.name());
    }
    if (was_there) {
        restored.set_aside = file.string() + ".damaged-" + std::to_string(now.utc_ms);
        if (::link(file.c_str(), restored.set_aside.c_str()) != 0) fail_to_make(restored.set_aside);
        // What a killed program left half-done belongs to the damaged file, and would spoil the copy.
        const std::string rollback = file.string() + "-journal";
        if (is_there(rollback) &&
            ::rename(rollback.c_str(), (restored.set_aside.string() + "-journal").c_str()) != 0)
            fail_to_make(restored.set_aside);
        if (::unlink(file.c_str()) != 0) fail_to_make(file);
    }
    if (!draft.keep_as(file))
        throw Failed(file.string() + ": another program made this file meanwhile; look at it and try again");
    return restored;
}

Erased erase_everywhere(Journal& journal, const Uuid& person) {
    const std::vector<Person> people = journal.people();
    if (std::ranges::find(people, person, &Person::id) == people.end())
        throw Refused("journal: person " + person.text, "is not in this journal",
                      "one of the people that `people` names");
    // Copies first: who is cut short in between still finds the person in the journal, and asks again. And
    // once more at the end: the day's copy may have come meanwhile (see copy_daily).
    Erased erased;
    if (journal.file().empty()) {  // in memory: there are no copies, and no folder to look into
        erased.rows = journal.erase(person);
        return erased;
    }
    erase_from_copies(journal.file(), person, erased);
    erased.rows = journal.erase(person);
    erased.unreached.clear();
    erase_from_copies(journal.file(), person, erased);
    std::error_code error;
    const fs::path folder = fs::absolute(journal.file()).parent_path();
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error))
        if (is_set_aside(journal.file(), entry.path())) erased.unreached.push_back(entry.path());
    return erased;
}

}  // namespace sipladder::journal
