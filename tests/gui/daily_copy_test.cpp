#include "gui/app/daily_copy.hpp"

#include "engine/journal/copies.hpp"
#include "engine/journal/journal.hpp"
#include "tests/gui/people.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <fstream>

using namespace sipladder;
using namespace sipladder::gui;

namespace {

constexpr Instant today{.utc_ms = 1'772'700'000'000, .offset_min = 0, .monotonic_ms = 0};

}  // namespace

TEST_CASE("the day's copy is made beside the window, while the journal goes on being written") {
    const tests::TemporaryFolder folder;
    journal::Journal journal = journal::Journal::open(folder / "own.sipladder");
    Random ids{Seed{5}};
    {
        DailyCopying copying(journal.file(), today, [] { FAIL("the copy could be made"); });
        for (int i = 0; i < 20; ++i) journal.append(journal::Person{uuid_from(ids), "Invented", true, today});
    }
    CHECK(journal.people().size() == 20);
    const auto copies = journal::daily_copies(journal.file());
    REQUIRE(copies.size() == 1);
    CHECK(journal::check(copies.front()).problems.empty());
}

TEST_CASE("a copy that cannot be made is told once, and nothing else stops") {
    const tests::TemporaryFolder folder;
    const journal::Journal journal = journal::Journal::open(folder / "own.sipladder");
    std::ofstream(journal::copies_folder(journal.file())) << "a file where the folder should be";
    std::atomic<int> told = 0;
    std::optional<std::string> why;
    {
        DailyCopying copying(journal.file(), today, [&] { ++told; });
        while (told == 0) std::this_thread::yield();
        why = copying.take_problem();
        CHECK(!copying.take_problem());
    }
    REQUIRE(why);
    CHECK(why->find("own.sipladder-copies") != std::string::npos);
    tests::AtWindow at;
    at.arrive();
    at.want(MissCopy{*why});
    REQUIRE(at.app.notice);
    CHECK(at.app.notice->is_problem);
    CHECK(at.app.notice->lines.front().find(*why) != std::string::npos);
}
