#include "engine/journal/journal.hpp"

#include "engine/journal/database.hpp"
#include "tests/journal/rows.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

using namespace sipladder;
using namespace sipladder::tests;
using journal::Journal;

TEST_CASE("what was appended is there, to the last field, when the journal is opened again") {
    const TemporaryFolder folder;
    const journal::Fact mix{id_of(4), person.id, "mix", at_minute(1), R"({"schema":"x"})", {}};
    {
        Journal journal = filled(folder / "a.journal", 3);
        journal.append(mix);
    }
    const Journal again = Journal::open_existing(folder / "a.journal");
    CHECK(again.people() == std::vector{person});
    CHECK(again.facts(person.id) == std::vector{mix});
    CHECK(again.sittings(person.id) == std::vector{sitting});
    CHECK(again.drills(sitting.id) == std::vector{drill});
    CHECK(again.entries(drill.id) == std::vector{entry(0), entry(1), entry(2)});
    CHECK(again.rows() == 7);
    CHECK(again.last_write() == mix.at);
    CHECK(journal::check(folder / "a.journal").problems.empty());
    CHECK(journal::check(folder / "a.journal").rows == 7);
}

TEST_CASE("facts of some kinds are those of the person alone, oldest first, struck out ones too") {
    Journal journal = Journal::in_memory();
    const journal::Person other{id_of(50), "Another of these tests", true, at_minute(0)};
    journal.append(person);
    journal.append(other);
    const auto fact = [&](std::uint64_t id, const Uuid& whose, const char* kind, std::int64_t minute) {
        journal.append(journal::Fact{id_of(id), whose, kind, at_minute(minute), "{}", {}});
    };
    fact(60, person.id, "goal", 9);
    fact(61, person.id, "mix", 2);
    fact(62, other.id, "goal", 1);
    fact(63, person.id, "note", 3);
    fact(64, person.id, "goal", 1);
    journal.strike_out(id_of(70), id_of(60), "mistyped", at_minute(10));
    const auto ids = [&](const std::vector<std::string>& kinds) {
        std::vector<Uuid> found;
        for (const journal::Fact& one : journal.facts(person.id, kinds)) found.push_back(one.id);
        return found;
    };
    CHECK(ids({"goal"}) == std::vector{id_of(64), id_of(60)});
    CHECK(ids({"goal", "note"}) == std::vector{id_of(64), id_of(63), id_of(60)});
    CHECK(journal.facts(person.id, {"goal"}).back().struck.has_value());
    CHECK(ids({"nothing"}).empty());
    CHECK(journal.newest() == at_minute(10));
}

TEST_CASE("a line of a drill tells what its rows tell, and a line of a fact too") {
    Journal journal = Journal::in_memory();
    journal.append(person);
    journal.append(sitting);
    journal.append(drill);
    CHECK(journal.drill_lines(person.id).front().last == drill.started);
    CHECK(journal.drill_lines(person.id).front().entries == 0);
    journal.append(entry(0));
    journal.append(entry(1));
    const journal::DrillLine line = journal.drill_lines(person.id).front();
    CHECK(line.id == drill.id);
    CHECK(line.sitting == sitting.id);
    CHECK(line.kind == drill.kind);
    CHECK(line.entries == 2);
    CHECK(line.last_kind == entry(1).kind);
    CHECK(line.last == entry(1).at);
    CHECK_FALSE(line.is_mended);
    CHECK(journal.drill(drill.id) == drill);
    CHECK_FALSE(journal.drill(sitting.id));
    journal.strike_out(id_of(60), entry(0).id, "spilt", at_minute(9));
    journal.put_back(id_of(61), entry(0).id, "it was not", at_minute(10));
    CHECK(journal.drill_lines(person.id).front().is_mended);
    journal.strike_out(id_of(62), sitting.id, "a cold", at_minute(11));
    CHECK(journal.drill_lines(person.id).front().sitting_is_struck);
    CHECK(journal.drill_lines(id_of(99)).empty());
    const journal::Fact mix{id_of(4), person.id, "mix", at_minute(1), R"({"schema":"x"})", {}};
    journal.append(mix);
    CHECK(journal.fact_lines(person.id).front().kind == "mix");
    CHECK(journal.fact_lines(person.id).front().at == mix.at);
    CHECK(journal.fact(mix.id) == mix);
}

TEST_CASE("an empty journal has no last write") {
    const Journal journal = Journal::in_memory();
    CHECK_FALSE(journal.last_write().has_value());
    CHECK(journal.rows() == 0);
}

