#include "drills/detection.hpp"

#include "drills/blinding/shuffled_tray.hpp"
#include "engine/problem.hpp"
#include "tests/drills/people.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;

namespace {

std::string why_over(const detection::State& drill) {
    const Step step = detection::next(drill);
    REQUIRE(std::holds_alternative<Finished>(step));
    return std::get<Finished>(step).why;
}

/// Always picks the left cup.
detection::State left_answered(detection::State drill, std::size_t revealed) {
    const bool tray = drill.plan.blinding == Blinding::shuffled_tray;
    drill = detection::lock(std::move(drill), {0, Certainty::leaning, minute(drill.trials.size())});
    return tray ? detection::reveal(std::move(drill), revealed, minute(drill.trials.size())) : drill;
}

}  // namespace

TEST_CASE("a served drill shows a letter and three codes, and nothing of the shuffled tray") {
    const auto drill = detection::begin(usual_plan(Blinding::served), Seed{20250101});
    const Step step = detection::next(drill);
    REQUIRE(std::holds_alternative<Serve>(step));
    const Serve& serve = std::get<Serve>(step);
    CHECK(serve.number == 0);
    CHECK(serve.shown.letter.size() == 2);
    CHECK(serve.shown.codes.size() == 3);
    CHECK(serve.shown.bottle.empty());
    CHECK_FALSE(serve.shown.sign.has_value());
    CHECK(serve.before.find("bottle C") != std::string::npos);  // the strongest of six, one known cup of it
}

TEST_CASE("a shuffled tray shows bottle and sign, no codes, and asks for the place only after the lock") {
    auto drill = detection::begin(usual_plan(Blinding::shuffled_tray), Seed{7});
    const Serve serve = std::get<Serve>(detection::next(drill));
    CHECK(serve.shown.letter.empty());
    CHECK(serve.shown.codes.empty());
    REQUIRE(serve.shown.sign.has_value());
    CHECK_THROWS_AS(detection::reveal(drill, 0, minute(0)), Refused);

    drill = detection::lock(drill, {1, Certainty::sure, minute(0)});
    const Step step = detection::next(drill);
    REQUIRE(std::holds_alternative<Reveal>(step));
    CHECK(std::get<Reveal>(step).ask ==
          "Now look beneath: where was the " + shuffled_tray::text_of(*serve.shown.sign) + "?");
    CHECK(detection::answered(drill).empty());
    CHECK_FALSE(detection::serving(drill).has_value());
    CHECK_THROWS_AS(detection::lock(drill, {1, Certainty::sure, minute(0)}), Refused);
    CHECK_THROWS_AS(detection::reveal(drill, 3, minute(0)), Refused);

    drill = detection::reveal(drill, 1, minute(1));
    CHECK(std::holds_alternative<Rest>(detection::next(drill)));
    REQUIRE(detection::answered(drill).size() == 1);
    CHECK(detection::answered(drill)[0].correct);
    CHECK(std::get<Serve>(detection::next_after_rest(drill)).before.empty());
    CHECK(drill.trials[0].revealed_at == minute(1));
}

TEST_CASE("asking changes nothing, and a rest follows every done trial but the last") {
    auto drill = detection::begin(usual_plan(Blinding::served), Seed{3});
    Random random{Seed{4}};
    for (std::size_t number = 0; number < 12; ++number) {
        const Step now = number == 0 ? detection::next(drill) : detection::next_after_rest(drill);
        REQUIRE(std::holds_alternative<Serve>(now));
        CHECK(std::get<Serve>(now).shown == std::get<Serve>(detection::next_after_rest(drill)).shown);
        CHECK(std::get<Serve>(now).number == number);
        CHECK(std::holds_alternative<Rest>(detection::next(drill)) == (number > 0));
        drill = taste(std::move(drill), usual_assessor(), random, minute(number));
    }
    CHECK(why_over(drill) == "12 presentations done");
    CHECK(detection::cups(drill) == 36);
    CHECK_THROWS_AS(detection::lock(drill, {0, Certainty::sure, minute(20)}), Refused);
}

