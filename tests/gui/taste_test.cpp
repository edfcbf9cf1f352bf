#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

AtWindow ready(drills::Blinding blinding = drills::Blinding::shuffled_tray) {
    AtWindow at;
    at.arrive();
    at.prepare();
    at.want(ChooseBlinding{blinding});
    return at;
}

/// Everything that the screen says while a drill runs.
std::string said(const App& app) {
    const FrameView frame = frame_view(app);
    const DrillView& drill = *frame.taste->drill;
    std::string all =
        frame.title + "\n" + drill.heading + "\n" + drill.cups + "\n" + drill.question + "\n" + drill.locked;
    for (const std::string& line : drill.instruction) all += "\n" + line;
    for (const Tile& tile : drill.tiles) all += "\n" + tile.name;
    for (const Shown& item : frame.status) all += "\n" + item.text + "\n" + item.whence;
    return all;
}

}  // namespace

TEST_CASE("known cups are cups too: so far, and today, as the intake counts them") {
    AtWindow at = ready();
    const auto so_far = [&] { return frame_view(at.app).taste->drill->cups; };
    const auto today = [&] { return frame_view(at.app).status.at(2).text.substr(0, 6); };
    at.want(StartDrill{});
    CHECK(so_far() == "0 cups so far");
    at.want(Acquainted{});  // one that holds it, and one of the base
    CHECK(so_far() == "2 cups so far");
    CHECK(today() == "2 cups");
    at.want(Poured{});
    at.answer(0);
    CHECK(so_far() == "5 cups so far");
    CHECK(today() == "5 cups");
    at.app = at.begin(Seed{8});
    CHECK(at.app.history->cups_today == 5);
    CHECK(today() == "5 cups");
    at.want(GoOn{at.app.history->unfinished.front().drill});
    CHECK(so_far() == "5 cups so far");
    CHECK(today() == "5 cups");
}

TEST_CASE(
    "a whole sitting alone: each answer is on disk before the screen moves, and it ends with a threshold") {
    AtWindow at = ready();
    at.start_drill();
    REQUIRE(at.app.running);
    std::size_t presentations = 0;
    while (at.app.running && presentations < 30) {
        REQUIRE(phase_of(*at.app.running) == Phase::answer);
        const std::size_t before = at.rows();
        at.answer(presentations % 3);
        CHECK(at.rows() == before + 1);
        REQUIRE(phase_of(*at.app.running) == Phase::reveal);
        at.look_beneath(1);
        CHECK(at.rows() >= before + 2);
        ++presentations;
        if (!at.app.running) break;
        REQUIRE(phase_of(*at.app.running) == Phase::rest);
        at.rest();
    }
    CHECK(presentations == 12);
    CHECK(at.app.history->unfinished.empty());
    const TasteView view = taste_view(at.app);
    REQUIRE(view.finding);
    CHECK(view.finding->sentence.find("g/L") != std::string::npos);
    CHECK(view.finding->sentence.find(" to ") != std::string::npos);
    at.want(GoTo{Place::palate});
    CHECK(palate_view(at.app).rows.size() == 1);
}

TEST_CASE("stopped at any point, the journal brings the sitting back to where it was") {
    for (const bool after_lock : {false, true}) {
        AtWindow at = ready();
        at.start_drill();
        at.answer(0);
        at.look_beneath(0);
        at.rest();
        if (after_lock) at.answer(2);
        AtWindow again = at;
        again.app = again.begin(Seed{99});
        CHECK(again.app.place == Place::taste);
        REQUIRE(taste_view(again.app).start);
        REQUIRE(taste_view(again.app).start->unfinished.size() == 1);
        // The sum so far would tell the level of the answer that is not yet revealed.
        for (const auto& item : frame_view(again.app).status)
            CHECK(item.text.find(" g ") == std::string::npos);
        again.want(GoOn{taste_view(again.app).start->unfinished.front().drill});
        if (!after_lock) again.want(Poured{});
        REQUIRE(again.app.running);
        CHECK(phase_of(*again.app.running) == (after_lock ? Phase::reveal : Phase::answer));
        CHECK(again.app.running->state.trials == at.app.running->state.trials);
        CHECK(*taste_view(again.app).drill == *taste_view(at.app).drill);
    }
}

