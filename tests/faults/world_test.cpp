// What a kitchen laptop does to a program: it is killed, two of it run, its file is moved away, the disk
// fills up, the clock is set back. SIPLADDER_LONG=1 kills 320 times in place of 16.

#include "drills/demo.hpp"
#include "drills/drill.hpp"
#include "drills/record.hpp"
#include "engine/journal/copies.hpp"
#include "engine/journal/journal.hpp"
#include "tests/journal/rows.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <poll.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <thread>

using namespace sipladder;
using namespace sipladder::tests;
using journal::Journal;

namespace {

namespace fs = std::filesystem;

const drills::Plan& plan_alone() {
    static const drills::Plan plan = [] {
        const content::Content content = content::load(SIPLADDER_SOURCE_DIR "/content");
        drills::Plan made =
            drills::demo_sitting(content, drills::load_demo(SIPLADDER_SOURCE_DIR "/content"), Seed{1})
                .state.plan;
        made.blinding = drills::Blinding::shuffled_tray;
        return made;
    }();
    return plan;
}

/// A child of its own, its end of a pipe, and what came through it.
class Child {
  public:
    explicit Child(const std::function<void(int report)>& run) {
        std::array<int, 2> ends{};
        REQUIRE(::pipe(ends.data()) == 0);
        process_ = ::fork();
        if (process_ == 0) {
            ::close(ends[0]);
            int code = 0;
            try {
                run(ends[1]);
            } catch (const Failed&) {
                code = 1;
            } catch (...) {  // a child of a test: the parent sees the code
                code = 2;
            }
            ::_exit(code);
        }
        ::close(ends[1]);
        report_ = ends[0];
    }
    /// Until it has reported something, at most ten seconds.
    void wait_for_a_report() const {
        pollfd ready{report_, POLLIN, 0};
        ::poll(&ready, 1, 10'000);
    }
    void kill() const { ::kill(process_, SIGKILL); }
    /// Waits for its end. @return its exit code, -1 where it was killed
    int end() {
        int status = 0;
        std::array<char, 256> buffer{};
        for (ssize_t got = 0; (got = ::read(report_, buffer.data(), buffer.size())) > 0;)
            reported.append(buffer.data(), static_cast<std::size_t>(got));
        ::waitpid(process_, &status, 0);
        ::close(report_);
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }

    std::string reported;

  private:
    pid_t process_ = 0;
    int report_ = -1;
};

void say(int report, char what) {
    if (::write(report, &what, 1) != 1) ::_exit(3);
}

/// The newest drill goes on to its end: answers and reveals, each reported once it is written.
void taste_to_the_end(const fs::path& file, std::uint64_t run, bool waits_after_a_lock, int report) {
    Journal journal = Journal::open(file);
    Random ids{Seed{1'000'000 + run}};
    const journal::Drill row = journal.drills(sitting.id).back();
    drills::State state = drills::record::read(row, journal.entries(row.id));
    for (;;) {
        const drills::Step step = drills::next_after_rest(state);
        const bool reveals = std::holds_alternative<drills::Reveal>(step);
        if (std::holds_alternative<drills::Finished>(step)) return;
        drills::State after = reveals
                                  ? drills::reveal(state, 1, at_minute(9))
                                  : drills::lock(state, {.choice = 0, .certainty = {}, .at = at_minute(8)});
        const auto rows = drills::record::entries_between(
            state, after, row.id, static_cast<int>(journal.entries(row.id).size()), at_minute(9), ids);
        journal.together([&] {
            for (const journal::Entry& entry : rows) journal.append(entry);
        });
        state = std::move(after);
        say(report, reveals ? 'R' : 'L');
        if (waits_after_a_lock && !reveals) ::pause();
    }
}

std::size_t lost_of(std::size_t acknowledged, std::size_t there) {
    return acknowledged > there ? acknowledged - there : 0;
}

std::size_t count_of(const std::vector<journal::Entry>& entries, const std::string& kind) {
    return static_cast<std::size_t>(
        std::ranges::count_if(entries, [&](const journal::Entry& entry) { return entry.kind == kind; }));
}

void begin_drill(Journal& journal, std::uint64_t number) {
    journal.append(journal::Drill{id_of(70'000 + number),
                                  sitting.id,
                                  "detection",
                                  at_minute(static_cast<std::int64_t>(number)),
                                  drills::record::body_of(plan_alone(), Seed{number}),
                                  {}});
}

}  // namespace

TEST_CASE(
    "a program killed at any moment of a drill keeps every answer, and asks again only for what it lacks") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    {
        Journal journal = Journal::open(file);
        journal.append(person);
        journal.append(sitting);
        begin_drill(journal, 0);
    }
    const int kills = std::getenv("SIPLADDER_LONG") != nullptr ? 320 : 16;
    Random random{Seed{2027}};
    std::size_t acknowledged = 0;
    std::size_t lost = 0;
    std::size_t between = 0;  // a lock and its reveal
    for (int kill = 0; kill < kills; ++kill) {
        CAPTURE(kill);
        std::vector<journal::Entry> before;
        {
            Journal journal = Journal::open(file);
            const journal::Drill last = journal.drills(sitting.id).back();
            before = journal.entries(last.id);
            if (drills::is_finished(drills::record::read(last, before))) {
                begin_drill(journal, static_cast<std::uint64_t>(kill) + 1);
                before.clear();
            }
        }
        const bool after_a_lock = kill % 4 == 3;
        Child child([&](int report) {
            taste_to_the_end(file, static_cast<std::uint64_t>(kill), after_a_lock, report);
        });
        if (kill % 2 == 1) child.wait_for_a_report();
        std::this_thread::sleep_for(std::chrono::microseconds(random.below(20'000)));
        child.kill();
        child.end();
        const Journal journal = Journal::open(file);
        const journal::Drill row = journal.drills(sitting.id).back();
        const auto entries = journal.entries(row.id);
        std::size_t ahead = 0;
        for (const auto& [kind, letter] : {std::pair{"lock", 'L'}, std::pair{"reveal", 'R'}}) {
            const std::size_t told = static_cast<std::size_t>(std::ranges::count(child.reported, letter));
            const std::size_t now = count_of(entries, kind) - count_of(before, kind);
            acknowledged += told;
            lost += lost_of(told, now);
            ahead += now > told ? now - told : 0;
        }
        CHECK(ahead <= 1);  // one may be on disk and not yet reported
        const drills::State state = drills::record::read(row, entries);
        const bool waits = !state.trials.empty() && !state.trials.back().place;
        CHECK(waits == (count_of(entries, "lock") == count_of(entries, "reveal") + 1));
        CHECK(waits == std::holds_alternative<drills::Reveal>(drills::next(state)));
        if (waits) ++between;
    }
    MESSAGE("kills: " << kills << ", between an answer and its reveal: " << between
                      << ", answers acknowledged: " << acknowledged
                      << " (reveals too), answers lost: " << lost);
    CHECK(lost == 0);
    CHECK(acknowledged >= static_cast<std::size_t>(kills) / 4);
    CHECK(between > 0);
    CHECK(journal::check(file).problems.empty());
}

TEST_CASE("two programs that write to one journal at the same time lose nothing of either") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    filled(file, 0);
    const journal::Drill other{id_of(7), sitting.id, "detection", at_minute(2), R"({"seed":8})", {}};
    Journal::open(file).append(other);
    constexpr int each = 25;
    const auto appending = [&](const Uuid& into, std::uint64_t ids) {
        return [&file, into, ids](int report) {
            Journal journal = Journal::open(file);
            for (int number = 0; number < each; ++number) {
                journal::Entry one = entry(number);
                one.id = id_of(ids + static_cast<std::uint64_t>(number));
                one.drill = into;
                journal.append(one);
                say(report, 'x');
            }
        };
    };
    Child first(appending(drill.id, 8000));
    Child second(appending(other.id, 9000));
    CHECK(first.end() == 0);
    CHECK(second.end() == 0);
    const Journal journal = Journal::open(file);
    CHECK(journal.entries(drill.id).size() == first.reported.size());
    CHECK(journal.entries(other.id).size() == second.reported.size());
    const std::size_t acknowledged = first.reported.size() + second.reported.size();
    const std::size_t there = journal.entries(drill.id).size() + journal.entries(other.id).size();
    MESSAGE("answers acknowledged: " << acknowledged << ", answers lost: " << lost_of(acknowledged, there));
    CHECK(acknowledged == 2 * each);
    CHECK(journal::check(file).problems.empty());
}

TEST_CASE("a journal moved away, deleted or replaced while it is open takes no answer, and says so") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    const auto elsewhere = folder / "elsewhere.journal";
    Journal journal = filled(file, 1);
    const auto refuses = [&] {
        CHECK_THROWS_WITH_AS(journal.append(entry(1)), doctest::Contains("moved, deleted or replaced"),
                             Failed);
    };
    fs::rename(file, elsewhere);
    refuses();
    filled(file, 0);  // another journal in its place
    const std::string others = bytes_of(file);
    refuses();
    CHECK(bytes_of(file) == others);
    fs::remove(file);
    refuses();
    fs::rename(elsewhere, file);
    journal.append(entry(1));
    CHECK(Journal::open(file).entries(drill.id) == std::vector{entry(0), entry(1)});
}

TEST_CASE("a disk without room refuses an answer, keeps those before it, and takes it once there is room") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    filled(file, 0);
    const auto room = fs::file_size(file) + 3 * 4096;
    Child child([&](int report) {
        ::signal(SIGXFSZ, SIG_IGN);  // the system then fails the write instead
        Journal journal = Journal::open(file);
        const rlimit limit{room, room};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        for (int number = 0;; ++number) {
            journal.append(entry(number));
            say(report, 'x');
        }
    });
    CHECK(child.end() == 1);  // Failed
    CHECK(child.reported.size() > 10);
    Journal journal = Journal::open(file);
    const std::size_t acknowledged = child.reported.size();
    const std::size_t there = journal.entries(drill.id).size();
    MESSAGE("answers acknowledged: " << acknowledged << ", answers lost: " << lost_of(acknowledged, there));
    CHECK(there == acknowledged);
    journal.append(entry(static_cast<int>(acknowledged)));
    CHECK(journal::check(file).problems.empty());
}

TEST_CASE("a journal that may only be read fails to open for writing, and is left as it was") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    filled(file, 2);
    const std::string before = bytes_of(file);
    constexpr auto anybody_reads = fs::perms::owner_read | fs::perms::group_read | fs::perms::others_read;
    constexpr auto anybody_looks = fs::perms::owner_all | fs::perms::group_exec | fs::perms::others_exec;
    const auto opened_by_another = [&] {
        Child child([&](int) {
            constexpr uid_t nobody = 65534;
            if (::geteuid() == 0 && ::setuid(nobody) != 0) ::_exit(4);
            Journal::open(file);
        });
        return child.end();
    };
    constexpr int failed = 1;
    if (::geteuid() == 0) CHECK(opened_by_another() == failed);  // a folder that may not be looked into
    fs::permissions(file, anybody_reads);
    fs::permissions(folder.path(), anybody_looks);
    CHECK(opened_by_another() == failed);
    CHECK(bytes_of(file) == before);
}

TEST_CASE("a clock that is set back changes no order within a drill and loses no copy") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    Journal journal = filled(file, 2);
    journal::Entry earlier = entry(2);
    earlier.at.utc_ms -= 40 * 86'400'000LL;
    journal.append(earlier);
    journal.strike_out(id_of(60), earlier.id, "the clock was wrong", earlier.at);
    Instant before_that = earlier.at;
    before_that.utc_ms -= 1000;
    journal.put_back(id_of(61), earlier.id, "but the answer was right", before_that);
    CHECK(journal.entries(drill.id) == std::vector{entry(0), entry(1), earlier});
    CHECK(journal::copy_daily(journal, entry(1).at).is_new);
    CHECK(journal::copy_daily(journal, earlier.at).is_new);
    CHECK(journal::daily_copies(file).size() == 2);
    CHECK(journal::check(file).problems.empty());
}