TEST_CASE("the pour card has each letter once and says what the drill shows and believes") {
    for (std::uint64_t seed = 0; seed < 20; ++seed) {
        CAPTURE(seed);
        const auto plan = usual_plan(Blinding::served);
        const auto card = detection::pour_card(plan, Seed{seed});
        CHECK(card.size() == 6 * 8 - 1);  // one portion is the known clear cup
        CHECK(std::is_sorted(card.begin(), card.end(),
                             [](const auto& a, const auto& b) { return a.letter < b.letter; }));
        const auto drill = tasted(detection::begin(plan, Seed{seed}), usual_assessor(), Random{Seed{seed}});
        std::set<std::string> used;
        for (const auto& trial : drill.trials) {
            const auto row = std::find_if(card.begin(), card.end(),
                                          [&](const auto& r) { return r.letter == trial.shown.letter; });
            REQUIRE(row != card.end());
            CHECK(row->level == trial.level);
            CHECK(row->bottle == plan.ladder.levels[trial.level].bottle);
            CHECK(row->place == trial.place);
            CHECK(row->codes == trial.shown.codes);
            used.insert(row->letter);
        }
        CHECK(used.size() == drill.trials.size());
    }
}

TEST_CASE("no rung is served more often than it has portions, and the drill ends when all are gone") {
    auto plan = plan_of(3, 3.0, 2, 12, Blinding::served);
    auto drill = detection::begin(plan, Seed{1});
    drill = tasted(std::move(drill), usual_assessor(), Random{Seed{2}});
    CHECK(drill.trials.size() == 5);  // three rungs of two, less the known clear cup
    CHECK(why_over(drill) == "no portions left in any bottle");
    for (std::size_t level = 0; level < 3; ++level)
        CHECK(std::count_if(drill.trials.begin(), drill.trials.end(),
                            [&](const auto& t) { return t.level == level; }) <= 2);
}

TEST_CASE("a drill stops as soon as it is as precise as was wanted, with the mixing uncertainty counted") {
    auto plan = plan_of(8, 2.0, 40, 40, Blinding::shuffled_tray);
    plan.stop_sd_log10 = 0.25;
    const auto drill = tasted(detection::begin(plan, Seed{11}), usual_assessor(), Random{Seed{12}});
    CHECK(drill.trials.size() < 40);
    CHECK(why_over(drill).starts_with("precise enough"));
    CHECK(detection::result(drill).sd_log10 <= 0.25);
    auto one_less = drill.trials;
    one_less.pop_back();
    CHECK(detection::result(detection::resume(plan, Seed{11}, one_less)).sd_log10 > 0.25);
    for (auto& level : plan.ladder.levels) level.u_shared_rel = 0.6;  // 0.26 log10 units: never within 0.25
    CHECK(tasted(detection::begin(plan, Seed{11}), usual_assessor(), Random{Seed{12}}).trials.size() == 40);
}

TEST_CASE("a plan whose worst case crosses a cap does not begin, and says which cap") {
    auto plan = usual_plan(Blinding::served);
    const double strongest = plan.ladder.levels.back().mixed;
    const double second = plan.ladder.levels[4].mixed;
    // One known cup, the seven that are left of the strongest, five of the next, 10 mL each.
    const double worst_g = (8.0 * strongest + 5.0 * second) * 0.010;
    plan.caps[0].per_sitting = 1.0001 * worst_g;
    CHECK_NOTHROW(detection::begin(plan, Seed{1}));
    plan.caps[0].per_sitting = 0.999 * worst_g;
    CHECK_THROWS_AS(detection::begin(plan, Seed{1}), Refused);
    plan.caps[0].per_sitting = 2.0;
    plan.taken_today.acid = Grams{2.9};
    CHECK_THROWS_WITH_AS(detection::begin(plan, Seed{1}), doctest::Contains("today"), Refused);
}

TEST_CASE("a cap that is about to be crossed stops the drill before the cup is poured, saying why") {
    auto plan = usual_plan(Blinding::shuffled_tray);
    auto drill = detection::begin(plan, Seed{1});
    for (int i = 0; i < 4; ++i) drill = left_answered(std::move(drill), 1);  // all wrong: ever stronger cups
    const double so_far = detection::intake(drill).acid.value;
    CHECK(so_far > 0.0);
    drill.plan.taken_today.acid = Grams{0.5};
    drill.plan.caps[0].per_day = so_far + 0.5 + 1e-6;
    CHECK(why_over(drill).find("today") != std::string::npos);
    drill.plan.caps[0].per_day = 3.0;
    CHECK_FALSE(detection::is_finished(drill));
    drill.plan.caps[0].per_sitting = so_far + 1e-6;
    CHECK(why_over(drill).find("acid") != std::string::npos);
    CHECK(detection::is_finished(drill));
    CHECK_THROWS_AS(detection::lock(drill, {0, Certainty::sure, minute(9)}), Refused);
}

