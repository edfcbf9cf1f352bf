#include "drills/persistence.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

std::string shipped_reason() {
    return tests::shipped_content()->cautions.no_ethanol_reasons.front();
}

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
    CHECK(at.app.history->cups_today == 12);
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

TEST_CASE("a person's own words are asked for, kept with the drill, and offered again the next time") {
    AtWindow at;
    at.arrive();
    at.prepare();
    for (std::size_t i = 0; i < offers().size(); ++i)
        if (offers()[i].kind == drills::Kind::scaling) at.want(ChooseOffer{i});
    at.want(ChooseBlinding{drills::Blinding::served});
    const TasteStartView before = *taste_view(at.app).start;
    const std::string against = before.against.empty() ? std::string() : before.against.front();
    CAPTURE(against);
    REQUIRE(before.asks_words);
    CHECK(!before.words.text.empty());  // the usual ones
    at.want(TypeWords{"flat, flat"});
    CHECK(!taste_view(at.app).start->can_start);
    CHECK(taste_view(at.app).start->against.front().find("alike") != std::string::npos);
    at.want(TypeWords{"flat, lively,  sharp , too sharp"});
    at.start_drill();
    REQUIRE(at.app.running);
    const std::vector<std::string> own{"flat", "lively", "sharp", "too sharp"};
    CHECK(at.app.running->state.plan.words == own);
    at.answer_what_is_asked(1);
    at.want(StopDrill{});
    at.want(LeaveFinding{});
    at.want(EndSitting{});
    at.app = at.begin(Seed{77});
    at.want(GoTo{Place::taste});
    for (std::size_t i = 0; i < offers().size(); ++i)
        if (offers()[i].kind == drills::Kind::scaling) at.want(ChooseOffer{i});
    at.want(ChooseMix{0});
    CHECK(taste_view(at.app).start->words.text == "flat, lively, sharp, too sharp");
}

TEST_CASE(
    "the finish of one's own wine is timed without a mix, within the cap, and never by who takes no "
    "alcohol") {
    AtWindow at;
    at.arrive();
    at.want(GoTo{Place::taste});
    at.want(ShowOwnWine{true});
    CHECK(!taste_view(at.app).start->wine.can_start);
    at.want(TypeWine{"the red of the year", "40"});
    CHECK(taste_view(at.app).start->wine.strength.problem.find("0.1 to 18") != std::string::npos);
    at.want(StartOwnWine{});
    CHECK(at.app.notice->is_problem);
    at.want(TypeWine{"the red of the year", "13,5"});
    CHECK(taste_view(at.app).start->wine.can_start);
    at.want(StartOwnWine{});
    REQUIRE(at.app.running);
    CHECK(drills::persistence::is_own_wine(at.app.running->state.plan));
    for (std::size_t number = 0; at.app.running && number < 40; ++number) {
        at.go_to_answer();
        if (at.app.running) at.answer_what_is_asked(number);
    }
    REQUIRE(taste_view(at.app).finding);
    CHECK(taste_view(at.app).finding->sentence.find("flavour lasts") != std::string::npos);
    AtWindow dry;
    dry.arrive("Ben", {shipped_reason()});
    dry.want(TypeWine{"", "12"});
    dry.want(StartOwnWine{});
    CHECK(!dry.app.running);
    CHECK(dry.app.notice->is_problem);
}
