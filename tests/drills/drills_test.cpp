#include "drills/blinding/shuffled_tray.hpp"
#include "drills/nose.hpp"
#include "drills/pacing.hpp"
#include "drills/quick_look.hpp"
#include "drills/recognition.hpp"
#include "engine/problem.hpp"
#include "tests/drills/every_drill.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

// What holds for every drill in every blinding; then what is each drill's own.

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;
using namespace sipladder::tests::every;

namespace {

std::string told(const Step& step) {
    if (const auto* serve = std::get_if<Serve>(&step)) {
        std::string text = "serve " + std::to_string(serve->number) + serve->shown.letter +
                           serve->shown.bottle + serve->before + serve->question.text;
        for (const BlindCode& code : serve->shown.codes) text += " " + code.digits;
        if (serve->shown.sign) text += shuffled_tray::text_of(*serve->shown.sign);
        if (serve->shown.nose) text += *serve->shown.nose == Nose::open ? " open" : " closed";
        return text;
    }
    if (const auto* reveal = std::get_if<Reveal>(&step))
        return "reveal " + std::to_string(reveal->number) + reveal->ask;
    if (const auto* rest = std::get_if<Rest>(&step)) return "rest " + std::to_string(rest->length.count());
    return "finished " + std::get<Finished>(step).why;
}

void check_same(const State& one, const State& other) {
    CHECK(one.trials == other.trials);
    CHECK(one.posteriors() == other.posteriors());
    CHECK((one.habits() == nullptr) == (other.habits() == nullptr));
    if (one.habits() && other.habits()) CHECK(*one.habits() == *other.habits());
    CHECK(one.seed == other.seed);
    CHECK(one.stopped == other.stopped);
    CHECK(one.rests_cut == other.rests_cut);
    CHECK(one.gone_on == other.gone_on);
    CHECK(told(next(one)) == told(next(other)));
    CHECK(told(next_after_rest(one)) == told(next_after_rest(other)));
    CHECK(record::body_of(one.plan, one.seed) == record::body_of(other.plan, other.seed));
}

}  // namespace

TEST_CASE("every drill cut at any step, between lock and reveal too, goes on in the same state") {
    for (const NamedPlan& one : every_plan()) {
        CAPTURE(one.name);
        Kept kept(one.plan, Seed{31});
        check_same(kept.again(), kept.state);
        std::size_t steps = 0;
        while (!is_finished(kept.state)) {
            if (steps == (one.plan.most_presentations > 3 ? 3U : 0U)) kept.go_to(cut_rest(kept.state, 17));
            if (steps == 4) kept.go_to(go_on(kept.state, {}));
            kept.go_to(one_step(kept.state, steps++));
            check_same(kept.again(), kept.state);
            REQUIRE(steps < 200);
        }
        CHECK(kept.entries.back().kind == "finished");
        CHECK(kept.state.rests_cut.size() == 1);
        CHECK(kept.state.rests_cut[0].seconds_left == 17);
        const Finding told_at_the_end = finding(kept.state);
        CHECK(told_at_the_end.thresholds.size() + told_at_the_end.sentences.size() > 0);
    }
}

TEST_CASE("the same seed gives the same sitting in every drill, and another seed another one") {
    for (const NamedPlan& one : every_plan()) {
        CAPTURE(one.name);
        const State first = done(begin(one.plan, Seed{5}), 40);
        CHECK(first.trials == done(begin(one.plan, Seed{5}), 40).trials);
        // The class has a seed of its own, and the tray that is checked is spun by hand.
        if (!one.plan.seat && one.plan.kind != Kind::tray_check)
            CHECK(first.trials != done(begin(one.plan, Seed{6}), 40).trials);
        CHECK(cups(first) <= cups_together(one.plan) * one.plan.most_presentations);
    }
}