TEST_CASE("a plan that cannot be carried out is refused with all that is wrong") {
    auto plan = usual_plan(Blinding::served);
    plan.rest_s = 5;
    plan.cup = Millilitres{0.0};
    plan.most_presentations = 0;
    plan.ladder.levels[2].bottle = plan.ladder.levels[1].bottle;
    plan.ladder.levels[5].mixed = 80.0;
    plan.ladder.substance = "sucrose";
    try {
        detection::begin(plan, Seed{1});
        FAIL("was not refused");
    } catch (const Refused& refused) {
        CHECK(refused.problems().size() == 6);
    }
    auto empty = usual_plan(Blinding::served);
    for (auto& level : empty.ladder.levels) level.portions = 0;
    CHECK_THROWS_WITH_AS(detection::begin(empty, Seed{1}), doctest::Contains("no portions"), Refused);
}

TEST_CASE("stopping keeps what was done and says so") {
    auto drill = detection::begin(usual_plan(Blinding::served), Seed{1});
    drill = left_answered(std::move(drill), 0);
    drill = left_answered(std::move(drill), 0);
    const auto stopped = detection::stop(drill, "a cold");
    CHECK(why_over(stopped) == "a cold");
    CHECK(detection::answered(stopped).size() == 2);
    CHECK(why_over(detection::stop(drill, "")) == "stopped by you");
    CHECK_FALSE(detection::serving(stopped).has_value());
}

TEST_CASE("a detection drill resumed from its trials goes on as if never left") {
    for (const Blinding blinding : {Blinding::served, Blinding::shuffled_tray})
        for (std::uint64_t seed = 0; seed < 10; ++seed) {
            CAPTURE(seed);
            Random random{Seed{seed + 100}};
            auto drill = detection::begin(usual_plan(blinding), Seed{seed});
            while (!detection::is_finished(drill)) {
                const auto again = detection::resume(drill.plan, drill.seed, drill.trials, drill.stopped);
                CHECK(again.posteriors() == drill.posteriors());
                CHECK(detection::serving(again)->shown == detection::serving(drill)->shown);
                CHECK(detection::serving(again)->level == detection::serving(drill)->level);
                drill = taste(std::move(drill), usual_assessor(), random, minute(drill.trials.size()));
            }
            const auto again = detection::resume(drill.plan, drill.seed, drill.trials);
            CHECK(again.posteriors() == drill.posteriors());
            CHECK(detection::is_finished(again));
        }
}

TEST_CASE("resuming trusts the trials, and refuses what no drill can have served") {
    auto drill = detection::begin(usual_plan(Blinding::served), Seed{1});
    drill = left_answered(std::move(drill), 0);
    auto trials = drill.trials;
    trials[0].level = 5;  // not what the rule would have chosen
    CHECK(detection::resume(drill.plan, drill.seed, trials).trials == trials);
    trials[0].level = 6;
    CHECK_THROWS_AS(detection::resume(drill.plan, drill.seed, trials), Refused);
    trials[0].level = 5;
    trials[0].given.reset();
    CHECK_THROWS_AS(detection::resume(drill.plan, drill.seed, trials), Refused);
}

TEST_CASE("a run of wrong answers is met with stronger cups, a run of right ones with weaker") {
    const auto last_level = [](bool right) {
        auto drill = detection::begin(usual_plan(Blinding::shuffled_tray), Seed{1});
        for (int i = 0; i < 5; ++i) drill = left_answered(std::move(drill), right ? 0 : 1);
        return detection::serving(drill)->level;
    };
    CHECK(last_level(false) > last_level(true));
}

TEST_CASE("a drill ends when its time is over, and an old rule is still carried out") {
    auto plan = usual_plan(Blinding::served);
    plan.most_minutes = 5;
    auto drill = detection::begin(plan, Seed{3});
    while (!detection::is_finished(drill)) drill = left_answered(std::move(drill), drill.trials.size() % 3);
    CHECK(drill.trials.size() == 6);  // answers at minutes 0 to 5
    CHECK(std::get<Finished>(detection::next(drill)).why == "5 minutes are over");
    plan.most_minutes = -1;
    CHECK_THROWS_AS(detection::begin(plan, Seed{3}), Refused);
    plan.most_minutes = 0;
    plan.rule_version = detection::current_rule + 1;
    CHECK_THROWS_AS(detection::begin(plan, Seed{3}), Refused);
    plan.rule_version = 1;
    CHECK_NOTHROW(detection::begin(plan, Seed{3}));
}

TEST_CASE("always the same place is warned of as a habit") {
    auto drill = detection::begin(usual_plan(Blinding::served), Seed{1});
    while (!detection::is_finished(drill)) drill = left_answered(std::move(drill), 0);
    const auto warnings = detection::result(drill).warnings;
    CHECK(std::any_of(warnings.begin(), warnings.end(), [](const threshold::Warning& warning) {
        return warning.kind == threshold::Warning::Kind::position_habit;
    }));
}

