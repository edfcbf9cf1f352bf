#include "engine/solution/as_mixed.hpp"

#include "engine/problem.hpp"
#include "engine/solution/planner.hpp"
#include "tests/solution/kitchens.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

std::size_t step_into(const MixPlan& plan, const std::string& container) {
    for (std::size_t i = 0; i < plan.steps.size(); ++i)
        if (plan.steps[i].into == container) return i;
    FAIL("no step into ", container);
    return 0;
}

const MixedLevel& in_bottle(const MixedLadder& ladder, const std::string& bottle) {
    return *std::find_if(ladder.levels.begin(), ladder.levels.end(),
                         [&](const MixedLevel& level) { return level.bottle == bottle; });
}

}  // namespace

TEST_CASE("without readings the ladder is as planned") {
    for (const PlanRequest& request : {sugar_request(), acid_request(), alcohol_request()}) {
        const MixPlan planned = plan(request);
        const MixedLadder mixed = as_mixed(planned, {});
        CHECK(mixed == as_planned(planned));
        CHECK(mixed.substance == request.substance.id);
        CHECK(mixed.base == "still_water");
        REQUIRE(mixed.levels.size() == planned.levels.size());
        for (std::size_t i = 0; i < mixed.levels.size(); ++i) {
            CHECK(mixed.levels[i].bottle == planned.levels[i].bottle);
            CHECK(within(mixed.levels[i].mixed, planned.levels[i].mixed, 0.0, 1e-12));
            CHECK(within(mixed.levels[i].u_own_rel, planned.levels[i].u_own_rel, 0.0, 1e-9));
            CHECK(within(mixed.levels[i].u_shared_rel, planned.levels[i].u_shared_rel, 0.0, 1e-9));
            CHECK(mixed.levels[i].portions == planned.levels[i].portions);
        }
    }
}

TEST_CASE("a reading of one bottle moves that level alone and its own uncertainty with it") {
    const MixPlan planned = plan(sugar_request());
    const std::string bottle = planned.levels.front().bottle;
    const std::size_t step = step_into(planned, "bottle " + bottle);
    const MixedLadder mixed = as_mixed(planned, {{step, 1.2 * planned.steps[step].reading}});
    CHECK(within(in_bottle(mixed, bottle).mixed, 1.2 * planned.levels.front().mixed, 0.0, 1e-4));
    CHECK(in_bottle(mixed, bottle).u_own_rel < planned.levels.front().u_own_rel);
    for (std::size_t i = 1; i < planned.levels.size(); ++i)
        CHECK(in_bottle(mixed, planned.levels[i].bottle).mixed == planned.levels[i].mixed);
}

TEST_CASE("a reading of the stock moves every level drawn from it") {
    const MixPlan planned = plan(sugar_request());
    const std::size_t step = step_into(planned, "stock A");
    const MixedLadder mixed = as_mixed(planned, {{step, 1.1 * planned.steps[step].reading}});
    int moved = 0;
    for (const PlannedLevel& level : planned.levels) {
        const double ratio = in_bottle(mixed, level.bottle).mixed / level.mixed;
        CHECK(within(ratio, level.made_from == "stock A" ? 1.1 : 1.0, 0.002));
        moved += level.made_from == "stock A";
    }
    CHECK(moved >= 3);
}

TEST_CASE("levels that readings put out of order are sorted weakest first") {
    PlanRequest request = sugar_request();
    request.ladder = ladder_around("close", "sucrose", Scale::g_per_L, 6.0, 4, 1.5);
    const MixPlan planned = plan(request);
    const std::size_t weakest = step_into(planned, "bottle " + planned.levels[0].bottle);
    const MixedLadder mixed = as_mixed(planned, {{weakest, 2.0 * planned.steps[weakest].reading}});
    CHECK(mixed.levels.front().bottle == planned.levels[1].bottle);
    for (std::size_t i = 1; i < mixed.levels.size(); ++i)
        CHECK(mixed.levels[i].mixed > mixed.levels[i - 1].mixed);
}

TEST_CASE("impossible readings are refused and the step is named") {
    const MixPlan planned = plan(sugar_request());
    const double shown = planned.steps[0].reading;
    for (const double wrong : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN(),
                               std::numeric_limits<double>::infinity(), 3.1 * shown, shown / 3.1}) {
        CAPTURE(wrong);
        try {
            as_mixed(planned, {{0, wrong}});
            FAIL("was not refused");
        } catch (const Refused& refused) {
            CHECK(refused.problems().front().where == "step 1");
        }
    }
    CHECK_THROWS_AS(as_mixed(planned, {{planned.steps.size(), 1.0}}), Refused);
}

TEST_CASE("a load that does not fit under its total is refused") {
    const MixPlan planned = plan(sugar_request());
    for (std::size_t i = 0; i < planned.steps.size(); i += 2)
        if (planned.steps[i].reading > 0.5 * planned.steps[i + 1].reading)
            CHECK_THROWS_AS(as_mixed(planned, {{i, 1.01 * planned.steps[i + 1].reading}}), Refused);
}
