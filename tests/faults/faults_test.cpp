// Every kind of transaction meets a fault at each of its operations in turn. Afterwards the journal is what
// it was before or what it was to become, nothing between, and the latter if the call came back.
// SIPLADDER_LONG=1 strikes in every way at each place, and cuts the power in twenty
// ways in place of one.

#include "drills/exchange.hpp"
#include "engine/journal/copies.hpp"
#include "engine/journal/database.hpp"
#include "engine/journal/exchange.hpp"
#include "engine/journal/journal.hpp"
#include "tests/faults/faulty_disk.hpp"
#include "tests/journal/rows.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using journal::Journal;

namespace {

namespace fs = std::filesystem;

/// One kind of transaction, on the journal of `filled` with three answers.
struct Transaction {
    std::string name;
    std::function<void(Journal&)> run;
    bool may_repeat = true;  ///< once it is done, again is no error
};

const journal::Person newcomer{id_of(50), "Somebody else", true, at_minute(0)};

journal::Exchange of_another_journal() {
    Journal other = Journal::in_memory();
    other.append(newcomer);
    for (std::uint64_t note = 0; note < 5; ++note)
        other.append(
            journal::Fact{id_of(500 + note), newcomer.id, "note", at_minute(1), std::string(3000, 'n'), {}});
    return journal::contents(other);
}

std::vector<Transaction> every_transaction() {
    const journal::Fact note{id_of(4), person.id, "note", at_minute(1), std::string(9000, 'x'), {}};
    const journal::Exchange exchange = of_another_journal();
    return {{"an answer", [](Journal& journal) { journal.append(entry(3)); }},
            {"a long note", [note](Journal& journal) { journal.append(note); }},
            {"rows together",
             [note](Journal& journal) {
                 journal.together([&] {
                     journal.append(newcomer);
                     journal.append(entry(3));
                     journal.append(entry(4));
                 });
             }},
            {"a strike",
             [](Journal& journal) { journal.strike_out(id_of(60), entry(1).id, "spilt", at_minute(9)); }},
            {"an erasure", [](Journal& journal) { journal.erase(person.id); }, false},
            {"an import", [exchange](Journal& journal) {
                 journal::merge(journal, exchange, journal::OnConflict::refuse);
             }}};
}

std::string rows_of(const fs::path& file) {
    return journal::exchange_json(journal::contents(Journal::open_existing(file)));
}

bool is_long() {
    return std::getenv("SIPLADDER_LONG") != nullptr;
}

/// The journal that every fault begins from, and what it becomes.
class Bench {
  public:
    explicit Bench(const Transaction& transaction) : transaction_(transaction) {
        filled(file_, 3);
        bytes_ = bytes_of(file_);
        before_ = rows_of(file_);
        {
            Journal journal = Journal::open_existing(file_);
            disk_.arm(Fault::none, 0);
            transaction_.run(journal);
            operations_ = disk_.operations();
        }
        after_ = rows_of(file_);
        REQUIRE(after_ != before_);
        REQUIRE(operations_ > 4);
    }

    std::size_t operations() const { return operations_; }

    /// A fault at one operation; the program stays open, tries again, and is opened again.
    void strike(Fault fault, std::size_t number, bool for_good) {
        begin();
        {
            Journal journal = Journal::open_existing(file_);
            disk_.arm(fault, number, for_good);
            const bool came_back = attempt(journal);
            if (came_back) CHECK(disk_.strikes() == 0);
            injected += disk_.strikes();
            disk_.disarm();
            if (transaction_.may_repeat || rows_of(file_) == before_)
                transaction_.run(journal);  // the person tries again
            CHECK(journal::exchange_json(journal::contents(journal)) == after_);
        }
        CHECK(rows_of(file_) == after_);
        CHECK(journal::check(file_).problems.empty());
    }

    /// The power goes at one operation.
    void cut(std::size_t number, Random& chance) {
        begin();
        disk_.forget();
        bool came_back = false;
        {
            Journal journal = Journal::open_existing(file_);
            disk_.arm(Fault::power_cut, number);
            came_back = attempt(journal);
            if (disk_.strikes() > 0) ++injected;
        }
        disk_.disarm();
        disk_.lose_power(chance);
        const std::string rows = rows_of(file_);
        CHECK((rows == after_ || (!came_back && rows == before_)));
        CHECK(journal::check(file_).problems.empty());
    }