TEST_CASE("after a restart the only mix is chosen, and of several one is asked for") {
    AtWindow at = ready();
    at.app = at.begin(Seed{5});
    at.want(GoTo{Place::taste});
    REQUIRE(taste_view(at.app).start);
    CHECK(taste_view(at.app).start->can_start);
    AtWindow two = tests::with_two_mixes();
    // What was prepared last is next, for two days; then there is nothing to go by.
    two.app = two.begin(Seed{5});
    two.want(GoTo{Place::taste});
    CHECK(taste_view(two.app).start->can_start);
    CHECK(two.app.chosen_mix == std::size_t{0});
    two.pass(49LL * 3600 * 1000);
    two.app = two.begin(Seed{5});
    two.want(GoTo{Place::taste});
    const TasteStartView asks = *taste_view(two.app).start;
    CHECK(!asks.can_start);
    REQUIRE(asks.against.size() == 1);
    CHECK(asks.against.front().find("Which mix?") == 0);
    two.want(ChooseMix{1});
    CHECK(taste_view(two.app).start->can_start);
}

TEST_CASE("after a restart inside a sitting the mix that was tasted last is chosen") {
    for (const std::size_t mix : {std::size_t{0}, std::size_t{1}}) {
        AtWindow at = tests::with_two_mixes().apart(Seed{4});
        at.pass(49LL * 3600 * 1000);  // what was prepared is no longer what is next
        at.app = at.begin(Seed{5});
        at.want(ChooseMix{mix});
        at.start_drill();
        REQUIRE(at.app.running);
        at.answer(1);
        at.want(StopDrill{});
        at.go_to_answer();
        at.app = at.begin(Seed{6});
        CHECK(at.app.sitting);
        CHECK(at.app.chosen_mix == mix);
        at.pass(3LL * 3600 * 1000);  // the sitting is over
        at.app = at.begin(Seed{7});
        CHECK(!at.app.chosen_mix);
    }
}

TEST_CASE("two runs that differ only in level and place look the same to the taster") {
    for (const drills::Blinding blinding : {drills::Blinding::served, drills::Blinding::shuffled_tray}) {
        AtWindow one = ready(blinding);
        AtWindow other = ready(blinding);
        one.want(StartDrill{});
        other.want(StartDrill{});
        // The same bottles at half the strength, for a person who is twice as fine.
        drills::Plan weaker = one.app.running->state.plan;
        for (solution::MixedLevel& level : weaker.ladder.levels) level.mixed /= 2.0;
        weaker.prior.mean_log10 -= std::log10(2.0);
        other.app.running->state = drills::begin(weaker, one.app.running->state.seed);
        for (AtWindow* at : {&one, &other}) {
            at->want(Acquainted{});
            at->want(Poured{});
        }
        for (int presentation = 0; presentation < 4; ++presentation) {
            CHECK(said(one.app) == said(other.app));
            one.answer(1);
            other.answer(1);
            // Where it really was makes no difference to what is shown either.
            AtWindow elsewhere = one;
            drills::Trial& last = elsewhere.app.running->state.trials.back();
            if (last.place) last.place = (*last.place + 1) % 3;
            CHECK(said(one.app) == said(elsewhere.app));
            CHECK(said(one.app) == said(other.app));
            if (blinding == drills::Blinding::shuffled_tray)
                for (AtWindow* at : {&one, &other}) at->look_beneath(1);
            CHECK(*taste_view(one.app).drill == *taste_view(other.app).drill);
            for (AtWindow* at : {&one, &other}) at->rest();
        }
    }
}

