#include "drills/blinding/sealed_key.hpp"
#include "drills/blinding/shuffled_tray.hpp"
#include "drills/nose.hpp"
#include "drills/pacing.hpp"
#include "drills/quick_look.hpp"
#include "drills/recognition.hpp"
#include "drills/record.hpp"
#include "drills/tray_check.hpp"
#include "engine/problem.hpp"
#include "tests/drills/every_drill.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <set>

// What holds for every drill in every blinding; then what is each drill's own.

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;
using nlohmann::json;

namespace {

/// Written down as it goes, as the window does it: copy, rows, then believe.
struct Kept {
    journal::Drill drill;
    std::vector<journal::Entry> entries;
    State state;
    Random ids{Seed{77}};

    Kept(const Plan& plan, Seed seed) : state(begin(plan, seed)) {
        drill = {
            uuid_from(ids), uuid_from(ids), name_of(plan.kind), minute(0), record::body_of(plan, seed), {}};
    }
    void go_to(State after) {
        for (auto& row : record::entries_between(state, after, drill.id, static_cast<int>(entries.size()),
                                                 minute(entries.size()), ids))
            entries.push_back(std::move(row));
        state = std::move(after);
    }
    State again() const { return record::read(drill, entries); }
};

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
    CHECK(one.posteriors == other.posteriors);
    CHECK((one.graded == nullptr) == (other.graded == nullptr));
    if (one.graded && other.graded) CHECK(*one.graded == *other.graded);
    CHECK(one.seed == other.seed);
    CHECK(one.stopped == other.stopped);
    CHECK(one.rests_cut == other.rests_cut);
    CHECK(told(next(one)) == told(next(other)));
    CHECK(told(next_after_rest(one)) == told(next_after_rest(other)));
    CHECK(record::body_of(one.plan, one.seed) == record::body_of(other.plan, other.seed));
}

/// One step: an answer and, apart from it, what is read in after it.
State one_step(State drill, std::size_t number) {
    const Step step = next_after_rest(drill);
    if (std::holds_alternative<Serve>(step)) {
        const std::size_t choices = std::get<Serve>(step).question.choices.size();
        return lock(std::move(drill), {number % choices, Certainty::leaning, minute(number)});
    }
    REQUIRE(std::holds_alternative<Reveal>(step));
    if (drill.plan.blinding != Blinding::sealed_key)
        return reveal(std::move(drill), number * 7 % cups_together(drill.plan), minute(number));
    const auto list = sealed_key::pour_list(drill.plan);
    for (std::size_t offset = 0;; ++offset) {  // the next mark of which there is one left
        const std::size_t mark = (number * 5 + offset) % list.size();
        const auto seen = std::count_if(drill.trials.begin(), drill.trials.end(), [&](const Trial& trial) {
            return trial.is_done() && trial.series == list[mark].series && trial.level == list[mark].level &&
                   trial.is_blank == list[mark].is_blank;
        });
        if (seen < list[mark].poured) return reveal(std::move(drill), mark, minute(number));
    }
}

State done(State drill, std::uint64_t seed) {
    const Assessor assessor = somebody(drill.plan, seed);
    return tasted(std::move(drill), assessor, Random{Seed{seed + 1}});
}

}  // namespace