TEST_CASE("nothing that is shown, written or summed tells what a cup holds before its answer is locked") {
    for (const NamedPlan& one : every_plan()) {
        if (one.plan.order == Order::ascending) continue;  // it is known to ascend
        CAPTURE(one.name);
        State drill = begin(one.plan, Seed{8});
        const std::string body = record::body_of(drill.plan, drill.seed);
        for (std::size_t number = 0; number < std::min<std::size_t>(4, one.plan.most_presentations);
             ++number) {
            while (std::holds_alternative<Reveal>(next_after_rest(drill))) drill = one_step(drill, number);
            const auto now = serving(drill);
            REQUIRE(now);
            // The same cup of another strength: what was said of it so far would have to be the same.
            State other = drill;
            for (auto& level : other.plan.ladder.levels) level.mixed *= 1.001;
            CHECK(std::get<Serve>(next_after_rest(other)).question.text ==
                  std::get<Serve>(next_after_rest(drill)).question.text);
            CHECK(told(next(other)).substr(0, 9) == told(next(drill)).substr(0, 9));
            CHECK(record::body_of(drill.plan, drill.seed) == body);
            drill = one_step(drill, number);
        }
    }
}

TEST_CASE("an ascending drill serves each rung in turn and gives the best estimate of each round") {
    State drill = begin(ascending_plan(Blinding::served, 2), Seed{3});
    // First round right from the third rung on, second from the fourth.
    for (std::size_t i = 0; i < 12; ++i) {
        const auto now = serving(drill);
        REQUIRE(now);
        CHECK(now->level == i % 6);
        const bool right = i < 6 ? i >= 2 : i >= 9;
        drill =
            lock(std::move(drill), {right ? *now->place : (*now->place + 1) % 3, Certainty::sure, minute(i)});
        if (i == 4) CHECK_FALSE(detection::best_estimate(drill));
    }
    CHECK(is_finished(drill));
    const auto best = detection::best_estimate(drill);
    REQUIRE(best);
    const auto levels = threshold::levels_log10(drill.plan.ladder);
    const double first = 0.5 * (levels[1] + levels[2]);
    const double second = 0.5 * (levels[2] + levels[3]);
    CHECK(best->people == 2);
    CHECK(within(best->log10, 0.5 * (first + second), 1e-12));
    const auto sentences = finding(drill).sentences;
    REQUIRE(sentences.size() == 2);
    CHECK(sentences[0].find("follows") != std::string::npos);  // what certainty is worth
    CHECK(sentences[1].find("By the best estimate of the ascending series") == 0);
    CHECK(std::isfinite(detection::result(drill).log10));
    CHECK_FALSE(detection::best_estimate(begin(usual_plan(Blinding::served), Seed{1})));
    Plan adaptive_class = ascending_plan(Blinding::class_service, 1);
    adaptive_class.order = Order::adaptive;
    CHECK_THROWS_AS(begin(adaptive_class, Seed{1}), Refused);
}

TEST_CASE(
    "what is added to a pedestal carries the errors of both, but not that of their common stock twice") {
    const solution::MixedLevel pedestal{6.0, 6.0, 0.004, 0.02, "P", 20};
    solution::MixedLadder totals{"tartaric_acid", "still_water", Scale::g_per_L, {}};
    totals.levels.push_back({7.0, 7.0, 0.005, 0.02, "K", 20});
    const auto added = difference::added_ladder(totals, pedestal);
    CHECK(within(added.levels[0].mixed, 1.0, 1e-12));
    CHECK(within(added.levels[0].u_own_rel, 7.0 * 0.005, 1e-12));
    CHECK(within(added.levels[0].u_shared_rel, std::hypot(0.02, 6.0 * 0.004), 1e-12));
    totals.levels[0].mixed = 6.0;
    CHECK_THROWS_AS(difference::added_ladder(totals, pedestal), Refused);
    // Monte Carlo of the same: both weighed from one stock.
    Random random{Seed{8}};
    double square = 0.0;
    constexpr int draws = 20'000;
    for (int i = 0; i < draws; ++i) {
        const double stock = 1.0 + 0.02 * random.normal();
        const double more =
            stock * (7.0 * (1.0 + 0.005 * random.normal()) - 6.0 * (1.0 + 0.004 * random.normal()));
        square += (more - 1.0) * (more - 1.0);
    }
    CHECK(within(std::sqrt(square / draws),
                 std::hypot(added.levels[0].u_own_rel, added.levels[0].u_shared_rel), 0.0, 0.03));
}

