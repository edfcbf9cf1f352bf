#include "gui/app/history.hpp"

#include "drills/record.hpp"
#include "engine/problem.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <memory>

using namespace sipladder;
using namespace sipladder::gui;
using namespace sipladder::tests;

namespace {

/// The demo's weeks, looked at a year later.
struct Demo {
    std::shared_ptr<journal::Journal> journal =
        std::make_shared<journal::Journal>(journal::Journal::in_memory());
    Uuid person;
    Instant now = shipped_demo()->starts;

    Demo() {
        drills::make_demo(*journal, *shipped_content(), *shipped_demo(), Seed{1});
        person = journal->people().front().id;
        now.utc_ms += 365LL * 86'400'000;
    }
    History read(const History* before = nullptr) const {
        return read_history(journal, *tests::shipped_content(), person, now, before);
    }
};

}  // namespace

TEST_CASE("drills that are read late are what they are when all is read at once") {
    const Demo demo;
    const History history = demo.read();
    CHECK(history.unfinished.empty());
    std::size_t place = history.done.size();
    for (const journal::Sitting& sitting : demo.journal->sittings(demo.person))
        for (const journal::Drill& drill : demo.journal->drills(sitting.id)) {
            REQUIRE(place > 0);
            const auto entries = demo.journal->entries(drill.id);
            CHECK_FALSE(history.done.if_read(place - 1));
            const PastDrill& past = history.done[--place];
            CHECK(past.drill == drill.id);
            CHECK(past.rows == static_cast<int>(entries.size()));
            CHECK(past.last == entries.back().at);
            CHECK(past.state.trials == drills::record::read(drill, entries).trials);
            CHECK(done_drill(history, drill.id) == &past);
        }
    CHECK(place == 0);
}

TEST_CASE("the newest detection is the one that a search through all of them finds") {
    const Demo demo;
    const History history = demo.read();
    std::size_t found = 0;
    for (const solution::Substance& substance : shipped_content()->substances) {
        const PastDrill* newest = nullptr;
        for (const PastDrill& past : history.done)
            if (newest == nullptr && past.state.plan.kind == drills::Kind::detection &&
                past.state.plan.substance.id == substance.id)
                newest = &past;
        const std::string base = newest == nullptr ? "purified water" : newest->state.plan.base_name;
        const PalateEntry* entry = newest_detection(history, substance.id, base);
        REQUIRE((entry != nullptr) == (newest != nullptr));
        if (entry == nullptr) continue;
        ++found;
        CHECK(entry->past.drill == newest->drill);
        CHECK(entry->threshold.log10 == drills::threshold_so_far(newest->state).log10);
        CHECK(newest_detection(history, substance.id, "no such water") == nullptr);
    }
    CHECK(found == shipped_demo()->courses.size());
}

TEST_CASE("what was read is taken over, and what was struck out since is read anew") {
    const Demo demo;
    const History before = demo.read();
    const drills::State* const state = &before.done[3].state;
    const drills::State* const other = &before.done[4].state;
    const drills::record::KeptMix* const mix = &before.mixes[2];
    const History same = demo.read(&before);
    CHECK(&same.done[3].state == state);
    CHECK(&same.mixes[2] == mix);
    const Uuid drill = before.done.lines()[3].drill;
    const std::size_t trials = state->trials.size();
    for (const journal::Entry& entry : demo.journal->entries(drill))
        if (entry.kind == "lock") {
            demo.journal->strike_out(Uuid{"babf27c8-3b94-40f8-be99-cf07cc29d123"}, entry.id, "spilt",
                                     demo.now);
            break;
        }
    const History after = demo.read(&same);
    REQUIRE(after.done.lines()[3].drill == drill);
    CHECK(after.done[3].state.trials.size() == trials - 1);
    CHECK(&after.done[4].state == other);
    CHECK(&after.mixes[2] == mix);
}

TEST_CASE("a drill that cannot be read is told when it is asked for, and hides no other") {
    Demo demo;
    Random ids{Seed{5}};
    journal::Drill broken = demo.journal->drills(demo.journal->sittings(demo.person).back().id).front();
    const Uuid whole = broken.id;
    broken.id = uuid_from(ids);
    broken.body = R"({"schema":"sipladder-detection/9"})";
    demo.journal->append(broken);
    for (journal::Entry entry : demo.journal->entries(whole)) {
        entry.id = uuid_from(ids);
        entry.drill = broken.id;
        demo.journal->append(entry);
    }
    const History history = demo.read();
    std::size_t refused = 0;
    for (std::size_t i = 0; i < history.done.size(); ++i)
        if (history.done.if_readable(i) == nullptr) ++refused;
    CHECK(refused == 1);
    CHECK_THROWS_AS(done_drill(history, broken.id), Refused);
    CHECK(done_drill(history, whole) != nullptr);
    CHECK(newest_detection(history, "sucrose", done_drill(history, whole)->state.plan.base_name) != nullptr);
}

TEST_CASE("bottles of a substance that the content lacks are not offered, and no screen stumbles over them") {
    const std::string salt = "sodium_chloride";
    AtWindow at;
    at.arrive();
    at.prepare(salt);
    at.start_drill();
    at.answer(1);
    at.want(AskToStop{});
    at.want(StopDrill{});
    REQUIRE(at.app.history->planned);
    auto less = std::make_shared<content::Content>(*shipped_content());
    std::erase_if(less->substances, [&](const auto& one) { return one.id == salt; });
    std::erase_if(less->ingredients, [&](const auto& one) { return one.substance == salt; });
    std::erase_if(less->ladders, [&](const auto& one) { return one.substance() == salt; });
    at.app = gui::start(
        {.content = less, .demo = nullptr, .journal = at.journal, .sheets = {}, .seed = Seed{8}}, at.now);
    CHECK(at.app.history->mixes.empty());
    CHECK(!at.app.history->planned);
    CHECK(!at.app.chosen_mix);
    for (const Place place : {Place::prepare, Place::taste, Place::palate, Place::weeks, Place::records}) {
        at.want(GoTo{place});
        CHECK_FALSE(frame_view(at.app).title.empty());
    }
}
