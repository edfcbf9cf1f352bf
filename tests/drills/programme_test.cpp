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
    CHECK(shipped().programmes.size() == 4);
    for (const content::Programme& programme : shipped().programmes) {
        CAPTURE(programme.id);
        for (const Problem& problem : problems_of(programme, shipped())) FAIL_CHECK(to_text(problem));
        const Budget budget = budget_of(programme, shipped());
        MESSAGE(programme.id, ": ", budget.cups, " cups, ", budget.minutes, " minutes, ethanol ",
                budget.worst.ethanol.value, " g, tannin ", budget.worst.tannin.value, " g, acid cups ",
                budget.worst.acid_cups);
        CHECK(budget.cups > 0);
        CHECK(bench_demand(programme, shipped()).size() >= 1);
    }
    CHECK(budget_of(shipped().programme("check_up"), shipped()).minutes <= 20);
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
        CHECK(problems_of(programme, shipped(), reasons).empty() == (programme.id != "tannin_and_alcohol"));
    }
}

TEST_CASE("one bench sheet supplies a ladder that several drills share") {
    const auto demand = bench_demand(shipped().programme("acid_and_sugar"), shipped());
    REQUIRE(demand.size() == 3);
    CHECK(demand[0].ladder == "tartaric_acid_first");
    CHECK(demand[0].demand.presentations == 8 + 5);
    CHECK(demand[0].demand.cups_per_presentation == 3);
    CHECK(demand[1].demand.presentations == 5);
    CHECK(demand[1].demand.cups_per_presentation == 1);
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
