#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <set>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

AtWindow ready() {
    AtWindow at;
    at.arrive();
    at.prepare();
    at.want(ChooseBlinding{drills::Blinding::shuffled_tray});
    return at;
}

}  // namespace

TEST_CASE("a programme is prepared as a whole, and its drills are offered in order with one budget") {
    for (const content::Programme& programme : tests::shipped_content()->programmes)
        for (const Pours pours : {Pours::as_written, Pours::alone, Pours::helper}) {
            CAPTURE(programme.id);
            CAPTURE(static_cast<int>(pours));
            if (!are_offered(programme)) continue;
            // Who pours changes the same things in all of them; every one is tried as written.
            const bool is_tried_otherwise = programme.id == "first_evening" ||
                                            programme.id == "acid_and_sugar" ||
                                            programme.id == "palate_check";
            if (pours != Pours::as_written && !is_tried_otherwise) continue;
            AtWindow at;
            at.arrive();
            Setup setup = at.app.bench.setup;
            setup.programme = programme.id;
            at.want(ChangeSetup{setup});
            CHECK(at.app.bench.setup.pours == Pours::as_written);
            setup = at.app.bench.setup;
            setup.pours = pours;
            at.want(ChangeSetup{setup});
            // The budget stands there before anything is planned, let alone mixed.
            const std::vector<Shown> before = prepare_view(at.app).costs.items;
            CHECK(before.size() >= 3);
            at.settle();
            const PrepareView form = prepare_view(at.app);
            CHECK(form.costs.items.front() == before.front());
            const std::string against = form.costs.against.empty() ? "" : form.costs.against.front();
            CAPTURE(against);
            // Alone more is poured than served, which may be more than a sitting should hold.
            if (pours == Pours::alone && !form.can_keep &&
                against.find("past the limit") != std::string::npos)
                continue;
            REQUIRE(form.can_keep);
            std::set<std::string> letters;
            for (const Bench* bench : benches(at.app))
                for (const solution::PlannedLevel& level : bench->plan->levels)
                    CHECK(letters.insert(level.bottle).second);
            at.want(KeepMix{});
            CHECK(at.app.history->mixes.size() == form.ladders.size() + (form.ladders.empty() ? 1 : 0));
            std::set<drills::BlindCode> codes;
            std::size_t coded = 0;
            for (std::size_t drill = 0; drill < programme.drills.size(); ++drill) {
                if (drill == 1) at.app = at.begin(Seed{5});  // the program is started again in between
                at.want(GoTo{Place::taste});
                const TasteStartView start = *taste_view(at.app).start;
                const std::string why_not = start.against.empty() ? "" : start.against.front();
                CAPTURE(why_not);
                REQUIRE(start.can_start);
                if (programme.drills.size() > 1) {
                    REQUIRE(start.stages.size() == programme.drills.size());
                    CHECK(start.stages[drill].state == "next");
                    if (drill > 0) CHECK(start.stages[drill - 1].state == "done");
                }
                CHECK(drills::name_of(chosen_offer(at.app).kind) == programme.drills[drill].kind);
                at.want(StartDrill{});
                REQUIRE(at.app.running);
                const content::ProgrammeDrill& written = programme.drills[drill];
                CHECK(at.app.running->state.plan.others.size() + 1 ==
                      written.ladders.size() + (written.condition.empty() ? 0 : 1));
                std::size_t answers = 0;
                for (at.go_to_answer(); at.app.running && answers < 60; at.go_to_answer())
                    at.answer_what_is_asked(answers++);
                REQUIRE(taste_view(at.app).finding);
                CHECK(taste_view(at.app).finding->next_drill.empty() ==
                      (drill + 1 == programme.drills.size()));
                // Not one code twice on the tables of the whole sitting.
                const std::vector<drills::BlindCode> own =
                    drills::codes_of(at.app.history->done.front().state);
                codes.insert(own.begin(), own.end());
                coded += own.size();
                CHECK(codes.size() == coded);
                at.want(LeaveFinding{});
            }
            CHECK(at.journal->sittings(*at.app.person).size() == 1);
            CHECK(taste_view(at.app).start->stages.empty());
        }
}

