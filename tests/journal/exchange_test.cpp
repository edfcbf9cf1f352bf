#include "engine/journal/exchange.hpp"

#include "drills/demo.hpp"
#include "drills/exchange.hpp"
#include "engine/content/csv.hpp"
#include "engine/journal/copies.hpp"
#include "engine/journal/journal.hpp"
#include "tests/journal/rows.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <algorithm>

using namespace sipladder;
using namespace sipladder::tests;
using journal::Exchange;
using journal::Journal;
using journal::OnConflict;

namespace {

const journal::Person other{id_of(50), "=1+1, \"the other\"", false, at_minute(0)};

/// Rows of every kind, two people, one strike and one put-back.
Journal varied() {
    Journal journal = Journal::in_memory();
    journal.append(person);
    journal.append(other);
    journal.append(sitting);
    journal.append(drill);
    for (int number = 0; number < 3; ++number) journal.append(entry(number));
    journal.append(journal::Fact{id_of(4), person.id, "note", at_minute(1), "Zucker \xC3\xBC\n\"x\"", {}});
    journal.append(journal::Fact{id_of(51), other.id, "note", at_minute(1), "", {}});
    journal.strike_out(id_of(60), entry(1).id, "spilt", at_minute(9));
    journal.strike_out(id_of(61), id_of(4), "not so", at_minute(10));
    journal.put_back(id_of(62), id_of(4), "so after all", at_minute(11));
    return journal;
}

/// Every row of two journals, as their readers give them.
void check_same(const Journal& one, const Journal& two) {
    CHECK(one.rows() == two.rows());
    CHECK(one.people() == two.people());
    CHECK(one.last_write() == two.last_write());
    for (const journal::Person& who : one.people()) {
        CHECK(one.facts(who.id) == two.facts(who.id));
        CHECK(one.sittings(who.id) == two.sittings(who.id));
        for (const journal::Sitting& sat : one.sittings(who.id)) {
            CHECK(one.drills(sat.id) == two.drills(sat.id));
            for (const journal::Drill& drilled : one.drills(sat.id))
                CHECK(one.entries(drilled.id) == two.entries(drilled.id));
        }
    }
    std::vector<Uuid> erased[2] = {one.erased(), two.erased()};
    for (auto& ids : erased) std::ranges::sort(ids);
    CHECK(erased[0] == erased[1]);
    CHECK(journal::exchange_json(journal::contents(one)) == journal::exchange_json(journal::contents(two)));
}

Exchange through_json(const Journal& journal) {
    return journal::read_exchange_json(journal::exchange_json(journal::contents(journal)), "x.json");
}

void with_demo(Journal& journal) {
    const content::Content content = content::load(SIPLADDER_SOURCE_DIR "/content");
    const drills::Demo demo = drills::load_demo(SIPLADDER_SOURCE_DIR "/content");
    drills::demo_sitting(journal, content, demo, Seed{3});
}

}  // namespace

TEST_CASE("an export taken in by an empty journal gives the same journal row by row, and again nothing new") {
    Journal from = varied();
    from.append(journal::Person{id_of(70), "Gone", true, at_minute(0)});
    from.erase(id_of(70));
    with_demo(from);
    const Exchange exchange = through_json(from);
    CHECK(exchange == journal::contents(from));
    Journal to = Journal::in_memory();
    const journal::Merged first = journal::merge(to, exchange, OnConflict::refuse);
    CHECK(first.added.size() == from.rows());
    check_same(from, to);
    const journal::Merged second = journal::merge(to, exchange, OnConflict::refuse);
    CHECK(second.added.empty());
    CHECK(second.known == from.rows());
    check_same(from, to);
    CHECK(from.erased() == std::vector{id_of(70)});
}

TEST_CASE("one person's export holds their rows alone") {
    const Journal from = varied();
    const Exchange exchange = journal::contents(from, other.id);
    CHECK(exchange.rows.size() == 2);
    Journal to = Journal::in_memory();
    journal::merge(to, exchange, OnConflict::refuse);
    CHECK(to.people() == std::vector{other});
    CHECK(to.facts(other.id) == from.facts(other.id));
    CHECK_THROWS_AS(journal::contents(from, id_of(999)), Refused);
}

TEST_CASE(
    "two journals that went on apart are merged by union, each row once, whichever takes in the other") {
    Journal one = varied();
    Journal two = Journal::in_memory();
    journal::merge(two, journal::contents(one), OnConflict::refuse);
    one.append(entry(3));
    one.append(journal::Fact{id_of(80), person.id, "note", at_minute(30), "of one", {}});
    two.append(journal::Fact{id_of(81), person.id, "note", at_minute(31), "of two", {}});
    two.put_back(id_of(82), entry(1).id, "it was not spilt", at_minute(32));
    const Exchange of_one = journal::contents(one);
    journal::merge(one, journal::contents(two), OnConflict::refuse);
    journal::merge(two, of_one, OnConflict::refuse);
    CHECK(one.rows() == two.rows());
    CHECK(one.facts(person.id) == two.facts(person.id));
    CHECK(one.entries(drill.id) == two.entries(drill.id));
    CHECK_FALSE(one.entries(drill.id)[1].struck.has_value());
}