    /// A write that the disk says it stored, and did not: no program can help that, but it must be found out
    /// or do no harm.
    void lose(Fault fault, std::size_t number) {
        begin();
        {
            Journal journal = Journal::open_existing(file_);
            disk_.arm(fault, number);
            attempt(journal);
            injected += disk_.strikes();
            disk_.disarm();
        }
        if (!journal::check(file_).problems.empty()) {
            ++found_out;
            return;
        }
        CHECK(rows_of(file_) == after_);
    }

    std::size_t injected = 0;
    std::size_t found_out = 0;

  private:
    void begin() {
        fs::remove(file_.string() + "-journal");
        write_bytes(file_, bytes_);
    }
    bool attempt(Journal& journal) {
        try {
            transaction_.run(journal);
            return true;
        } catch (const Failed&) {
            return false;
        } catch (const Refused&) {  // a lost write may look like damage at once
            return false;
        }
    }

    FaultyDisk disk_;
    TemporaryFolder folder_;
    fs::path file_ = folder_ / "a.journal";
    const Transaction& transaction_;
    std::string bytes_;
    std::string before_;
    std::string after_;
    std::size_t operations_ = 0;
};

}  // namespace

TEST_CASE("a failed, short or refused write leaves a journal as it was, and it works on once the disk does") {
    std::size_t injected = 0;
    for (const Transaction& transaction : every_transaction()) {
        CAPTURE(transaction.name);
        Bench bench(transaction);
        for (std::size_t number = 0; number < bench.operations(); ++number) {
            CAPTURE(number);
            std::size_t way = number;
            for (const Fault fault : {Fault::error, Fault::full, Fault::half})
                for (const bool for_good : {false, true}) {
                    if (!is_long() && way++ % 6 != 0) continue;  // one of the six ways at each operation
                    CAPTURE(for_good);
                    bench.strike(fault, number, for_good);
                }
        }
        injected += bench.injected;
    }
    MESSAGE("faults injected: " << injected << ", each journal whole or as before");
    CHECK(injected > 200);
}

TEST_CASE("a power cut at any operation of any transaction leaves it whole or undone") {
    std::size_t injected = 0;
    const int ways = is_long() ? 20 : 1;
    for (const Transaction& transaction : every_transaction()) {
        CAPTURE(transaction.name);
        Bench bench(transaction);
        for (int way = 0; way < ways; ++way)
            for (std::size_t number = 0; number <= bench.operations(); ++number) {
                CAPTURE(number);
                CAPTURE(way);
                Random chance{Seed{1000 * static_cast<std::uint64_t>(way) + number}};
                bench.cut(number, chance);
            }
        injected += bench.injected;
    }
    MESSAGE("power cuts: " << injected << ", each journal whole or as before");
    CHECK(injected > 100);
}

TEST_CASE("no answer that was acknowledged is lost in a power cut at any moment of a sitting") {
    FaultyDisk disk;
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    filled(file, 0);
    const std::string empty = bytes_of(file);
    constexpr int answers = 5;
    std::size_t cuts = 0;
    std::size_t acknowledged = 0;
    std::size_t lost = 0;
    const std::size_t step = is_long() ? 1 : 3;
    for (std::size_t number = 0;; number += step) {
        CAPTURE(number);
        fs::remove(file.string() + "-journal");
        write_bytes(file, empty);
        disk.forget();
        std::size_t told = 0;
        {
            Journal journal = Journal::open_existing(file);
            disk.arm(Fault::power_cut, number);
            try {
                for (; told < answers; ++told) journal.append(entry(static_cast<int>(told)));
            } catch (const Failed&) {  // the power is gone
            }
        }
        disk.disarm();
        Random chance{Seed{number}};
        disk.lose_power(chance);
        const auto entries = Journal::open_existing(file).entries(drill.id);
        acknowledged += told;
        lost += told > entries.size() ? told - entries.size() : 0;
        CHECK(entries.size() <= told + 1);
        for (std::size_t i = 0; i < entries.size(); ++i) CHECK(entries[i] == entry(static_cast<int>(i)));
        if (told == answers) break;
        ++cuts;
    }
    MESSAGE("power cuts: " << cuts << ", answers acknowledged: " << acknowledged
                           << ", answers lost: " << lost);
    CHECK(lost == 0);
    CHECK(acknowledged > 20);
}

