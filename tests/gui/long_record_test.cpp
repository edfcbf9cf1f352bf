#include "gui/app/worker.hpp"
#include "gui/views/palate.hpp"
#include "gui/views/records.hpp"
#include "gui/views/weeks.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <condition_variable>
#include <mutex>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

/// A worker whose results the test waits for.
struct WaitedFor {
    std::mutex guard;
    std::condition_variable arrived;
    bool is_ready = false;
    Worker worker{[this] {
        const std::lock_guard lock(guard);
        is_ready = true;
        arrived.notify_one();
    }};

    void wait() {
        std::unique_lock lock(guard);
        REQUIRE(arrived.wait_for(lock, std::chrono::seconds{60}, [this] { return is_ready; }));
        is_ready = false;
    }
    /// Until nothing is awaited any more, or what is awaited has met problems.
    void settle(AtWindow& at) {
        const auto is_open = [](const std::optional<Awaited>& one) { return one && one->problems.empty(); };
        while (is_open(at.app.palate_awaited) || is_open(at.app.weeks_awaited) ||
               is_open(at.app.records_awaited)) {
            worker.look_at(at.app);
            wait();
            while (const auto ready = worker.take()) at.want(*ready);
        }
    }
};

/// One drill of detection, and the same again day for day: more than is read at once.
AtWindow with_years(std::size_t drills = 70) {
    AtWindow at;
    at.arrive();
    at.prepare();
    at.start_drill();
    for (std::size_t i = 0; at.app.running && phase_of(*at.app.running) != Phase::done; ++i) {
        at.answer(i % 3);
        at.go_to_answer();
    }
    const PastDrill past = at.app.history->done.front();
    const journal::Sitting sitting = at.journal->sittings(*at.app.person).front();
    const journal::Drill drill = *at.journal->drill(past.drill);
    const std::vector<journal::Entry> entries = at.journal->entries(past.drill);
    Random chance{Seed{5}};
    constexpr std::int64_t day_ms = 86'400'000;
    std::int64_t on = 0;
    const auto later = [&](Instant instant) {
        instant.utc_ms += on;
        return instant;
    };
    at.journal->together([&] {
        for (std::size_t i = 1; i < drills; ++i) {
            on = static_cast<std::int64_t>(i) * day_ms;
            journal::Sitting next = sitting;
            next.id = uuid_from(chance);
            next.started = later(sitting.started);
            at.journal->append(next);
            journal::Drill again = drill;
            again.id = uuid_from(chance);
            again.sitting = next.id;
            again.started = later(drill.started);
            at.journal->append(again);
            for (journal::Entry entry : entries) {
                entry.id = uuid_from(chance);
                entry.drill = again.id;
                entry.at = later(entry.at);
                at.journal->append(entry);
            }
        }
    });
    at.pass(static_cast<std::int64_t>(drills) * day_ms);
    at.want(SwitchPerson{*at.app.person});
    REQUIRE(at.app.history->done.size() == drills);
    return at;
}

const Uuid& newest_drill(const AtWindow& at) {
    return at.app.history->done.lines().front().drill;
}

}  // namespace

TEST_CASE(
    "a long record is read beside the window: the Palate says so, and then what it would have said at once") {
    AtWindow at = with_years();
    WaitedFor waited;
    at.want(GoTo{Place::palate});
    CHECK(!at.app.palate);
    REQUIRE(at.app.palate_awaited);
    PalateView view = palate_view(at.app);
    REQUIRE(view.waits.lines.size() == 1);
    CHECK(view.waits.lines.front().find("70 drills are being read") == 0);
    CHECK(view.empty.empty());  // nobody is told that nothing was measured
    at.want(ToggleHelp{});
    const std::uint64_t asked = at.app.palate_awaited->job.generation;
    at.want(ToggleHelp{});
    CHECK(at.app.palate_awaited->job.generation == asked);  // not again at every key
    waited.settle(at);
    REQUIRE(at.app.palate);
    view = palate_view(at.app);
    CHECK(view.waits.lines.empty());
    REQUIRE(view.rows.size() == 1);

    FitJob again = fit_job(at.app);
    const PalateFound at_once = palate_of(again);
    CHECK(at.app.palate->palate.of(drills::PalateQuestion::how_little).front().numbers.front().text ==
          at_once.palate.of(drills::PalateQuestion::how_little).front().numbers.front().text);
    CHECK(at.app.palate->next.size() == at_once.next.size());
}