TEST_CASE("a Weber fraction is the added amount over the pedestal, with its interval") {
    const State drill = done(begin(difference_plan(Blinding::served), Seed{4}), 12);
    const auto result = difference::result(drill);
    CHECK(within(result.weber, result.added.value() / 2.0, 0.0, 0.02));
    CHECK(result.weber_lower < result.weber);
    CHECK(result.weber < result.weber_upper);
    CHECK(task_of(drill.plan).guess == 0.5);
    CHECK(cups(drill) == 48);
    CHECK(cups_tasted(drill) == 48 + known_cups(drill.plan));
    Plan thin = difference_plan(Blinding::served);
    thin.pedestal->portions = 24;
    CHECK_THROWS_WITH_AS(begin(thin, Seed{1}), doctest::Contains("one a presentation and a known one: 25"),
                         Refused);
}

TEST_CASE("a pedestal in every cup counts as intake in every cup") {
    Plan plan = difference_plan(Blinding::shuffled_tray, 8);
    const double cup_of_pedestal = 0.01 * plan.pedestal->mixed;
    CHECK(within(blank_intake(plan).acid.value, cup_of_pedestal, 1e-12));
    CHECK(within(presentation_intake(plan, 0).acid.value,
                 2 * cup_of_pedestal + 0.01 * plan.ladder.levels[0].mixed, 1e-12));
    CHECK(presentation_intake(plan, 0).acid_cups == 2.0);
    plan.caps = {
        {.what = "acid_cups", .per_sitting = 17, .per_day = 17, .source = "judgement", .why = "test"}};
    CHECK_THROWS_WITH_AS(begin(plan, Seed{1}), doctest::Contains("acid cups"), Refused);  // 8 · 2 and 2 known
    plan.caps[0].per_sitting = plan.caps[0].per_day = 18;
    CHECK_NOTHROW(begin(plan, Seed{1}));
}

TEST_CASE("a name given whenever in doubt is told, and one in as many names as there are is chance") {
    State drill = begin(recognition_plan(Blinding::served), Seed{7});
    CHECK(within(task_of(drill.plan).guess, 1.0 / 3.0, 1e-12));
    while (!is_finished(drill))
        drill = lock(std::move(drill), {1, Certainty::guessed, minute(drill.trials.size())});
    const auto habit = recognition::naming_habit(drill);
    REQUIRE(habit);
    CHECK(habit->name == 1);
    CHECK(finding(drill).sentences.size() == 1);
    CHECK(finding(drill).thresholds.size() == 3);
    for (const auto& one : recognition::result(drill))
        CHECK((one.taken_for_others == 0) == (one.name == "salt"));
    CHECK_FALSE(recognition::naming_habit(done(begin(recognition_plan(Blinding::served), Seed{8}), 3)));
    Plan twice = recognition_plan(Blinding::served);
    twice.others[1].substance.id = twice.others[1].ladder.substance = "sodium_chloride";
    CHECK_THROWS_AS(begin(twice, Seed{1}), Refused);
    twice = recognition_plan(Blinding::served);
    twice.others[1].substance.asked_for = twice.substance.asked_for;
    CHECK(recognition::name_asked(twice, 0) == "tartaric acid");
    CHECK_THROWS_AS(begin(recognition_plan(Blinding::shuffled_tray), Seed{1}), Refused);
}

TEST_CASE("who ticked a reason starts no drill whose cups hold alcohol, in the level or in the base") {
    const std::vector<std::string> reasons{"about to drive"};
    Plan plan = usual_plan(Blinding::served);
    CHECK_NOTHROW(begin(plan, Seed{1}, reasons));
    plan.blank.ethanol = Grams{0.01};
    CHECK_NOTHROW(begin(plan, Seed{1}));
    CHECK_THROWS_WITH_AS(begin(plan, Seed{1}, reasons), doctest::Contains("spitting does not change that"),
                         Refused);
    CHECK_THROWS_WITH_AS(begin(plan, Seed{1}, reasons), doctest::Contains("about to drive"), Refused);
    CHECK_THROWS_WITH_AS(begin(plan, Seed{1}, reasons), doctest::Contains("local rules"), Refused);
    plan = recognition_plan(Blinding::served);
    plan.others[0].substance.component = solution::Component::alcohol;
    CHECK(holds_ethanol(plan));
    CHECK_THROWS_AS(begin(plan, Seed{1}, reasons), Refused);
    plan = tray_check_plan();
    plan.substance.component = solution::Component::alcohol;
    CHECK_THROWS_AS(begin(plan, Seed{1}, reasons), Refused);  // smelled too
}

