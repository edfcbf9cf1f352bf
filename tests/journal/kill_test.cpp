// A child process appends and reports each row once `append` has returned; it is killed at a random moment.
// Whatever it reported must be there. (A kill leaves the system's file cache alone, so this does not show
// that a power cut loses nothing: for that the journal relies on SQLite's synchronous=EXTRA.)

#include "engine/journal/database.hpp"
#include "engine/journal/journal.hpp"
#include "tests/journal/rows.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstddef>
#include <thread>

using namespace sipladder;
using namespace sipladder::tests;
using journal::Journal;

namespace {

/// Never returns: appends entries from `from` on, and writes one byte a row that is done.
[[noreturn]] void append_for_ever(const std::filesystem::path& file, int from, int report) {
    try {
        Journal journal = Journal::open(file);
        for (int number = from;; ++number) {
            journal.append(entry(number));
            if (::write(report, "x", 1) != 1) break;
        }
    } catch (...) {  // a child of a test: the parent counts what came back
    }
    ::_exit(1);
}

std::size_t bytes_until_closed(int report) {
    std::size_t count = 0;
    char buffer[256];
    for (ssize_t got = 0; (got = ::read(report, buffer, sizeof buffer)) > 0;)
        count += static_cast<std::size_t>(got);
    return count;
}

/// Until the child has reported a row, at most ten seconds.
void wait_for_a_byte(int report) {
    pollfd ready{report, POLLIN, 0};
    ::poll(&ready, 1, 10'000);
}

}  // namespace

TEST_CASE("a program killed at any moment loses no row that it was told is written") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    filled(file, 0);
    Random random{Seed{2026}};
    std::size_t acknowledged = 0;
    std::size_t lost = 0;
    constexpr int kills = 20;
    for (int kill = 0; kill < kills; ++kill) {
        CAPTURE(kill);
        const std::size_t before = Journal::open(file).entries(drill.id).size();
        int ends[2];
        REQUIRE(::pipe(ends) == 0);
        const pid_t child = ::fork();
        if (child == 0) append_for_ever(file, static_cast<int>(before), ends[1]);
        ::close(ends[1]);
        // Half of the kills may come while the journal is still being opened, half after the first row is
        // reported.
        if (kill % 2 == 1) wait_for_a_byte(ends[0]);
        std::this_thread::sleep_for(std::chrono::microseconds(random.below(25000)));
        ::kill(child, SIGKILL);
        ::waitpid(child, nullptr, 0);
        const std::size_t reported = bytes_until_closed(ends[0]);
        ::close(ends[0]);
        acknowledged += reported;

        const auto entries = Journal::open(file).entries(drill.id);
        lost += before + reported > entries.size() ? before + reported - entries.size() : 0;
        CHECK(entries.size() <= before + reported + 1);  // one may be on disk and not yet reported
        for (std::size_t i = 0; i < entries.size(); ++i) CHECK(entries[i] == entry(static_cast<int>(i)));
    }
    MESSAGE("kills: " << kills << ", answers acknowledged: " << acknowledged << ", answers lost: " << lost);
    CHECK(lost == 0);
    CHECK(acknowledged >= 10);  // otherwise nothing was put to the test
    CHECK(journal::check(file).problems.empty());
}

TEST_CASE("a journal that another program holds on to fails with words, and works once it is free") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    Journal journal = filled(file, 0);
    {
        journal::Database other(file, journal::Access::read_write);
        const journal::Transaction held(other);
        CHECK_THROWS_WITH_AS(journal.append(entry(0)),
                             doctest::Contains("another program is using this journal"), Failed);
    }
    journal.append(entry(0));
    CHECK(journal.entries(drill.id) == std::vector{entry(0)});
}

TEST_CASE("two programs may write in turns, and an entry numbered from an old view is refused") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    Journal one = filled(file, 0);
    Journal two = Journal::open(file);
    one.append(entry(0));
    two.append(entry(1));
    journal::Entry late = entry(9);
    late.number = 1;
    CHECK_THROWS_AS(one.append(late), Refused);
    CHECK(one.entries(drill.id) == std::vector{entry(0), entry(1)});
}