TEST_CASE("one id with two bodies is a conflict that is shown, and neither body is overwritten") {
    Journal ours = varied();
    Exchange theirs = journal::contents(ours);
    for (journal::ExchangeRow& row : theirs.rows)
        if (auto* one = std::get_if<journal::Entry>(&row); one != nullptr && one->number == 2)
            one->body = R"({"place":9})";
    theirs.rows.emplace_back(journal::Fact{id_of(90), person.id, "note", at_minute(40), "theirs", {}});
    const std::string before = journal::exchange_json(journal::contents(ours));
    CHECK_THROWS_WITH_AS(journal::merge(ours, theirs, OnConflict::refuse),
                         doctest::Contains(entry(2).id.text.c_str()), Refused);
    CHECK(journal::exchange_json(journal::contents(ours)) == before);
    const journal::Merged merged = journal::merge(ours, theirs, OnConflict::keep_ours);
    CHECK(merged.conflicts.size() == 1);
    CHECK(merged.left_out == 1);
    CHECK(merged.added.size() == 1);
    CHECK(ours.entries(drill.id)[2] == entry(2));
    CHECK(ours.facts(person.id).back().id == id_of(90));
}

TEST_CASE(
    "a drill that both journals went on with is a conflict, and what hangs on the other's rows stays out") {
    Journal ours = varied();
    Journal theirs = Journal::in_memory();
    journal::merge(theirs, journal::contents(ours), OnConflict::refuse);
    ours.append(entry(3));
    journal::Entry another = entry(3);
    another.id = id_of(901);
    journal::Entry after = entry(4);
    after.id = id_of(902);
    theirs.append(another);
    theirs.append(after);
    theirs.strike_out(id_of(903), after.id, "no", at_minute(50));
    const Exchange exchange = journal::contents(theirs);
    CHECK_THROWS_WITH_AS(journal::merge(ours, exchange, OnConflict::refuse),
                         doctest::Contains("went on differently"), Refused);
    const journal::Merged merged = journal::merge(ours, exchange, OnConflict::keep_ours);
    CHECK(merged.conflicts.size() == 1);
    CHECK(merged.left_out == 3);
    CHECK(ours.entries(drill.id).size() == 4);
    CHECK(ours.entries(drill.id)[3] == entry(3));
}

TEST_CASE("a row struck out there and put back here is a conflict, and ours stays") {
    Journal ours = varied();
    Journal theirs = Journal::in_memory();
    journal::merge(theirs, journal::contents(ours), OnConflict::refuse);
    ours.put_back(id_of(910), entry(1).id, "not spilt", at_minute(60));
    theirs.put_back(id_of(911), entry(1).id, "not spilt", at_minute(61));
    theirs.strike_out(id_of(912), entry(1).id, "spilt after all", at_minute(62));
    CHECK_THROWS_WITH_AS(journal::merge(ours, journal::contents(theirs), OnConflict::refuse),
                         doctest::Contains("decided otherwise"), Refused);
    journal::merge(ours, journal::contents(theirs), OnConflict::keep_ours);
    CHECK_FALSE(ours.entries(drill.id)[1].struck.has_value());
}

TEST_CASE(
    "who was erased does not come back through an import, and an erasure elsewhere erases nobody here") {
    Journal ours = varied();
    const Exchange before = journal::contents(ours);
    ours.erase(person.id);
    const journal::Merged merged = journal::merge(ours, before, OnConflict::refuse);
    CHECK(merged.of_erased == 10);
    CHECK(merged.added.empty());
    CHECK(ours.people() == std::vector{other});

    Journal elsewhere = varied();
    const journal::Merged noted = journal::merge(elsewhere, journal::contents(ours), OnConflict::refuse);
    CHECK(noted.erased_there == std::vector{person.id});
    CHECK(elsewhere.people().size() == 2);

    Journal fresh = Journal::in_memory();
    journal::merge(fresh, journal::contents(ours), OnConflict::refuse);
    CHECK(fresh.erased() == std::vector{person.id});
    CHECK_THROWS_AS(fresh.append(person), Refused);
    Exchange contradicts = before;
    contradicts.erased.push_back(person.id);
    CHECK_THROWS_AS(journal::merge(fresh, contradicts, OnConflict::refuse), Refused);
}