TEST_CASE("every drill cut at any step, between lock and reveal too, goes on in the same state") {
    for (const NamedPlan& one : every_plan()) {
        CAPTURE(one.name);
        Kept kept(one.plan, Seed{31});
        check_same(kept.again(), kept.state);
        std::size_t steps = 0;
        while (!is_finished(kept.state)) {
            if (steps == 3) kept.go_to(cut_rest(kept.state, 17));
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
        for (std::size_t number = 0; number < 4; ++number) {
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

TEST_CASE("with a sealed key no sum and no row tells what was tasted before the key is read in") {
    Kept kept(quick_look_plan(Blinding::sealed_key), Seed{12});
    double last = 0.0;
    for (std::size_t i = 0; i < 10; ++i) {
        kept.go_to(one_step(kept.state, i));
        const json row = json::parse(kept.entries.back().body);
        CHECK(row.count("level") + row.count("blank") + row.count("place") + row.count("series") == 0);
        // As if the strongest of all that were poured came first: the same whatever it was.
        const double sum = intake(kept.state).acid.value;
        CHECK(sum >= last);
        last = sum;
    }
    while (!is_finished(kept.state)) kept.go_to(one_step(kept.state, kept.entries.size()));
    double exact = known_intake(kept.state.plan).acid.value;
    for (const Trial& trial : kept.state.trials)
        if (!trial.is_blank) exact += presentation_intake(kept.state.plan, trial.level).acid.value;
    CHECK(within(intake(kept.state).acid.value, exact, 1e-12));
}

TEST_CASE(
    "more is poured for a sealed key than is served, a third of it blanks, and each rung at least once") {
    const Plan plan = quick_look_plan(Blinding::sealed_key, 10);
    CHECK(sealed_key::cups_poured(plan) == 14);
    const auto list = sealed_key::pour_list(plan);
    int sum = 0;
    for (const auto& one : list) {
        CHECK(one.poured >= 1);
        sum += one.poured;
    }
    CHECK(sum == 14);
    CHECK(list.back().mark == "base");
    CHECK(list.back().poured == 5);
    const auto codes = sealed_key::codes(plan, Seed{3});
    CHECK(codes.size() == 14);
    CHECK(std::set<BlindCode>(codes.begin(), codes.end()).size() == 14);
    Plan short_of_one = plan;
    short_of_one.ladder.levels[2].portions = 0;
    CHECK_THROWS_WITH_AS(begin(short_of_one, Seed{3}), doctest::Contains("portions to pour"), Refused);
}

TEST_CASE("a wrong or duplicated entry of the key is refused, naming the cup") {
    State drill = begin(quick_look_plan(Blinding::sealed_key, 10), Seed{3});
    for (std::size_t i = 0; i < 10; ++i) drill = one_step(std::move(drill), i);
    CHECK_THROWS_AS(lock(drill, {0, Certainty::sure, minute(11)}), Refused);
    const auto list = sealed_key::pour_list(drill.plan);
    std::vector<sealed_key::KeyEntry> key;
    std::vector<int> left;
    for (const auto& one : list) left.push_back(one.poured);
    for (std::size_t i = 0; i < 10; ++i) {
        std::size_t mark = i % list.size();
        while (left[mark] == 0) mark = (mark + 1) % list.size();
        --left[mark];
        key.push_back({drill.trials[9 - i].shown.codes[0].digits, list[mark].mark});
    }
    const State read = sealed_key::read_in(drill, key, minute(12));
    CHECK(is_finished(read));
    for (std::size_t i = 0; i < 10; ++i) {
        const Trial& trial = read.trials[9 - i];
        CHECK((trial.is_blank ? "base" : read.plan.ladder.levels[trial.level].bottle) == key[i].mark);
    }
    const auto refused = [&](const std::vector<sealed_key::KeyEntry>& entries, const std::string& what) {
        CAPTURE(what);
        CHECK_THROWS_WITH_AS(sealed_key::read_in(drill, entries, minute(12)), doctest::Contains(what.c_str()),
                             Refused);
    };
    auto twice = key;
    twice[1].code = twice[0].code;
    refused(twice, "read in twice");
    auto strange = key;
    strange[1].code = "999";
    refused(strange, "not one whose key is wanted");
    auto marked = key;
    marked[2].mark = "Z9";
    refused(marked, "bears \"Z9\"");
    auto fewer = key;
    fewer.pop_back();
    refused(fewer, "missing from the key");
    auto too_many = key;
    for (auto& one : too_many) one.mark = "base";
    refused(too_many, "look at the marks again");
    for (int i = 0; i < list.back().poured; ++i)
        drill = reveal(std::move(drill), list.size() - 1, minute(13));
    CHECK_THROWS_AS(reveal(drill, list.size() - 1, minute(14)), Refused);
    CHECK_THROWS_AS(reveal(drill, list.size(), minute(14)), Refused);
    // Stopped early, the key of what was tasted is still wanted.
    State stopped = begin(quick_look_plan(Blinding::sealed_key, 10), Seed{4});
    stopped = stop(one_step(std::move(stopped), 1), "the telephone");
    CHECK(std::holds_alternative<Reveal>(next(stopped)));
    CHECK(is_finished(reveal(stopped, 0, minute(2))));
}

TEST_CASE("a seat of a class is served as the class service says, rung by rung") {
    const Plan plan = ascending_plan(Blinding::class_service, 1);
    const classroom::Service service = example_class();
    const State drill = done(begin(plan, Seed{1}), 5);
    REQUIRE(drill.trials.size() == 6);
    const auto& servings = service.seats[4].servings[0];
    for (std::size_t i = 0; i < 6; ++i) {
        const auto& cups = servings[i].cups;
        for (std::size_t place = 0; place < 3; ++place)
            CHECK(drill.trials[i].shown.codes[place] == cups[place].code);
        const std::size_t where = *drill.trials[i].place;
        CHECK_FALSE(cups[where].is_blank);
        CHECK(cups[where].sample == drill.trials[i].level);
    }
    Plan fewer = plan;
    fewer.seat->settings.pop_back();
    CHECK_THROWS_WITH_AS(begin(fewer, Seed{1}), doctest::Contains("one for each of 6"), Refused);
    classroom::ClassPlan twice = service.plan;
    twice.drills[0].samples[0].times = 2;
    CHECK_THROWS_AS(seat_in(classroom::design(twice, Seed{1}), 0, 0), Refused);
}

TEST_CASE(
    "signs, places and the order of substances are balanced, and what came before tells nothing of them") {
    constexpr int sittings = 300;
    constexpr std::size_t presentations = 24;
    // What is drawn, as numbers below `kinds`, over many sittings.
    struct Drawn {
        std::string name;
        std::size_t kinds;
        std::vector<std::size_t> (*sitting)(std::uint64_t seed);
    };
    const Drawn every[] = {
        {"signs of three", 3,
         [](std::uint64_t seed) {
             std::vector<std::size_t> drawn;
             for (std::size_t i = 0; i < presentations; ++i)
                 drawn.push_back(static_cast<std::size_t>(shuffled_tray::drawn_sign(Seed{seed}, i)));
             return drawn;
         }},
        {"signs of two", 2,
         [](std::uint64_t seed) {
             std::vector<std::size_t> drawn;
             for (std::size_t i = 0; i < presentations; ++i)
                 drawn.push_back(static_cast<std::size_t>(shuffled_tray::drawn_sign(Seed{seed}, i, 2)));
             return drawn;
         }},
        {"substances", 3,
         [](std::uint64_t seed) {
             auto drawn =
                 recognition::drawn_order(recognition_plan(Blinding::served, presentations), Seed{seed});
             drawn.resize(presentations);
             return drawn;
         }},
        {"places of a card", 3,
         [](std::uint64_t seed) {
             std::vector<std::size_t> drawn;
             auto plan = usual_plan(Blinding::served);
             for (const CardRow& row : pour_card(plan, Seed{seed})) drawn.push_back(row.place);
             drawn.resize(presentations);
             return drawn;
         }},
    };
    for (const Drawn& one : every) {
        CAPTURE(one.name);
        std::vector<double> counts(one.kinds, 0.0);
        double repeats = 0.0;
        double after_two_alike = 0.0;
        double third_alike = 0.0;
        for (std::uint64_t seed = 1; seed <= sittings; ++seed) {
            const auto drawn = one.sitting(seed);
            for (std::size_t i = 0; i < drawn.size(); ++i) {
                counts[drawn[i]] += 1.0;
                if (i > 0 && drawn[i] == drawn[i - 1]) repeats += 1.0;
                if (i < 2 || drawn[i - 1] != drawn[i - 2]) continue;
                after_two_alike += 1.0;
                if (drawn[i] == drawn[i - 1]) third_alike += 1.0;
            }
        }
        const double n = sittings * presentations;
        const double p = 1.0 / static_cast<double>(one.kinds);
        for (const double count : counts) CHECK(within(count, n * p, 4.0 * std::sqrt(n * p * (1.0 - p))));
        const double pairs = sittings * (presentations - 1.0);
        // Drawn from a balanced lot, a repeat is a little rarer than 1 in so many: by less than 0.03.
        CHECK(within(repeats / pairs, p, 0.03 + 4.0 * std::sqrt(p * (1.0 - p) / pairs)));
        // No rule ends a run: after two alike a third is nearly as likely as ever, so waiting for it pays
        // nobody.
        CHECK(within(third_alike / after_two_alike, p,
                     0.05 + 4.0 * std::sqrt(p * (1.0 - p) / after_two_alike)));
    }
}

TEST_CASE("in each pair of presentations the nose is once open and once closed, either first") {
    std::size_t open_first = 0;
    for (std::uint64_t seed = 0; seed < 60; ++seed) {
        State drill = begin(nose_plan(Blinding::served, 8), Seed{seed});
        while (!is_finished(drill)) drill = one_step(std::move(drill), drill.trials.size());
        for (std::size_t i = 0; i < 8; i += 2) {
            CHECK(drill.trials[i].series != drill.trials[i + 1].series);
            CHECK((drill.trials[i].shown.nose == Nose::open) == (drill.trials[i].series == 0));
        }
        open_first += drill.trials[0].series == 0 ? 1U : 0U;
    }
    CHECK(open_first > 15);
    CHECK(open_first < 45);
}

TEST_CASE("codes never come twice in a sitting, whatever the drill") {
    for (const NamedPlan& one : every_plan()) {
        CAPTURE(one.name);
        const State drill = done(begin(one.plan, Seed{2}), 9);
        std::set<std::string> codes;
        std::size_t all = 0;
        for (const Trial& trial : drill.trials)
            for (const BlindCode& code : trial.shown.codes) {
                codes.insert(code.digits);
                ++all;
            }
        CHECK(codes.size() == all);
    }
}

TEST_CASE("eight of twelve right by look and sniff means that the tray can be seen through, seven do not") {
    const auto after = [](std::size_t right) {
        State drill = begin(tray_check_plan(), Seed{4});
        CHECK(known_cups(drill.plan) == 0);
        const auto sign = std::get<Serve>(next(drill)).shown.sign;
        for (std::size_t i = 0; i < 12; ++i) {
            CHECK(std::get<Serve>(next(drill)).shown.sign == sign);  // filled once
            CHECK(serving(drill)->level == 5);
            drill = lock(std::move(drill), {0, Certainty::guessed, minute(i)});
            drill = reveal(std::move(drill), i < right ? 0 : 1, minute(i));
        }
        CHECK(is_finished(drill));
        CHECK(cups(drill) == 3);
        CHECK(intake(drill).acid.value == 0.0);
        return tray_check::result(drill);
    };
    const auto eight = after(8);
    CHECK(eight.is_seen_through);
    CHECK(within(eight.p_value, 0.01876, 5e-5));  // binomial upper tail, 12 rounds at 1 in 3
    CHECK(eight.advice.size() > 3);
    const auto seven = after(7);
    CHECK_FALSE(seven.is_seen_through);
    CHECK(within(seven.p_value, 0.06645, 5e-5));
    CHECK(seven.advice.empty());
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
    CHECK(finding(drill).sentences.size() == 1);
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
