#include "drills/programme.hpp"

#include "drills/record_notes.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace sipladder;
using namespace sipladder::drills;

namespace {

const content::Content& shipped() {
    static const content::Content content = content::load(SIPLADDER_SOURCE_DIR "/content");
    return content;
}

}  // namespace

TEST_CASE("every programme that is shipped fits cups, minutes and every cap at its worst") {
    CHECK(shipped().programmes.size() == 12);
    for (const content::Programme& programme : shipped().programmes) {
        CAPTURE(programme.id);
        for (const Problem& problem : problems_of(programme, shipped())) FAIL_CHECK(to_text(problem));
        const Budget budget = budget_of(programme, shipped());
        MESSAGE(programme.id, ": ", budget.cups, " cups, ", budget.minutes, " minutes, ethanol ",
                budget.worst.ethanol.value, " g, tannin ", budget.worst.tannin.value, " g, acid cups ",
                budget.worst.acid_cups);
        CHECK(budget.cups > 0);
        CHECK(demands_of(sitting_of(programme, shipped()), shipped()).size() >= 1);
    }
    CHECK(budget_of(shipped().programme("check_up"), shipped()).minutes <= 20);
    CHECK(budget_of(shipped().programme("palate_check"), shipped()).minutes <= 30);
}

TEST_CASE("drills of one programme share its caps, so that the second counts what the first may give") {
    content::Programme programme = shipped().programme("tannin_and_alcohol");
    REQUIRE(problems_of(programme, shipped()).empty());
    const auto plans_before = budget_of(programme, shipped());
    CHECK(plans_before.worst.ethanol.value < 10.0);
    programme.drills[0] = programme.drills[1];  // alcohol twice: 20 cups at the strongest rung
    const auto problems = problems_of(programme, shipped());
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].what.find("alcohol") != std::string::npos);
    programme = shipped().programme("check_up");
    programme.drills[0].presentations = 11;
    CHECK(problems_of(programme, shipped()).size() == 1);  // 20 minutes are promised
    programme.most_minutes = 0;
    programme.drills[0].presentations = 70;
    CHECK(problems_of(programme, shipped()).size() >= 2);  // cups and minutes
}

TEST_CASE("a programme with alcohol is refused to who ticked a reason, and the others are not") {
    const std::vector<std::string> reasons{shipped().cautions.no_ethanol_reasons.front()};
    for (const content::Programme& programme : shipped().programmes) {
        CAPTURE(programme.id);
        CHECK(problems_of(programme, shipped(), reasons).empty() ==
              (programme.id.find("alcohol") == std::string::npos));
    }
}

TEST_CASE("one bench sheet supplies a ladder that several drills share") {
    const WantedSitting sitting = sitting_of(shipped().programme("acid_and_sugar"), shipped());
    const auto demand = demands_of(sitting, shipped());
    REQUIRE(demand.size() == 3);
    CHECK(sitting.ladders[0].id() == "tartaric_acid_first");
    CHECK(demand[0].presentations == 8 + 5);
    CHECK(demand[0].cups_per_presentation == 3);
    // 0.6 of 8 and of 5, rounded up; a known clear cup for each drill from the strongest.
    CHECK(demand[0].of_rung == std::vector<std::size_t>{8, 8, 8, 8, 8, 10});
    CHECK(demand[0].blanks == std::size_t{2 * 8 + 1});
    CHECK(demand[1].presentations == 5);
    CHECK(demand[1].cups_per_presentation == 1);
    CHECK(demand[1].of_rung == std::vector<std::size_t>{3, 3, 3, 3, 3, 4});
    CHECK(demand[1].blanks == std::size_t{1});
}