TEST_CASE("every drill with every blinding runs to its finding, and is gone on with after a stop half-way") {
    for (const tests::Case& one : tests::every_case) {
        CAPTURE(tests::name_of(one));
        AtWindow at = tests::with_two_mixes().apart(Seed{3});
        at.choose(one.kind, one.order, one.blinding);
        CHECK(taste_view(at.app).start->can_start);
        at.want(StartDrill{});
        REQUIRE(at.app.running);
        std::size_t answers = 0;
        for (at.go_to_answer(); at.app.running && answers < 60; at.go_to_answer()) {
            const DrillView view = *taste_view(at.app).drill;
            CHECK(!view.question.empty());
            CHECK(view.tiles.size() >= 2);
            if (answers == 3) {
                // The program is ended and started again.
                const drills::State before = at.app.running->state;
                at.app = at.begin(Seed{77});
                at.want(GoOn{taste_view(at.app).start->unfinished.front().drill});
                at.go_to_answer();
                REQUIRE(at.app.running);
                CHECK(at.app.running->state.trials == before.trials);
                CHECK(taste_view(at.app).drill->tiles == view.tiles);
            }
            at.answer_what_is_asked(answers++);
        }
        REQUIRE(!at.app.running);
        CHECK(answers >= 6);
        const TasteView done = taste_view(at.app);
        REQUIRE(done.finding);
        CHECK(done.finding->sentence.size() > 20);
        CHECK(!done.finding->next.empty());
        CHECK(at.app.history->done.front().state.plan.kind == one.kind);
    }
}

TEST_CASE("a quick look beside 3-AFC of the same bottles in one sitting is checked by it in both findings") {
    AtWindow at = tests::with_two_mixes().apart(Seed{3});
    const auto checks = [&] {
        const auto more = taste_view(at.app).finding->more;
        return std::ranges::count_if(
            more, [](const std::string& line) { return line.starts_with("Quick look beside 3-AFC: "); });
    };
    for (const drills::Kind kind : {drills::Kind::quick_look, drills::Kind::detection}) {
        at.choose(kind, drills::Order::adaptive, drills::Blinding::served);
        at.want(StartDrill{});
        REQUIRE(at.app.running);
        std::size_t answers = 0;
        for (at.go_to_answer(); at.app.running && answers < 60; at.go_to_answer())
            at.answer_what_is_asked(answers++);
        REQUIRE(taste_view(at.app).finding);
        CHECK(checks() == (kind == drills::Kind::quick_look ? 0 : 1));
        at.want(LeaveFinding{});
    }
}

TEST_CASE("every drill can be prepared from an empty journal and tasted to its finding, whoever pours") {
    for (const Offer& offer : offers())
        for (const Pours pours : {Pours::alone, Pours::helper}) {
            if (!is_prepared_alone(offer)) continue;  // ready-made sittings have their ladders
            CAPTURE(offer.id);
            AtWindow at;
            at.arrive();
            Setup setup = at.app.bench.setup;
            setup.drill = offer.id;
            setup.pours = pours;
            at.want(ChangeSetup{setup});
            at.settle();
            const PrepareView form = prepare_view(at.app);
            const std::string against = form.costs.against.empty() ? "" : form.costs.against.front();
            const std::string problem = form.problems.empty() ? "" : form.problems.front();
            CAPTURE(against);
            CAPTURE(problem);
            REQUIRE(form.can_keep);
            CHECK(!form.costs.items.empty());
            at.want(KeepMix{});
            CHECK(at.app.place == Place::taste);
            // A check of the tray is followed by what the tray is for.
            const std::size_t drills_wanted = offer.kind == drills::Kind::tray_check ? 2 : 1;
            for (std::size_t drill = 0; drill < drills_wanted; ++drill) {
                const TasteStartView start = *taste_view(at.app).start;
                const std::string why_not = start.against.empty() ? "" : start.against.front();
                CAPTURE(why_not);
                REQUIRE(start.can_start);
                CHECK(chosen_offer(at.app).kind == (drill == 0 ? offer.kind : drills::Kind::detection));
                // The strongest rung is the known clear cup, after a check of the tray too.
                const auto ready = std::get<drills::Plan>(drill_plan(at.app));
                if (ready.kind != drills::Kind::tray_check)
                    CHECK(drills::known_clear(ready) == ready.ladder.levels.size() - 1);
                at.want(StartDrill{});
                REQUIRE(at.app.running);
                std::size_t answers = 0;
                for (at.go_to_answer(); at.app.running && answers < 60; at.go_to_answer())
                    at.answer_what_is_asked(answers++);
                REQUIRE(taste_view(at.app).finding);
                CHECK(taste_view(at.app).finding->next_drill.empty() == (drill + 1 == drills_wanted));
                at.want(LeaveFinding{});
            }
        }
}