TEST_CASE("a stronger cup is followed by a longer rest, unless that would tell how strong it was") {
    Plan plan = usual_plan(Blinding::shuffled_tray);
    plan.rest_strong_s = 180;
    const auto rest = [&](std::size_t level) { return pacing::rest_after(plan, level).count(); };
    CHECK(rest(0) == 60);
    CHECK(rest(2) == 60);  // below the centre that is assumed of people
    CHECK(rest(5) > rest(3));
    CHECK(rest(5) <= 180);
    CHECK(rest(5) % 5 == 0);
    const auto longest = rest(5);
    plan.blinding = Blinding::served;
    for (std::size_t level = 0; level < 6; ++level) CHECK(rest(level) == longest);
    plan.rest_strong_s = 59;
    CHECK_THROWS_AS(begin(plan, Seed{1}), Refused);
    CHECK_FALSE(pacing::too_old(minute(0), minute(48 * 60)));
    CHECK(pacing::too_old(minute(0), minute(48 * 60 + 1))->find("48 hours") != std::string::npos);
}

TEST_CASE(
    "nose closed over open has the ratio of the thresholds, and no error of the bottles' common stock") {
    Plan plan = nose_plan(Blinding::shuffled_tray, 40);
    Assessor assessor{{-1.4, 0.6, 0.0}, 0.0, {}};
    assessor.others = {{{-0.6, 0.6, 0.0}, 0.0, {}}};
    const auto after = [&] { return nose::result(tasted(begin(plan, Seed{2}), assessor, Random{Seed{3}})); };
    const auto result = after();
    CHECK(result.ratio_lower < std::pow(10.0, 0.8));
    CHECK(result.ratio_upper > std::pow(10.0, 0.8));
    CHECK(result.closed_is_higher > 0.95);
    CHECK(within(std::log10(result.ratio), result.closed.log10 - result.open.log10, 0.01));
    for (auto& level : plan.ladder.levels) level.u_shared_rel = 0.3;
    const auto vague = after();
    CHECK(vague.open.sd_log10 > result.open.sd_log10 + 0.02);
    CHECK(within(vague.ratio_upper / vague.ratio_lower, result.ratio_upper / result.ratio_lower, 0.0, 1e-6));
}

TEST_CASE("3-AFC of the same bottles in one sitting checks a quick look, and says so when they disagree") {
    const State look = done(begin(quick_look_plan(Blinding::served), Seed{5}), 21);
    Plan picks_plan = look.plan;
    picks_plan.kind = Kind::detection;
    picks_plan.most_presentations = 8;
    const auto picks = [&](bool right) {
        State drill = begin(picks_plan, Seed{6});
        while (!is_finished(drill)) {
            const std::size_t place = *serving(drill)->place;
            drill = lock(std::move(drill),
                         {right ? place : (place + 1) % 3, Certainty::leaning, minute(drill.trials.size())});
        }
        return drill;
    };
    CHECK_FALSE(quick_look::check(look, {}));
    CHECK_FALSE(quick_look::check(look, std::vector<State>{look}));
    const auto missed = quick_look::check(look, std::vector<State>{look, picks(false)});
    REQUIRE(missed);
    CHECK(missed->presentations == 8);
    CHECK(missed->correct == 0);
    CHECK(missed->disagrees);
    CHECK(missed->text.find("they disagree") != std::string::npos);
    const auto found = quick_look::check(look, std::vector<State>{picks(true)});
    REQUIRE(found);
    CHECK(found->correct == 8);
    CHECK(found->p_value > missed->p_value);
    // Other bottles check nothing.
    picks_plan.ladder.levels.front().mixed *= 0.9;
    CHECK_FALSE(quick_look::check(look, std::vector<State>{picks(false)}));
    CHECK_FALSE(quick_look::check(begin(look.plan, Seed{7}), std::vector<State>{picks(true)}));
}