TEST_CASE("another drill may be chosen in the middle of a sitting, which waits for its own") {
    AtWindow at;
    at.arrive();
    Setup setup = at.app.bench.setup;
    setup.programme = "first_evening";
    at.want(ChangeSetup{setup});
    at.settle();
    at.want(KeepMix{});
    at.want(ChooseMyself{true});
    TasteStartView start = *taste_view(at.app).start;
    CHECK(start.stages.empty());
    CHECK(start.follows.find("tray check") == 0);
    at.want(ChooseOffer{0});
    CHECK(chosen_offer(at.app).kind == drills::Kind::detection);
    at.want(ChooseMyself{false});
    start = *taste_view(at.app).start;
    CHECK(start.stages.size() == 3);
    CHECK(chosen_offer(at.app).kind == drills::Kind::tray_check);
}

TEST_CASE("who ticked a reason not to take alcohol starts no drill whose cups hold it, and is told why") {
    AtWindow at;
    at.arrive();
    at.prepare("ethanol");
    REQUIRE(at.app.history->mixes.size() == 1);
    CHECK(taste_view(at.app).start->can_start);
    at.want(TickReason{at.app.content->cautions.no_ethanol_reasons.front(), true});
    at.want(ReadCautions{});
    const TasteStartView view = *taste_view(at.app).start;
    CHECK(!view.can_start);
    REQUIRE(view.against.size() == 1);
    CHECK(view.against.front().find("spitting does not change that") != std::string::npos);
    CHECK(view.against.front().find("doctor") != std::string::npos);
    at.want(StartDrill{});
    CHECK(!at.app.running);
}

TEST_CASE("a second drill joins the sitting with one budget, and what was noted once stays noted") {
    AtWindow at = tests::with_two_mixes().apart(Seed{4});
    at.want(TickSpoiler{"smoked in the last hour", true});
    at.want(TypeTemperature{"warm"});
    CHECK(!taste_view(at.app).start->can_start);
    CHECK(!taste_view(at.app).start->temperature.problem.empty());
    at.want(TypeTemperature{"19,5"});
    at.start_drill();
    at.answer(1);
    at.want(StopDrill{});
    at.go_to_answer();
    const Uuid sitting = at.app.history->done.front().sitting;
    at.want(LeaveFinding{});
    CHECK(!taste_view(at.app).start->sitting.empty());
    CHECK(taste_view(at.app).start->spoilers.empty());
    at.start_drill();
    REQUIRE(at.app.running);
    CHECK(at.app.running->sitting == sitting);
    CHECK(at.app.running->state.plan.taken_this_sitting.sugar.value > 0.0);
    REQUIRE(at.journal->sittings(*at.app.person).size() == 1);
    CHECK(at.journal->sittings(*at.app.person).front().body.find("19.5") != std::string::npos);
    at.want(StopDrill{});
    at.go_to_answer();
    // A start of the program in between, or a look at another person, does not end it: its caps hold on.
    at.app = at.begin(Seed{9});
    CHECK(!taste_view(at.app).start->sitting.empty());
    CHECK(at.app.sitting->id == sitting);
    CHECK(at.app.sitting->drills_done == 2);
    CHECK(at.app.sitting->last_ms == at.app.history->done.front().last.monotonic_ms);
    at.pass(3LL * 3600 * 1000);
    at.want(LeaveFinding{});
    CHECK(taste_view(at.app).start->sitting.empty());
    at.want(ChooseMix{0});
    at.want(StartDrill{});
    const std::string refused = at.app.notice ? at.app.notice->lines.front() : std::string{};
    CAPTURE(refused);
    REQUIRE(at.app.running);
    CHECK(at.app.running->sitting != sitting);
}

TEST_CASE("a drill left open for more than 48 hours is closed with what was done, not gone on with") {
    AtWindow at = tests::with_two_mixes().apart(Seed{6});
    at.start_drill();
    at.answer(1);
    at.look_beneath(1);
    AtWindow later = at;
    later.pass(49LL * 3600 * 1000);
    later.app = later.begin(Seed{8});
    const TasteStartView view = *taste_view(later.app).start;
    REQUIRE(view.unfinished.size() == 1);
    CHECK(view.unfinished.front().is_too_old);
    later.want(GoOn{view.unfinished.front().drill});
    CHECK(!later.app.running);
    later.want(CloseOpen{view.unfinished.front().drill});
    CHECK(later.app.history->unfinished.empty());
    CHECK(taste_view(later.app).finding);
}

