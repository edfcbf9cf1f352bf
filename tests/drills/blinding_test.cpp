#include "drills/blinding/shuffled_tray.hpp"
#include "drills/recognition.hpp"
#include "drills/tray_check.hpp"
#include "engine/problem.hpp"
#include "tests/drills/every_drill.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <map>
#include <set>

// The sealed key, the seat in a class, the check of a tray, and that nothing that is drawn can be guessed.

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;
using namespace sipladder::tests::every;
using nlohmann::json;

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

TEST_CASE("no code of an earlier drill of the sitting comes again, whatever the drill and however many") {
    for (const NamedPlan& one : every_plan()) {
        if (one.plan.blinding == Blinding::class_service) continue;  // the service draws for the whole class
        CAPTURE(one.name);
        Plan plan = one.plan;
        Random random{Seed{31}};
        plan.codes_before = blind_codes(random, 460);
        const State drill = begin(plan, Seed{3});
        const std::set<BlindCode> before(plan.codes_before.begin(), plan.codes_before.end());
        std::vector<BlindCode> own = codes_of(done(drill, 9));
        for (const CardRow& row :
             plan.blinding == Blinding::served ? pour_card(plan, Seed{3}) : std::vector<CardRow>{})
            own.insert(own.end(), row.codes.begin(), row.codes.end());
        for (const BlindCode& code : own) CHECK(!before.contains(code));
        CHECK(own.empty() == (plan.blinding == Blinding::shuffled_tray));
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
        CHECK(cups_tasted(drill) == 3);  // none is known beforehand
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