TEST_CASE("what was found before stays in Weeks, and says so, while a newer one is made") {
    AtWindow at = with_years();
    WaitedFor waited;
    at.want(GoTo{Place::weeks});
    CHECK(weeks_view(at.app).rows.empty());
    CHECK(weeks_view(at.app).waits.lines.size() == 1);
    waited.settle(at);
    REQUIRE(at.app.weeks);
    CHECK(at.app.weeks->entries.front().followed.sittings.size() == 70);
    CHECK(shown_weeks(at.app)->waits.lines.empty());
    at.want(GoTo{Place::palate});
    waited.settle(at);

    at.want(AskToStrike{newest_drill(at)});
    at.want(TypeReason{"a cold"});
    at.want(StrikeOut{});
    // What was read is not read again, so the Palate and Records know at once.
    at.want(GoTo{Place::palate});
    CHECK(palate_view(at.app).rows.size() == 1);
    CHECK(palate_view(at.app).waits.lines.empty());
    at.want(GoTo{Place::records});
    CHECK(!at.app.records_awaited);
    REQUIRE(at.app.records);
    CHECK(at.app.records->sittings.size() == 70);
    at.want(GoTo{Place::weeks});
    CHECK(shown_weeks(at.app)->rows.size() == 1);
    CHECK(shown_weeks(at.app)->waits.lines.front().find("What was written since") == 0);
    CHECK(at.app.weeks->entries.front().followed.sittings.size() == 70);
    waited.settle(at);
    CHECK(at.app.weeks->entries.front().followed.sittings.size() == 69);
    CHECK(shown_weeks(at.app)->waits.lines.empty());
}

TEST_CASE("what comes for another person is left, and a person who goes takes what was found along") {
    AtWindow at = with_years();
    WaitedFor waited;
    at.want(GoTo{Place::palate});
    waited.worker.look_at(at.app);
    at.want(TypeName{"Ben"});
    at.want(AddPerson{});
    at.want(ReadCautions{});
    waited.wait();
    const auto late = waited.worker.take();
    REQUIRE(late);
    at.want(*late);
    at.want(GoTo{Place::palate});
    REQUIRE(at.app.palate);
    CHECK(at.app.palate->person == *at.app.person);
    CHECK(at.app.palate->tasted.empty());
    CHECK(!at.app.palate_awaited);
}

TEST_CASE("a row that cannot be read is named in place of the rows, and is not asked for without end") {
    AtWindow at = with_years();
    WaitedFor waited;
    // A drill's row with a plan that is none, of a day that is read late.
    journal::Drill broken = *at.journal->drill(newest_drill(at));
    const std::vector<journal::Entry> entries = at.journal->entries(broken.id);
    broken.id = Uuid{"00000000-0000-4000-8000-000000000002"};
    broken.started = at.journal->sittings(*at.app.person).front().started;
    broken.body = "{}";
    broken.sitting = at.journal->sittings(*at.app.person).front().id;
    at.journal->append(broken);
    int number = 0;
    for (journal::Entry entry : entries) {
        entry.id = uuid_from(at.app.chance);
        entry.number = number++;
        entry.drill = broken.id;
        entry.at = broken.started;
        if (number == static_cast<int>(entries.size())) entry.kind = "finished";  // others are read at once
        at.journal->append(entry);
    }
    at.want(SwitchPerson{*at.app.person});
    at.want(GoTo{Place::palate});
    waited.settle(at);
    REQUIRE(at.app.palate_awaited);
    const Waits waits = palate_view(at.app).waits;
    CHECK(waits.is_problem);
    REQUIRE(!waits.lines.empty());
    CHECK(waits.lines.front().find(broken.id.text) != std::string::npos);
    const std::uint64_t asked = at.app.palate_awaited->job.generation;
    at.want(ToggleHelp{});
    waited.worker.look_at(at.app);
    CHECK(at.app.palate_awaited->job.generation == asked);
    CHECK(!waited.worker.take());
    // The rest of the window goes on.
    at.want(GoTo{Place::prepare});
    CHECK(at.app.place == Place::prepare);
    at.want(GoTo{Place::records});  // there the drill has its line, with what is wrong with it
    waited.settle(at);
    REQUIRE(at.app.records);
    CHECK(at.app.records->sittings.size() == 70);
}

TEST_CASE("a report waits for what was done last") {
    AtWindow at = with_years();
    at.want(GoTo{Place::palate});
    at.want(PrintShown{});
    REQUIRE(at.app.notice);
    CHECK(at.app.notice->lines.front().find("still being worked in") != std::string::npos);
}

TEST_CASE("Records of a long record come from beside the window too, and say so meanwhile") {
    AtWindow at = with_years();
    WaitedFor waited;
    at.want(GoTo{Place::records});
    CHECK(!records_view(at.app).list);
    CHECK(records_view(at.app).waits.lines.size() == 1);
    waited.settle(at);
    REQUIRE(records_view(at.app).list);
    CHECK(records_view(at.app).list->lines.size() == 70);
    CHECK(records_view(at.app).waits.lines.empty());
}

TEST_CASE("the window reads and writes while a long record is read") {
    AtWindow at = with_years(300);
    WaitedFor waited;
    at.want(GoTo{Place::palate});
    waited.worker.look_at(at.app);
    for (std::size_t i = 0; i < 300; i += 3) {
        at.journal->append(journal::Fact{.id = uuid_from(at.app.chance),
                                         .person = *at.app.person,
                                         .kind = "note",
                                         .at = at.now,
                                         .body = "{}",
                                         .struck = {}});
        CHECK(at.app.history->done[i].state.posteriors().size() == 1);
    }
    waited.settle(at);
    REQUIRE(at.app.palate);
    CHECK(at.app.palate->tasted.size() == 300);
}