TEST_CASE("gone on with the next day, a drill counts against the caps of that day and sitting only") {
    AtWindow at = tests::with_two_mixes().apart(Seed{6});
    at.choose(drills::Kind::detection, drills::Order::adaptive, drills::Blinding::served);
    at.start_drill();
    for (int i = 0; i < 4; ++i) {
        at.answer(1);
        at.rest();
    }
    at.app = at.begin(Seed{8});
    const safety::Intake first_day = at.app.history->taken_today;
    CHECK(first_day.sugar.value > 0.0);
    CHECK(at.app.history->cups_today == 12 + 2);  // the known ones, tasted before the first, too
    at.pass(24LL * 3600 * 1000);
    AtWindow later = at;
    later.app = later.begin(Seed{9});
    CHECK(later.app.history->taken_today == safety::Intake{});
    CHECK(later.app.history->cups_today == 0);
    const Uuid drill = later.app.history->unfinished.front().drill;
    later.want(GoOn{drill});
    REQUIRE(later.app.running);
    REQUIRE(later.app.running->state.gone_on.size() == 1);
    CHECK(later.app.running->state.gone_on.front().before == 4);
    later.go_to_answer();
    later.answer(1);
    later.app = later.begin(Seed{10});
    const safety::Intake second_day = later.app.history->taken_today;
    CHECK(second_day.sugar.value > 0.0);
    CHECK(later.app.history->cups_today == 3);
    safety::Intake both = first_day;
    both += second_day;
    const safety::Intake all = drills::intake(later.app.history->unfinished.front().state);
    CHECK(std::abs(both.sugar.value - all.sugar.value) < 1e-9);
    CHECK(later.app.history->unfinished.front().state.gone_on.size() == 1);
    // Within the same hour it is the same sitting.
    later.want(GoOn{drill});
    CHECK(later.app.running->state.gone_on.size() == 1);
    // Where other drills have used the day's cap up, it waits for another.
    drills::State left = at.app.history->unfinished.front().state;
    safety::Intake much;
    much.sugar = Grams{24.99};
    CHECK_THROWS_AS(drills::go_on(left, {.before = 0, .taken_this_sitting = {}, .taken_today = much}),
                    Refused);
    CHECK_THROWS_AS(drills::go_on(left, {.before = 0, .taken_this_sitting = much, .taken_today = much}),
                    Refused);
    CHECK_NOTHROW(drills::go_on(left, {.before = 0, .taken_this_sitting = {}, .taken_today = first_day}));
}

TEST_CASE("a window left open overnight counts the cups of the new day") {
    AtWindow at = tests::with_two_mixes().apart(Seed{6});
    at.choose(drills::Kind::detection, drills::Order::adaptive, drills::Blinding::served);
    at.start_drill();
    for (int i = 0; at.app.running && i < 30; ++i) {
        at.answer(1);
        if (at.app.running) at.rest();
    }
    REQUIRE(!at.app.running);
    at.want(LeaveFinding{});
    CHECK(at.app.history->cups_today > 0);
    CHECK(at.app.history->today == to_date(at.now));
    const safety::Intake taken = at.app.history->taken_today;
    CHECK(taken.sugar.value > 0.0);
    at.pass(60'000);
    at.want(Tick{});
    CHECK(at.app.history->taken_today == taken);
    at.pass(86'400'000);
    at.want(Tick{});
    CHECK(at.app.history->taken_today == safety::Intake{});
    CHECK(at.app.history->cups_today == 0);
    CHECK(at.app.history->seconds_today == 0);
    CHECK(at.app.history->done.size() == 1);
}

TEST_CASE("midnight within a drill leaves the drill alone, and the day is turned when it is over") {
    AtWindow at = ready();
    at.start_drill();
    at.answer(1);
    at.look_beneath(1);
    const auto before = at.app.history;
    at.pass(86'400'000);
    at.want(Tick{});
    REQUIRE(at.app.running);
    CHECK(at.app.history == before);
    at.want(AskToStop{});
    at.want(StopDrill{});
    CHECK(at.app.history->today == to_date(at.now));
}