TEST_CASE("the simulated assessor is right as often as its curve says") {
    const auto plan = plan_of(2, 3.0, 100, 200, Blinding::shuffled_tray);
    Assessor assessor{{-1.0, 0.775, 0.06}, 0.05, {0.1, -0.1}};
    std::size_t right = 0;
    double expected = 0.0;
    double variance = 0.0;
    Random random{Seed{9}};
    for (std::uint64_t seed = 0; seed < 20; ++seed) {
        auto drill = detection::begin(plan, Seed{seed});
        for (std::size_t i = 0; i < 60; ++i) drill = taste(std::move(drill), assessor, random, minute(i));
        for (const auto& answer : detection::answered(drill)) {
            const double x =
                std::log10(plan.ladder.levels[answer.level].mixed) + 0.05 + (answer.level == 0 ? 0.1 : -0.1);
            const double psi = threshold::right_probability(assessor.truth, threshold::three_afc, x);
            expected += psi;
            variance += psi * (1.0 - psi);
            right += answer.correct ? 1 : 0;
        }
    }
    CHECK(within(static_cast<double>(right), expected, 4.0 * std::sqrt(variance)));
}

TEST_CASE("assessors are drawn from the prior, with mixing errors as large as the ladder claims") {
    const auto plan = usual_plan(Blinding::served);
    Random random{Seed{21}};
    constexpr int people = 4000;
    double sum = 0.0;
    double shared_square = 0.0;
    double own_square = 0.0;
    int beyond_two_sd = 0;
    for (int i = 0; i < people; ++i) {
        const Assessor assessor = drawn_assessor(plan, random);
        sum += assessor.truth.theta_log10;
        beyond_two_sd += std::abs(assessor.truth.theta_log10 + 1.0) > 0.7 ? 1 : 0;
        shared_square += assessor.mixing_error_shared_log10 * assessor.mixing_error_shared_log10;
        own_square += assessor.mixing_error_own_log10[3] * assessor.mixing_error_own_log10[3];
    }
    CHECK(within(sum / people, -1.0, 0.04));
    // 0.85 · 0.0455 + 0.15 · P(0.7 < |Normal(0, 0.8)| < 1.8), over what the cut leaves: 0.0926
    CHECK(within(static_cast<double>(beyond_two_sd) / people, 0.0926, 0.02));
    CHECK(within(std::sqrt(shared_square / people), 0.015 / std::log(10.0), 0.0, 0.05));
    CHECK(within(std::sqrt(own_square / people), 0.02 / std::log(10.0), 0.0, 0.05));
}

TEST_CASE("the serving order of a few seeds is pinned to the rule that made it") {
    // Pinned on 2026-11-25, rule versions 1 and 2. A change here means that current_rule must change.
    const auto order = [](Blinding blinding, std::uint64_t seed, int rule) {
        auto plan = usual_plan(blinding);
        plan.rule_version = rule;
        auto drill = detection::begin(plan, Seed{seed});
        std::string text;
        for (int i = 0; i < 6; ++i) {
            const auto now = detection::serving(drill);
            text += std::to_string(now->level) + now->shown.letter +
                    (now->place ? std::to_string(*now->place) + now->shown.codes[0].digits
                                : now->shown.bottle + shuffled_tray::text_of(*now->shown.sign)) +
                    " ";
            drill = left_answered(std::move(drill), static_cast<std::size_t>(i % 2));
        }
        return text;
    };
    CHECK(order(Blinding::served, 1, 1) == "3JK2812 3EM2637 4ZT1265 4TP0349 4SX1948 4WQ0690 ");
    CHECK(order(Blinding::served, 20250101, 1) == "3VS1258 3BK2742 4VH0683 4UH2605 4BN1490 4YZ2957 ");
    CHECK(order(Blinding::shuffled_tray, 1, 1) == "3Wcross 2Bring 3Wcross 3Wring 3Wring 3Wcross ");
    CHECK(order(Blinding::shuffled_tray, 20250101, 1) == "3Wdot 2Bring 3Wring 3Wring 3Wring 3Wring ");
    CHECK(order(Blinding::served, 1, 2) == "3JK2812 3EM2637 4ZT1265 4TP0349 4SX1948 4WQ0690 ");
    CHECK(order(Blinding::shuffled_tray, 20250101, 2) == "3Wdot 2Bring 3Wring 3Wring 3Wring 3Wring ");
}