TEST_CASE("a write or sync that the disk only says it did does no harm or is found out by the check") {
    std::size_t injected = 0;
    std::size_t found_out = 0;
    for (const Transaction& transaction : every_transaction()) {
        CAPTURE(transaction.name);
        Bench bench(transaction);
        for (std::size_t number = 0; number < bench.operations(); ++number) {
            CAPTURE(number);
            bench.lose(Fault::lost_write, number);
            if (is_long()) bench.lose(Fault::lost_sync, number);  // tells only where the power goes too
        }
        injected += bench.injected;
        found_out += bench.found_out;
    }
    MESSAGE("lies of the disk: " << injected << ", found out: " << found_out << ", the rest harmless");
    CHECK(found_out > 10);
}

TEST_CASE("a migration that fails or loses power leaves the old file or the new one, with every row") {
    FaultyDisk disk;
    const TemporaryFolder folder;
    const auto file = folder / "old.journal";
    write_bytes(file, "");
    journal::Database(file, journal::Access::read_write)
        .run(bytes_of(SIPLADDER_SOURCE_DIR "/tests/journal/version_1.sql"));
    const std::string old = bytes_of(file);
    disk.arm(Fault::none, 0);
    Journal::open_existing(file);
    const std::size_t operations = disk.operations();
    REQUIRE(operations > 4);
    std::size_t injected = 0;
    for (std::size_t number = 0; number < operations; ++number)
        for (const Fault fault : {Fault::error, Fault::full, Fault::half, Fault::power_cut}) {
            CAPTURE(number);
            fs::remove(file.string() + "-journal");
            write_bytes(file, old);
            disk.forget();
            disk.arm(fault, number);
            CHECK_THROWS_AS(Journal::open_existing(file), Failed);
            if (disk.strikes() > 0) ++injected;
            disk.disarm();
            Random chance{Seed{number}};
            if (fault == Fault::power_cut) disk.lose_power(chance);
            const Journal opened = Journal::open_existing(file);
            CHECK(opened.entries(drill.id) == std::vector{entry(0), entry(1), entry(2)});
            CHECK(journal::check(file).problems.empty());
        }
    MESSAGE("faults injected: " << injected << ", each journal whole or as before");
    CHECK(injected == 4 * operations);
}

TEST_CASE("a new journal, a backup and a restoration come to be whole or not at all") {
    FaultyDisk disk;
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    const auto made = folder / "made.journal";
    const Journal journal = filled(file, 3);
    const std::string rows = rows_of(file);
    journal::copy_daily(journal, at_minute(0));
    const std::vector<std::function<void()>> ways{
        [&] { Journal::open(made); }, [&] { journal::back_up(journal, made); },
        [&] {
            fs::create_directory(journal::copies_folder(made));
            fs::copy_file(journal::daily_copies(file).front(),
                          journal::copies_folder(made) / "2026-03-01.sipladder");
            journal::restore(made, at_minute(0));
        }};
    std::size_t injected = 0;
    for (std::size_t way = 0; way < ways.size(); ++way)
        for (std::size_t number = 0;; ++number) {
            CAPTURE(way);
            CAPTURE(number);
            fs::remove(made);
            fs::remove_all(journal::copies_folder(made));
            disk.arm(number % 2 == 0 ? Fault::full : Fault::half, number);
            bool is_done = true;
            try {
                ways[way]();
            } catch (const Failed&) {
                is_done = false;
            } catch (const Refused&) {
                is_done = false;
            }
            const bool was_struck = disk.strikes() > 0;
            disk.disarm();
            if (was_struck) ++injected;
            CHECK(fs::exists(made) == is_done);
            if (is_done) CHECK(journal::check(made).problems.empty());
            for (const auto& left : fs::directory_iterator(folder.path()))  // no draft stays behind
                CHECK(left.path().filename().string().find(".part-") == std::string::npos);
            CHECK(rows_of(file) == rows);
            if (!was_struck) break;
            REQUIRE(number < 1000);
        }
    MESSAGE("faults injected: " << injected);
    CHECK(std::distance(fs::directory_iterator(folder.path()), {}) == 4);  // two journals, their copies
}