TEST_CASE("sittings come oldest first, whatever the order they were written in") {
    Journal journal = Journal::in_memory();
    journal.append(person);
    journal::Sitting later = sitting;
    later.id = id_of(9);
    later.started = at_minute(500);
    journal.append(later);
    journal.append(sitting);
    CHECK(journal.sittings(person.id) == std::vector{sitting, later});
}

TEST_CASE("the same row again is no new row, and the same id with another body is refused") {
    Journal journal = Journal::in_memory();
    journal.append(person);
    journal.append(sitting);
    journal.append(drill);
    journal.append(entry(0));
    journal.append(entry(0));
    CHECK(journal.rows() == 4);
    journal::Entry other = entry(0);
    other.body = "{}";
    CHECK_THROWS_AS(journal.append(other), Refused);
    journal::Person renamed = person;
    renamed.name = "Another";
    CHECK_THROWS_AS(journal.append(renamed), Refused);
    journal::Sitting same_id = sitting;
    same_id.id = drill.id;
    CHECK_THROWS_AS(journal.append(same_id), Refused);
    CHECK(journal.entries(drill.id) == std::vector{entry(0)});
    CHECK(journal.rows() == 4);
}

TEST_CASE("entries are numbered without a gap, and rows belong to what is there") {
    Journal journal = Journal::in_memory();
    journal.append(person);
    CHECK_THROWS_AS(journal.append(drill), Refused);
    journal.append(sitting);
    journal.append(drill);
    CHECK_THROWS_AS(journal.append(entry(1)), Refused);
    journal.append(entry(0));
    journal.append(entry(1));
    journal::Entry twice = entry(2);
    twice.number = 1;
    CHECK_THROWS_AS(journal.append(twice), Refused);
    journal::Person bad_id = person;
    bad_id.id = Uuid{"7"};
    CHECK_THROWS_AS(journal.append(bad_id), Refused);
    CHECK(journal.rows() == 5);
}

TEST_CASE("a struck row stays with its reason, and can be put back and struck again") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    {
        Journal journal = filled(file, 2);
        journal.strike_out(id_of(50), entry(1).id, "wrong cup poured", at_minute(20));
    }
    Journal journal = Journal::open(file);
    const auto struck = journal.entries(drill.id);
    CHECK_FALSE(struck[0].struck.has_value());
    CHECK(struck[1].struck == journal::Struck{"wrong cup poured", at_minute(20)});
    CHECK(struck[1].body == entry(1).body);
    CHECK_THROWS_AS(journal.strike_out(id_of(51), entry(1).id, "again", at_minute(21)), Refused);
    journal.strike_out(id_of(50), entry(1).id, "wrong cup poured", at_minute(20));  // the same row: no-op
    CHECK(journal.rows() == 6);

    journal.put_back(id_of(52), entry(1).id, "it was the right one", at_minute(22));
    CHECK_FALSE(journal.entries(drill.id)[1].struck.has_value());
    CHECK_THROWS_AS(journal.put_back(id_of(53), entry(1).id, "again", at_minute(23)), Refused);
    journal.strike_out(id_of(54), entry(1).id, "no, wrong after all", at_minute(24));
    CHECK(journal.entries(drill.id)[1].struck->reason == "no, wrong after all");
    CHECK(journal.rows() == 8);
}

TEST_CASE("a strike-out needs a reason and a row that can be struck") {
    Journal journal = Journal::in_memory();
    journal.append(person);
    journal.append(sitting);
    CHECK_THROWS_AS(journal.strike_out(id_of(50), sitting.id, "", at_minute(1)), Refused);
    CHECK_THROWS_AS(journal.strike_out(id_of(50), id_of(77), "why", at_minute(1)), Refused);
    CHECK_THROWS_AS(journal.strike_out(id_of(50), person.id, "why", at_minute(1)), Refused);
    CHECK_THROWS_AS(journal.strike_out(sitting.id, sitting.id, "why", at_minute(1)), Refused);
    CHECK(journal.rows() == 2);
    journal.strike_out(id_of(50), sitting.id, "a cold", at_minute(1));
    CHECK(journal.sittings(person.id)[0].struck->reason == "a cold");
}

TEST_CASE("appends that belong together are all there or none") {
    Journal journal = Journal::in_memory();
    CHECK_THROWS_AS(journal.together([&] {
        journal.append(person);
        journal.append(drill);  // its sitting is missing
    }),
                    Refused);
    CHECK(journal.rows() == 0);
    journal.append(person);
    CHECK(journal.rows() == 1);
}