TEST_CASE("an import that fails anywhere leaves the journal as it was") {
    const Exchange whole = journal::contents(varied());
    for (std::size_t missing = 0; missing < whole.rows.size(); ++missing) {
        CAPTURE(missing);
        Exchange part = whole;
        part.rows.erase(part.rows.begin() + static_cast<std::ptrdiff_t>(missing));
        Journal journal = Journal::in_memory();
        try {
            journal::merge(journal, part, OnConflict::refuse);
        } catch (const Refused&) {
            CHECK(journal.rows() == 0);
            continue;
        }
        CHECK(journal.rows() == part.rows.size());  // nothing hung on the missing row
    }
    Journal journal = Journal::in_memory();
    CHECK_THROWS_AS(journal::merge(journal, whole, OnConflict::refuse,
                                   [](const journal::Merged&) { throw Refused("x", "is not wanted", "y"); }),
                    Refused);
    CHECK(journal.rows() == 0);
    CHECK_THROWS_AS(
        journal::merge(journal, whole, OnConflict::refuse,
                       [&](const journal::Merged& merged) { drills::check_bodies(journal, merged); }),
        Refused);  // these bodies are no drill's
    CHECK(journal.rows() == 0);
}

TEST_CASE("an exchange file that is not as documented is refused, naming the place") {
    const std::string good = journal::exchange_json(journal::contents(varied()));
    const auto refused = [&](const std::string& from, const std::string& to, const std::string& said) {
        CAPTURE(to);
        std::string text = good;
        const auto at = text.find(from);
        REQUIRE(at != std::string::npos);
        text.replace(at, from.size(), to);
        CHECK_THROWS_WITH_AS(journal::read_exchange_json(text, "x.json"), doctest::Contains(said.c_str()),
                             Refused);
    };
    refused("sipladder-exchange/1", "sipladder-exchange/2", "later one");
    refused("\"erased\":[]", "\"erased\":[\"me\"]", "/erased/0");
    refused("\"number\":0", "\"number\":-1", "/rows/4/number");
    refused("\"number\":0", "\"number\":0,\"number\":0", "given twice");
    refused("\"number\":0", "\"number\":1e999", "too large");
    refused("\"number\":0", "\"number\":NaN", "no JSON");
    refused("\"row\":\"drill\"", "\"row\":\"drills\"", "/rows/3/row");
    refused("\"utc_ms\":1772391900000", "\"utc_ms\":9223372036854775807", "/rows/0/at/utc_ms");
    refused(person.id.text, "BABF27C8-3b94-40f8-be99-cf07cc29d123", "UUID");
    refused(person.name, "A\\u0000B", "NUL");
    refused(person.name, "\xC3\x28", "no JSON");
    refused("\"invented\":true", "\"invented\":true,\"note\":1", "unknown field");
    refused(other.id.text, person.id.text, "given twice");
    refused("{\"schema\"", "[{\"schema\"", "no JSON");
    CHECK_THROWS_AS(journal::read_exchange_json(std::string(100'000, '['), "x.json"), Refused);
    CHECK_THROWS_AS(journal::read_exchange_json("", "x.json"), Refused);
}

TEST_CASE("the table has one row an answer that counts, and the cells of RFC 4180") {
    Journal journal = Journal::in_memory();
    with_demo(journal);
    const content::Table table = content::read_csv(drills::answers_csv(journal), "answers.csv");
    const Uuid who = journal.people().front().id;
    const Uuid drilled = journal.drills(journal.sittings(who).front().id).front().id;
    std::size_t locks = 0;
    Uuid last_lock;
    for (const journal::Entry& one : journal.entries(drilled))
        if (one.kind == "lock") {
            ++locks;
            last_lock = one.id;
        }
    CHECK(table.rows.size() == locks);
    for (const content::Table::Row& row : table.rows) {
        CHECK(row.cells.at(*table.column("drill_id")) == drilled.text);
        CHECK(row.cells.at(*table.column("concentration_pct_vol")).empty());
        CHECK_FALSE(row.cells.at(*table.column("concentration_g_per_L")).empty());
    }
    journal.strike_out(id_of(60), last_lock, "spilt", at_minute(9));
    CHECK(content::read_csv(drills::answers_csv(journal), "answers.csv").rows.size() == locks - 1);
    CHECK(drills::answers_csv(journal, id_of(999)) == drills::answers_csv(Journal::in_memory()));
}

TEST_CASE("a cell that a spreadsheet would run as a formula begins with an apostrophe") {
    for (const std::string text : {"=1+1", "+1", "-1", "@sum", "\tx", "\rx", "=HYPERLINK(\"x\",\"y\")"})
        CHECK(drills::harmless_cell(text).find('\'') <= 1);
    CHECK(drills::harmless_cell("=a,\"b\"") == "\"'=a,\"\"b\"\"\"");
    CHECK(drills::harmless_cell("a=b") == "a=b");
    CHECK(drills::harmless_cell("") == "");
}

TEST_CASE("a daily copy opens, is readable by its owner only, and older ones are pruned by the rule") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    const Journal journal = filled(file, 3);
    const std::int64_t day = 86'400'000;
    const auto copied = [&](int days) {
        Instant at = at_minute(0);
        at.utc_ms += days * day;
        return journal::copy_daily(journal, at);
    };
    const journal::DailyCopy first = copied(0);
    CHECK(first.is_new);
    CHECK_FALSE(copied(0).is_new);
    struct stat status {};
    REQUIRE(::stat(first.file.c_str(), &status) == 0);
    CHECK((status.st_mode & 0777) == 0600);
    REQUIRE(::stat(journal::copies_folder(file).c_str(), &status) == 0);
    CHECK((status.st_mode & 0777) == 0700);
    check_same(Journal::open_existing(first.file), journal);
    write_bytes(journal::copies_folder(file) / "notes.txt", "mine");
    // A year and a half, a copy every tenth day: seven newest, and the newest of twelve months before them.
    for (int days = 10; days < 550; days += 10) copied(days);
    CHECK(journal::daily_copies(file).size() == journal::days_kept + journal::months_kept);
    CHECK(std::filesystem::exists(journal::copies_folder(file) / "notes.txt"));
    CHECK_THROWS_AS(journal::back_up(journal, first.file.parent_path() / "notes.txt"), Refused);
}

TEST_CASE("a copy in memory has the same rows, and what is written to it goes no further") {
    const TemporaryFolder folder;
    const Journal journal = filled(folder / "a.journal", 3);
    const std::size_t rows = journal.rows();
    Journal copy = journal::in_memory_copy(journal);
    check_same(copy, journal);
    copy.append(entry(3));
    CHECK(copy.rows() == rows + 1);
    CHECK(journal.rows() == rows);
    check_same(journal::in_memory_copy(copy), copy);  // of one in memory too
}

TEST_CASE("a damaged journal is set aside and the newest good copy put in its place") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    std::optional<Journal> journal = filled(file, 3);
    CHECK_THROWS_AS(journal::restore(file, at_minute(0)), Refused);  // it is whole
    journal::copy_daily(*journal, at_minute(0));
    const auto later = journal::copy_daily(*journal, at_minute(60 * 24 * 3)).file;
    journal->append(entry(3));
    journal.reset();
    std::string broken = bytes_of(file);
    std::fill(broken.begin() + 4096, broken.begin() + 8192, '\xA5');
    write_bytes(file, broken);
    write_bytes(later, "no copy any more");
    const journal::Restored restored = journal::restore(file, at_minute(60 * 24 * 4));
    REQUIRE(restored.from.has_value());
    CHECK(*restored.from != later);
    CHECK(bytes_of(restored.set_aside) == broken);
    CHECK(Journal::open_existing(file).entries(drill.id).size() == 3);
    std::filesystem::remove(file);
    CHECK(journal::restore(file, at_minute(60 * 24 * 5)).set_aside.empty());
    CHECK(Journal::open_existing(file).entries(drill.id).size() == 3);
    std::filesystem::remove_all(journal::copies_folder(file));
    write_bytes(file, broken);
    CHECK_FALSE(journal::restore(file, at_minute(0)).from.has_value());
    CHECK(bytes_of(file) == broken);
}

TEST_CASE("erasing a person reaches the daily copies, byte by byte, and tells which it could not open") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    Journal journal = filled(file, 3);
    const auto before = journal::copy_daily(journal, at_minute(0)).file;
    journal.append(other);
    const auto with_both = journal::copy_daily(journal, at_minute(60 * 24 * 3)).file;
    const auto damaged = journal::copy_daily(journal, at_minute(60 * 24 * 6)).file;
    write_bytes(damaged, "no copy any more");
    write_bytes(file.string() + ".damaged-1", "set aside");
    CHECK_THROWS_AS(journal::erase_everywhere(journal, id_of(999)), Refused);
    const journal::Erased erased = journal::erase_everywhere(journal, person.id);
    CHECK(erased.rows == 6);
    CHECK(erased.copies == 2);
    CHECK(erased.unreached.size() == 2);
    for (const auto& one : {file, before, with_both}) {
        CAPTURE(one.string());
        const std::string bytes = bytes_of(one);
        for (const std::string& gone : {person.name, sitting.body, entry(2).id.text})
            CHECK(bytes.find(gone) == std::string::npos);
        CHECK(journal::check(one).problems.empty());
    }
    CHECK(Journal::open_existing(with_both).people() == std::vector{other});
}