TEST_CASE("each drill has in its bottles what it may ask for, so that a mix of its own never falls short") {
    const content::Content& content = shipped();
    const auto ladders = [&](const WantedDrill& drill) {
        std::vector<solution::Ladder> all{content.ladder(
            drill.kind == Kind::difference ? "tartaric_acid_pedestal" : "tartaric_acid_first")};
        if (drill.ladders.size() > 1) all.push_back(content.ladder("sucrose_first"));
        return all;
    };
    using K = Kind;
    using B = Blinding;
    const std::vector<WantedDrill> drills{{K::detection, Order::adaptive, B::shuffled_tray, 12, {0}},
                                          {K::detection, Order::ascending, B::served, 12, {0}},
                                          {K::quick_look, Order::adaptive, B::sealed_key, 10, {0}},
                                          {K::quick_look, Order::adaptive, B::served, 10, {0}},
                                          {K::recognition, Order::adaptive, B::sealed_key, 16, {0, 1}},
                                          {K::recognition, Order::adaptive, B::served, 16, {0, 1}},
                                          {K::difference, Order::adaptive, B::shuffled_tray, 8, {0}},
                                          {K::nose, Order::adaptive, B::served, 16, {0}},
                                          {K::tray_check, Order::adaptive, B::shuffled_tray, 12, {0}}};
    for (const WantedDrill& drill : drills) {
        CAPTURE(name_of(drill.kind));
        const WantedSitting sitting{
            .name = "one drill", .drills = {drill}, .ladders = ladders(drill), .base = "purified_water"};
        const auto demand = demands_of(sitting, content);
        std::vector<solution::MixedLadder> mixed = on_target(sitting);
        for (std::size_t i = 0; i < mixed.size(); ++i)
            for (std::size_t rung = 0; rung < mixed[i].levels.size(); ++rung)
                mixed[i].levels[rung].portions = static_cast<int>(demand[i].of_rung[rung]);
        const std::vector<Plan> plans = plans_of(sitting, content, mixed);
        for (const Problem& problem : problems_of(sitting, content, plans)) FAIL_CHECK(to_text(problem));
        CHECK(known_cups(plans.front()) == (drill.kind == K::tray_check ? 0 : 1 + drill.ladders.size()));
    }
    // Every cup of a difference holds the pedestal: one beside each level, one known, and nothing of the
    // base.
    const WantedSitting difference{
        .name = "difference", .drills = {drills[6]}, .ladders = ladders(drills[6]), .base = "purified_water"};
    const auto demand = demands_of(difference, content).front();
    CHECK(demand.of_rung == std::vector<std::size_t>{9, 5, 5, 5, 5, 6});
    CHECK(demand.blanks == std::size_t{0});
    // In a base that holds the acid itself the base is the pedestal.
    WantedSitting in_base = difference;
    in_base.base = "acid_sugar_base";
    in_base.ladders = {content.ladder("tartaric_acid_first")};
    CHECK(demands_of(in_base, content).front().of_rung == std::vector<std::size_t>{5, 5, 5, 5, 5, 6});
    CHECK(demands_of(in_base, content).front().blanks == std::size_t{9});
}

TEST_CASE("a programme that compares two conditions asks for both mixes, or for twice as much of one") {
    const WantedSitting sitting = sitting_of(shipped().programme("what_hides_what"), shipped());
    const auto demand = demands_of(sitting, shipped());
    REQUIRE(demand.size() == 4);
    CHECK(sitting.ladders[1].id() == "sucrose_words");
    CHECK(sitting.bases == std::vector<std::string>{"purified_water", "water_with_acid", "purified_water",
                                                    "water_with_sugar"});
    // Two balances draw on the plain bottles, and the cool ones are filled from them as well.
    CHECK(demand[0].of_rung[0] == 4 + 3 + 3);
    CHECK(demand[1].of_rung[0] == 4);
    const std::vector<Plan> plans = plans_of(sitting, shipped(), on_target(sitting));
    CHECK(plans[0].others[0].condition == "with acid");
    CHECK(tests::within(plans[0].others[0].beside.acid.value, 0.04, 1e-9));
    CHECK(plans[0].others[0].ladder.base == "water_with_acid");
    CHECK_FALSE(plans[0].others[0].same_bottles);
    CHECK(plans[1].others[0].condition == "cool");
    CHECK(plans[1].others[0].same_bottles);
    CHECK(plans[1].others[0].ladder.levels[0].bottle == "bottle 1, cool");
    CHECK(plans[2].others[0].beside.sugar.value > 0.0);
    CHECK_NOTHROW(begin(plans[0], Seed{1}));
    const auto alcohol = shipped().programme("sugar_and_alcohol");
    CHECK(budget_of(alcohol, shipped()).worst.ethanol.value < 4.0);
}

TEST_CASE("temperature and spoilers of a sitting come back from its body") {
    record::Circumstances told;
    told.spoilers = {shipped().sitting.spoilers.front().text};
    told.blinding = "sealed_key";
    journal::Sitting sitting;
    sitting.body = record::body_of(told);
    CHECK(record::read_circumstances(sitting) == told);
    CHECK(sitting.body.find("temperature") == std::string::npos);  // as it was ever written
    told.temperature_degC = 19.5;
    sitting.body = record::body_of(told);
    CHECK(record::read_circumstances(sitting) == told);
    CHECK(shipped().sitting.coolest < shipped().sitting.warmest);
}
