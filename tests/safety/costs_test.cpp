#include "engine/safety/costs.hpp"

#include "engine/content/content.hpp"
#include "engine/problem.hpp"
#include "engine/solution/planner.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

const content::Content& shipped() {
    static const content::Content content =
        content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    return content;
}

solution::PlanRequest default_drill(const solution::Ladder& ladder) {
    return {.ladder = ladder,
            .substance = shipped().substance(ladder.substance()),
            .ingredient = shipped().ingredients_of(ladder.substance()).front(),
            .base = shipped().bases.front(),
            .equipment = shipped().kitchen("kitchen_fine"),
            .demand = {}};
}

}  // namespace

TEST_CASE("a default drill of every shipped ladder costs 38 cups and stays within its caps") {
    for (const solution::Ladder& ladder : shipped().ladders) {
        if (!ladder.id().ends_with("_first")) continue;
        CAPTURE(ladder.id());
        const solution::MixPlan plan = solution::plan(default_drill(ladder));
        const safety::Costs costs = safety::costs_of(plan);
        CHECK(costs.cups == 38);
        CHECK(costs.minutes > 30);
        CHECK(costs.bench_minutes == static_cast<int>(2 * plan.operations));
        CHECK_FALSE(safety::crossed_by(plan, shipped().cautions.caps));
        CHECK_NOTHROW(safety::refuse_above_caps(plan, shipped().cautions.caps));
    }
}

TEST_CASE("the worst case is the known cup and every presentation at the strongest rung, all swallowed") {
    const solution::MixPlan plan = solution::plan(default_drill(shipped().ladder("sucrose_first")));
    const double strongest = plan.levels.back().mixed;
    CHECK(within(safety::costs_of(plan).worst.sugar.value, 13 * 0.010 * strongest, 0.0, 1e-9));
}

TEST_CASE(
    "blanks count where the base holds any of what is capped, and such a plan is refused with the remedy") {
    solution::PlanRequest request = default_drill(shipped().ladder("sucrose_first"));
    request.base = shipped().base("acid_sugar_base");
    const solution::MixPlan plan = solution::plan(request);
    const safety::Intake worst = safety::costs_of(plan).worst;
    CHECK(worst.acid_cups == 38.0);
    CHECK(worst.acid.value >= 38 * 0.010 * 4.0 * 0.999);
    try {
        safety::refuse_above_caps(plan, shipped().cautions.caps);
        FAIL("was not refused");
    } catch (const Refused& refused) {
        CHECK(refused.problems().front().where == "intake, acid_cups");
        CHECK(refused.problems().front().right.find("fewer presentations") != std::string::npos);
    }
    request.demand.presentations = 6;
    CHECK_NOTHROW(safety::refuse_above_caps(solution::plan(request), shipped().cautions.caps));
}

TEST_CASE("a base with alcohol counts its blanks, and what was taken before counts too") {
    solution::PlanRequest request = default_drill(shipped().ladder("sodium_chloride_first"));
    request.base.ethanol = PercentVol{12.0};
    request.base.ethanol_from = "spirit_40";
    const solution::MixPlan plan = solution::plan(default_drill(shipped().ladder("sodium_chloride_first")));
    solution::MixPlan with_alcohol = plan;
    with_alcohol.request = request;
    CHECK(within(safety::costs_of(with_alcohol).worst.ethanol.value, 38 * 10 * 0.12 * 0.78924, 0.0, 1e-6));
    CHECK(safety::crossed_by(with_alcohol, shipped().cautions.caps));
    safety::Intake before;
    before.salt = Grams{1.9};
    CHECK(safety::crossed_by(plan, shipped().cautions.caps, {}, before)->per_day);
}
