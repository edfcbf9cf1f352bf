#include "engine/solution/refill.hpp"

#include "engine/problem.hpp"
#include "engine/solution/planner.hpp"
#include "tests/solution/kitchens.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

MixPlan halving_plan(Equipment kitchen = kitchen_fine()) {
    return plan(request_of(sucrose(), powder(sucrose()), 2.0, std::move(kitchen), 5, 2.0));
}

}  // namespace

TEST_CASE("a bottle filled anew is as it was, with reading errors of its own") {
    const MixPlan planned = halving_plan();
    const AsMixed before = after_mixing(planned, {});
    for (std::size_t i = 1; i < planned.levels.size(); ++i) {
        const std::string bottle = before.ladder.levels[i].bottle;
        CAPTURE(bottle);
        Refill again;
        try {
            again = refill_anew(planned, {}, bottle);
        } catch (const Refused& refused) {  // the stock was made for one filling
            CHECK(std::string(refused.what()).find("are left") != std::string::npos);
            continue;
        }
        const MixedLevel& level = before.ladder.levels[i];
        CHECK(within(again.level.mixed, level.mixed, 0.0, 1e-12));
        CHECK(within(again.level.u_own_rel, level.u_own_rel, 0.0, 1e-9));
        CHECK(again.steps.size() == 2);
        // With its former filling it shares the shared part alone.
        CHECK(within(again.covariance_with[i], level.u_shared_rel * level.u_shared_rel, 1e-12, 1e-9));
    }
}

TEST_CASE("half of the next stronger rung carries its uncertainty and adds that of two halves") {
    const MixPlan planned = halving_plan();
    const AsMixed before = after_mixing(planned, {});
    const MixedLevel& stronger = before.ladder.levels[3];
    const Refill half =
        refill_from_stronger(planned, {}, before.ladder.levels[2].bottle, 4, Millilitres{60.0});
    CHECK(within(half.level.mixed, 0.5 * stronger.mixed, 0.0, 0.005));
    CHECK(half.level.portions >= 4);
    const double u = std::hypot(half.level.u_own_rel, half.level.u_shared_rel);
    const double carried = before.covariance.u_rel(3);
    CHECK(u > 0.999 * carried);  // a weaker solution has a little less slope in its density
    // About 23 g weighed into 46 g on a scale of 0.01 g: three roundings of 0.0029 g.
    const double load = half.steps[0].reading;
    const double total = half.steps[1].reading;
    CHECK(within(total, 2.0 * load, 1e-9));
    const double one = 0.01 / std::sqrt(12.0);
    const double added = one * std::sqrt(1 / (load * load) + 1 / (total * total) +
                                         (1 / load - 1 / total) * (1 / load - 1 / total));
    CHECK(within(u, std::hypot(carried, added), 0.0, 0.002));
    // Nearly all of it is that of the stronger rung.
    CHECK(within(half.covariance_with[3], carried * carried, 0.0, 0.01));
}

TEST_CASE("a syringe halves where there is no balance, and its calibration cancels") {
    Equipment kitchen = kitchen_fine();
    const MixPlan planned = halving_plan(kitchen);
    MixPlan without = planned;
    without.request.equipment.balances[0].capacity =
        Grams{30.0};  // the steps stand, a half does not fit on it
    const AsMixed before = after_mixing(without, {});
    const Refill half =
        refill_from_stronger(without, {}, before.ladder.levels[1].bottle, 4, Millilitres{60.0});
    CHECK(half.steps[0].unit == "mL");
    CHECK(half.steps[0].text.find("syringe") != std::string::npos);
    const double added = std::hypot(half.level.u_own_rel, half.level.u_shared_rel);
    const double carried = before.covariance.u_rel(2);
    CHECK(added < std::hypot(carried, 0.04 / std::sqrt(3.0)));  // less than one calibration of 4 %
    CHECK(added > carried);
}

TEST_CASE("a refill that cannot be is refused and says what would do") {
    const MixPlan planned = halving_plan();
    const MixedLadder ladder = as_planned(planned);
    const std::string weakest = ladder.levels.front().bottle;
    CHECK_THROWS_AS(refill_anew(planned, {}, "A1"), Refused);
    CHECK_THROWS_AS(refill_from_stronger(planned, {}, ladder.levels.back().bottle, 2, Millilitres{50.0}),
                    Refused);
    CHECK_THROWS_AS(refill_from_stronger(planned, {}, weakest, 0, Millilitres{50.0}), Refused);
    CHECK_THROWS_AS(refill_from_stronger(planned, {}, weakest, 9, Millilitres{5.0}), Refused);
    const MixPlan threes = plan(sugar_request());
    CHECK_THROWS_AS(
        refill_from_stronger(threes, {}, as_planned(threes).levels.front().bottle, 2, Millilitres{50.0}),
        Refused);
}