TEST_CASE("while a drill runs no other place can be opened and no intake is shown") {
    AtWindow at = ready();
    at.start_drill();
    at.answer(1);
    at.look_beneath(1);
    at.want(GoTo{Place::palate});
    CHECK(at.app.place == Place::taste);
    CHECK(at.app.notice);
    for (const Shown& item : frame_view(at.app).status) CHECK(item.text.find(" g ") == std::string::npos);
    at.want(StopDrill{});
    CHECK(!at.app.running);
    const auto status = frame_view(at.app).status;
    CHECK(std::ranges::any_of(
        status, [](const Shown& item) { return item.text.find(" g sugar") != std::string::npos; }));
}

TEST_CASE("a rest runs by the monotonic clock, shows what is left, and a cut is a row of its own") {
    AtWindow at = ready();
    at.start_drill();
    at.answer(1);
    at.look_beneath(1);
    REQUIRE(phase_of(*at.app.running) == Phase::rest);
    REQUIRE(next_wake(at.app));
    CHECK(*next_wake(at.app) <= at.now.monotonic_ms + 1000);
    at.now.utc_ms += 3'600'000;  // somebody sets the clock on the wall
    at.want(Tick{});
    CHECK(phase_of(*at.app.running) == Phase::rest);
    const std::size_t before = at.rows();
    at.want(CutRest{});
    CHECK(phase_of(*at.app.running) == Phase::pour);
    CHECK(at.journal->entries(at.app.running->drill).back().kind == "rest_cut");
    CHECK(at.rows() == before + 1);
    at.want(Poured{});
    at.answer(0);
    CHECK(phase_of(*at.app.running) == Phase::reveal);
    CHECK(!next_wake(at.app));
}

TEST_CASE("an answer that cannot be written stays picked and is asked for again") {
    AtWindow at = ready();
    at.start_drill();
    at.want(PickCup{2});
    at.want(PickCertainty{drills::Certainty::sure});
    // Another program has written the next row of this drill: the journal refuses ours.
    at.journal->append(journal::Entry{.id = Uuid{"0f0f0f0f-0000-4000-8000-000000000000"},
                                      .drill = at.app.running->drill,
                                      .number = 0,
                                      .kind = "rest_cut",
                                      .at = at.now,
                                      .body = "{}",
                                      .struck = {}});
    const auto before = at.app.running->state.trials;
    at.want(LockAnswer{});
    CHECK(at.app.notice);
    REQUIRE(at.app.running);
    CHECK(phase_of(*at.app.running) == Phase::answer);
    CHECK(at.app.running->picked == 2);
    CHECK(at.app.running->state.trials == before);
}

TEST_CASE("an answer without a cup or a certainty is not locked") {
    AtWindow at = ready();
    at.start_drill();
    const std::size_t before = at.rows();
    at.want(LockAnswer{});
    at.want(PickCup{0});
    at.want(LockAnswer{});
    CHECK(at.rows() == before);
    CHECK(!taste_view(at.app).drill->can_lock);
    at.want(TakeBack{});
    CHECK(!at.app.running->picked);
}
