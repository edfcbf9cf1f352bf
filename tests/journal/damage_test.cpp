#include "engine/journal/database.hpp"
#include "engine/journal/journal.hpp"
#include "tests/journal/rows.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <cstddef>

using namespace sipladder;
using namespace sipladder::tests;
using journal::Journal;

namespace {

/// Opening and checking both refuse the file, say why, and leave every byte of it and its folder alone.
void check_refused_untouched(const TemporaryFolder& folder, const std::filesystem::path& file,
                             const std::string& why) {
    const std::string before = bytes_of(file);
    CHECK_THROWS_WITH_AS(Journal::open(file), doctest::Contains(why.c_str()), Refused);
    CHECK_THROWS_AS(Journal::open_existing(file), Refused);
    const journal::Checked checked = journal::check(file);
    REQUIRE_FALSE(checked.problems.empty());
    CHECK_FALSE(checked.problems.front().right.empty());
    CHECK(bytes_of(file) == before);
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path()), {}) == 1);
}

std::string good_journal(const std::filesystem::path& file) {
    filled(file, 40);
    return bytes_of(file);
}

}  // namespace

TEST_CASE("a file by a newer program is refused untouched") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    std::string bytes = good_journal(file);
    bytes[63] = 100;  // user version, big-endian, at byte 60
    write_bytes(file, bytes);
    check_refused_untouched(folder, file, "newer");
}

TEST_CASE("an empty file, text and another program's database are refused untouched") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    write_bytes(file, "");
    check_refused_untouched(folder, file, "empty");
    write_bytes(file, "Dear diary, today the water tasted of water.\n");
    check_refused_untouched(folder, file, "no Sipladder journal");
    write_bytes(file, std::string(5000, '\xA5'));
    check_refused_untouched(folder, file, "no Sipladder journal");
    std::filesystem::remove(file);
    std::string bytes = good_journal(file);
    bytes[68] = 'X';
    write_bytes(file, bytes);
    check_refused_untouched(folder, file, "another program");
}

TEST_CASE("a journal cut off at any length is refused untouched") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    const std::string bytes = good_journal(file);
    for (const double part : {0.001, 0.05, 0.3, 0.5, 0.77, 0.95, 0.9999}) {
        CAPTURE(part);
        write_bytes(file,
                    bytes.substr(0, static_cast<std::size_t>(part * static_cast<double>(bytes.size()))));
        check_refused_untouched(folder, file, "");
    }
}

TEST_CASE("a journal with a page overwritten by noise is refused untouched") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    const std::string bytes = good_journal(file);
    const std::size_t page = 4096;
    REQUIRE(bytes.size() % page == 0);
    Random noise{Seed{11}};
    for (std::size_t at = 0; at < bytes.size(); at += page) {
        CAPTURE(at);
        std::string broken = bytes;
        for (std::size_t i = at == 0 ? 100 : at; i < at + page; ++i)
            broken[i] = static_cast<char>(noise.below(256));
        write_bytes(file, broken);
        check_refused_untouched(folder, file, "damaged");
    }
}

TEST_CASE("a journal whose guards were taken away is refused untouched") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    good_journal(file);
    journal::Database(file, journal::Access::read_write).run("DROP TRIGGER entry_no_DELETE");
    check_refused_untouched(folder, file, "entry_no_DELETE");
}

TEST_CASE("check finds entries and parents that were taken out with another tool") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    good_journal(file);
    const std::string guard =
        "CREATE TRIGGER entry_no_DELETE BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'the journal is "
        "append-only: "
        "strike out instead'); END";
    {
        journal::Database tool(file, journal::Access::read_write);
        tool.run("DROP TRIGGER entry_no_DELETE");
        tool.run("DELETE FROM entry WHERE number = 5");
        tool.run(guard);
    }
    const journal::Checked checked = journal::check(file);
    REQUIRE(checked.problems.size() == 2);
    CHECK(checked.problems[0].what.find(entry(5).id.text) != std::string::npos);
    CHECK(checked.problems[1].what.find("39 entries, numbered up to 39") != std::string::npos);
    CHECK_THROWS_AS(Journal::open_existing(folder / "other"), Refused);
}

TEST_CASE(
    "a large journal opened in short is refused by header, length and schema, and a bad page by the whole "
    "look") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    {
        Journal journal = filled(file, 3);
        for (std::uint64_t note = 0; note < 20; ++note)
            journal.append(journal::Fact{
                id_of(500 + note), person.id, "note", at_minute(1), std::string(1'000'000, 'n'), {}});
    }
    const std::string good = bytes_of(file);
    const auto in_short = [&] { return Journal::open(file, journal::LookedOver::in_short); };
    CHECK(in_short().entries(drill.id).size() == 3);
    write_bytes(file, good.substr(0, good.size() - 5000));
    CHECK_THROWS_WITH_AS(in_short(), doctest::Contains("its end is missing"), Refused);
    std::string newer = good;
    newer[63] = 100;  // user version
    write_bytes(file, newer);
    CHECK_THROWS_WITH_AS(in_short(), doctest::Contains("newer"), Refused);
    std::string bad_page = good;
    bad_page.replace(4096 * 3, 4096, 4096, '\xA5');
    write_bytes(file, bad_page);
    CHECK_THROWS_AS(Journal::open(file), Refused);
    CHECK_FALSE(journal::check(file).problems.empty());
    CHECK(bytes_of(file) == bad_page);
}