TEST_CASE("no row can be changed or deleted, not even past the program") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    {
        Journal journal = filled(file, 1);
        journal.strike_out(id_of(50), entry(0).id, "spilt", at_minute(20));
    }
    journal::Database database(file, journal::Access::read_write);
    for (const std::string table : {"row", "person", "fact", "sitting", "drill", "entry", "strike"}) {
        CAPTURE(table);
        if (table == "fact") continue;  // no row to try it on
        CHECK_THROWS_WITH(database.run("UPDATE " + table + " SET id = id"), doctest::Contains("append-only"));
        CHECK_THROWS_WITH(database.run("DELETE FROM " + table), doctest::Contains("append-only"));
    }
    CHECK_THROWS(database.run("INSERT OR REPLACE INTO person VALUES ('" + person.id.text + "', 'x', 0)"));
    CHECK(Journal::open(file).people() == std::vector{person});
}

TEST_CASE("a journal is readable by its owner only") {
    const TemporaryFolder folder;
    Journal::open(folder / "a.journal");
    struct stat status {};
    REQUIRE(::stat((folder / "a.journal").c_str(), &status) == 0);
    CHECK((status.st_mode & 0777) == 0600);
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path()), {}) ==
          1);  // no draft stays behind
}

TEST_CASE("a journal that is not there is refused by open_existing and nothing is made") {
    const TemporaryFolder folder;
    CHECK_THROWS_AS(Journal::open_existing(folder / "none.journal"), Refused);
    CHECK_FALSE(std::filesystem::exists(folder / "none.journal"));
    CHECK_THROWS_AS(Journal::open(folder / "no_such_folder" / "a.journal"), Failed);
    CHECK_THROWS_AS(Journal::open(folder.path()), Refused);
}

TEST_CASE("without permission to write, opening fails and says so" * doctest::skip(::geteuid() == 0)) {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    filled(file, 1);
    std::filesystem::permissions(file, std::filesystem::perms::owner_read);
    CHECK_THROWS_WITH_AS(Journal::open(file), doctest::Contains("permission"), Failed);
    CHECK(journal::check(file).problems.empty());  // reading is enough to check
}

TEST_CASE("who is erased leaves no row and no byte in the file, but a mark that refuses them") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    const journal::Person other{id_of(50), "Somebody else", true, at_minute(0)};
    const journal::Fact kept{id_of(51), other.id, "note", at_minute(1), "of somebody else", {}};
    {
        Journal journal = filled(file, 3);
        journal.append(journal::Fact{id_of(4), person.id, "note", at_minute(1), "a cold that day", {}});
        journal.strike_out(id_of(60), entry(1).id, "spilled the cup", at_minute(9));
        journal.append(other);
        journal.append(kept);
        CHECK(journal.erase(person.id) == 8);
        CHECK(journal.people() == std::vector{other});
        CHECK(journal.sittings(person.id).empty());
        CHECK(journal.entries(drill.id).empty());
        CHECK(journal.facts(other.id) == std::vector{kept});
        CHECK(journal.rows() == 2);
        CHECK(journal.erased() == std::vector{person.id});
        CHECK_THROWS_AS(journal.append(person), Refused);
        CHECK_THROWS_AS(journal.append(sitting), Refused);
        CHECK_THROWS_AS(journal.erase(person.id), Refused);
    }
    const std::string bytes = bytes_of(file);
    for (const std::string& text : {person.name, sitting.body, std::string("a cold that day"),
                                    std::string("spilled the cup"), entry(2).id.text})
        CHECK(bytes.find(text) == std::string::npos);
    CHECK(bytes.find(kept.body) != std::string::npos);
    CHECK(journal::check(file).problems.empty());
}

TEST_CASE("after somebody was erased the record is append-only as before") {
    const TemporaryFolder folder;
    filled(folder / "a.journal", 3).append(journal::Person{id_of(50), "Somebody else", true, at_minute(0)});
    Journal::open_existing(folder / "a.journal").erase(id_of(50));
    journal::Database database(folder / "a.journal", journal::Access::read_write);
    CHECK_THROWS_AS(database.run("DELETE FROM entry"), Failed);
    CHECK_THROWS_AS(database.run("DELETE FROM erased"), Failed);
    CHECK_THROWS_AS(database.run("UPDATE person SET name = ''"), Failed);
}
