#include "engine/text.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

TEST_CASE("the demo tells up to when it was invented, and a journal when its last row was written") {
    tests::AtWindow at;
    const auto says = [&](const std::string& begin) {
        const FrameView view = frame_view(at.app);
        for (const Shown& item : view.status)
            if (item.text.starts_with(begin)) return item.text;
        return std::string();
    };
    at.arrive();
    CHECK(says("last write ").size() == std::string("last write 12:00").size());
    at.want(LookAtDemo{});
    std::int64_t newest_ms = 0;
    for (const journal::Person& person : at.app.journal->people())
        for (const journal::Sitting& sitting : at.app.journal->sittings(person.id))
            for (const journal::Drill& drill : at.app.journal->drills(sitting.id))
                for (const journal::Entry& entry : at.app.journal->entries(drill.id))
                    newest_ms = std::max(newest_ms, entry.at.utc_ms);
    REQUIRE(at.app.invented_until);
    CHECK(at.app.invented_until->utc_ms == newest_ms);
    CHECK(says("last write").empty());
    CHECK(says("invented up to ") == "invented up to " + to_date(*at.app.invented_until));
    at.want(LeaveDemo{});
    CHECK(says("invented").empty());
    CHECK_FALSE(says("last write").empty());
}

TEST_CASE("an empty journal opens on the first start, and a person leads on to the cautions and Prepare") {
    AtWindow at;
    CHECK(at.app.place == Place::first_start);
    at.want(TypeName{"Ana"});
    at.want(AddPerson{});
    CHECK(at.app.dialog == Dialog::cautions);
    at.want(ReadCautions{});
    CHECK(at.app.dialog == Dialog::none);
    CHECK(at.app.place == Place::prepare);
    CHECK(at.app.history->cautions_read);
    CHECK(at.begin(Seed{8}).history->cautions_read);
}

TEST_CASE("a name that is empty or taken is refused with a sentence and nothing is written") {
    AtWindow at;
    at.arrive();
    const std::size_t rows = at.rows();
    for (const char* name : {"", "  ", "Ana", " Ana "}) {
        at.want(TypeName{name});
        at.want(AddPerson{});
        REQUIRE(at.app.notice);
        CHECK(at.app.notice->is_problem);
        at.want(DismissNotice{});
    }
    CHECK(at.rows() == rows);
    CHECK(at.app.people.size() == 1);
}

TEST_CASE("a plan for a form that was changed since is dropped") {
    AtWindow at;
    at.arrive();
    const PlanReady late = plan_for(*at.app.bench.job);
    Setup other = at.app.bench.setup;
    other.substance = "tartaric_acid";
    at.want(ChangeSetup{other});
    at.want(late);
    CHECK(!at.app.bench.plan);
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->request.substance.id == "tartaric_acid");
    at.want(TakeBack{});
    CHECK(at.app.bench.setup.substance == "sucrose");
}

TEST_CASE("a reading may have a comma, moves the level, and nonsense keeps the mix from being kept") {
    AtWindow at;
    at.arrive();
    at.settle();
    const auto& steps = at.app.bench.plan->steps;
    const auto step =
        static_cast<std::size_t>(std::ranges::find_if(steps, &solution::Step::takes_reading) - steps.begin());
    REQUIRE(step < steps.size());
    at.want(TypeReading{step, "oops"});
    CHECK(!prepare_view(at.app).can_keep);
    at.want(KeepMix{});
    CHECK(at.app.history->mixes.empty());
    std::string heavier = fixed(1.1 * steps[step].reading, 2);
    std::replace(heavier.begin(), heavier.end(), '.', ',');
    at.want(TypeReading{step, heavier});
    CHECK(prepare_view(at.app).can_keep);
    at.want(KeepMix{});
    REQUIRE(at.app.history->mixes.size() == 1);
    const auto& levels = at.app.history->mixes.front().ladder.levels;
    const bool moved = std::ranges::any_of(levels, [](const solution::MixedLevel& level) {
        return std::abs(level.mixed / level.target - 1.0) > 0.05;
    });
    CHECK(moved);
}

TEST_CASE("nothing is kept before the cautions are read") {
    AtWindow at;
    at.want(TypeName{"Ana"});
    at.want(AddPerson{});
    at.want(OpenDialog{Dialog::none});
    at.prepare();
    CHECK(at.app.history->mixes.empty());
    REQUIRE(at.app.notice);
    CHECK(at.app.notice->lines.front().find("cautions") != std::string::npos);
}

TEST_CASE(
    "whoever ticks a reason can neither keep nor start an ethanol ladder, and another substance stays open") {
    AtWindow at;
    at.arrive("Ana", {tests::shipped_content()->cautions.no_ethanol_reasons.front()});
    Setup ethanol = at.app.bench.setup;
    ethanol.substance = "ethanol";
    at.want(ChangeSetup{ethanol});
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(!prepare_view(at.app).can_keep);
    at.want(KeepMix{});
    CHECK(at.app.history->mixes.empty());
    at.want(TakeBack{});
    at.prepare();
    CHECK(at.app.history->mixes.size() == 1);
}

TEST_CASE("a reason ticked after an ethanol ladder was kept stops its drill from starting") {
    AtWindow at;
    at.arrive();
    Setup ethanol = at.app.bench.setup;
    ethanol.substance = "ethanol";
    at.want(ChangeSetup{ethanol});
    at.prepare();
    REQUIRE(at.app.history->mixes.size() == 1);
    at.want(TickReason{tests::shipped_content()->cautions.no_ethanol_reasons.front(), true});
    at.want(ReadCautions{});
    CHECK(!taste_view(at.app).start->can_start);
    at.want(StartDrill{});
    CHECK(!at.app.running);
}

TEST_CASE("the demo has a journal of its own and leaves the person's untouched") {
    AtWindow at;
    const std::size_t rows = at.rows();
    at.want(LookAtDemo{});
    CHECK(at.app.is_demo());
    CHECK(at.app.people.front().invented);
    CHECK(frame_view(at.app).is_demo);
    CHECK(frame_view(at.app).title.find("invented") != std::string::npos);
    CHECK(palate_view(at.app).rows.size() >= 2);
    at.want(LeaveDemo{});
    CHECK(!at.app.is_demo());
    CHECK(at.app.place == Place::first_start);
    CHECK(at.rows() == rows);
}

TEST_CASE("what is done in the demo is gone when it is looked at again") {
    AtWindow at;
    at.want(LookAtDemo{});
    const std::size_t people = at.app.people.size();
    const std::size_t rows = at.app.journal->rows();
    REQUIRE(rows > 500);
    at.arrive("Ben");
    CHECK(at.app.people.size() == people + 1);
    CHECK(at.app.journal->rows() > rows);
    at.want(LeaveDemo{});
    at.app.untouched_demo.reset();  // made once more, it is the same
    at.want(LookAtDemo{});
    CHECK(at.app.people.size() == people);
    CHECK(at.app.journal->rows() == rows);
    at.want(LeaveDemo{});
    at.want(LookAtDemo{});
    CHECK(at.app.people.size() == people);
    CHECK(at.app.journal->rows() == rows);
}

TEST_CASE("a sheet goes to the folder of sheets, and what cannot be printed says so") {
    AtWindow at;
    at.want(PrintShown{});
    REQUIRE(at.app.notice);
    CHECK(at.app.notice->is_problem);
}
