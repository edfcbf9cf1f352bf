#include "engine/solution/glassware.hpp"

#include "engine/content/content.hpp"
#include "engine/problem.hpp"
#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <filesystem>
#include <limits>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

TEST_CASE("limits of flasks, cylinders, syringes and pipettes are those of the standards") {
    std::vector<double> flasks, cylinders, syringes, pipettes;
    const PublishedCase flask = published("glassware.json", "flasks");
    for (const double mL : flask.data("mL").numbers()) flasks.push_back(flask_limit(Millilitres{mL}).value);
    CHECK(within(flasks, flask.expected("limit_mL")));
    const PublishedCase cylinder = published("glassware.json", "cylinders");
    for (const double mL : cylinder.data("mL").numbers())
        cylinders.push_back(cylinder_limit(Millilitres{mL}).value);
    CHECK(within(cylinders, cylinder.expected("limit_mL")));
    const PublishedCase syringe = published("glassware.json", "syringes");
    for (std::size_t i = 0; i < syringe.data("nominal_mL").size(); ++i)
        syringes.push_back(syringe_limit(Millilitres{syringe.data("nominal_mL").numbers()[i]},
                                         Millilitres{syringe.data("expelled_mL").numbers()[i]})
                               .value);
    CHECK(within(syringes, syringe.expected("limit_mL")));
    const PublishedCase pipette = published("glassware.json", "pipettes");
    for (const double mL : pipette.data("nominal_mL").numbers())
        pipettes.push_back(100.0 * (pipette_limit(Millilitres{mL}) / Millilitres{mL}));
    CHECK(within(pipettes, pipette.expected("limit_percent")));
}

TEST_CASE("the smallest honest load follows from tare and reading") {
    const PublishedCase c = published("glassware.json", "balances");
    CAPTURE(c.source_text());
    std::vector<double> single, one_percent, two_percent;
    for (const double step : c.data("resolution_g").numbers()) {
        single.push_back(step / (2.0 * std::sqrt(3.0)));
        one_percent.push_back(smallest_load(Grams{step}, 0.01).value);
        two_percent.push_back(smallest_load(Grams{step}, 0.02).value);
    }
    CHECK(within(single, c.expected("u_single_g")));
    CHECK(within(one_percent, c.expected("smallest_load_for_1_percent_g")));
    CHECK(within(two_percent, c.expected("smallest_load_for_2_percent_g")));
}

TEST_CASE("levels drawn with one syringe are correlated as worked out") {
    const PublishedCase c = published("glassware.json", "correlation_between_levels");
    CAPTURE(c.source_text());
    const double common = c.data("u_common_rel").number();
    const double level = c.data("u_level_rel").number();
    const double syringe = c.data("syringe_limit_rel").number() / std::sqrt(3.0);
    const double variance = common * common + level * level;
    CHECK(within(common * common / variance, c.expected("r_independent_draws")));
    CHECK(within((common * common + syringe * syringe) / variance, c.expected("r_if_syringe_error_shared")));
}

TEST_CASE("every shipped vessel and balance keeps to the limits of its standard") {
    const content::Content content = content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    for (const Equipment& kitchen : content.equipment) {
        CAPTURE(kitchen.id);
        for (const Balance& balance : kitchen.balances)
            CHECK(balance.smallest_load >= smallest_load(balance.resolution, 0.02));
        for (const Vessel& vessel : kitchen.vessels) {
            CAPTURE(vessel.id);
            if (vessel.kind == VesselKind::syringe) {
                CHECK(within(vessel.tolerance_rel * vessel.nominal.value,
                             syringe_limit(vessel.nominal, vessel.nominal).value, 1e-12));
                CHECK(vessel.smallest.value >= 0.5 * vessel.nominal.value);
            }
            if (vessel.kind == VesselKind::flask) CHECK(vessel.tolerance == flask_limit(vessel.nominal));
            if (vessel.kind == VesselKind::cylinder) {
                CHECK(vessel.tolerance == cylinder_limit(vessel.nominal));
                CHECK(vessel.smallest.value >= 0.5 * vessel.nominal.value);
            }
            if (vessel.kind == VesselKind::pipette)
                CHECK(within(vessel.tolerance.value, pipette_limit(vessel.nominal).value, 1e-12));
        }
    }
}

TEST_CASE("absurd vessels are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double absurd : {nan, -1.0, 0.0, 1e9, std::numeric_limits<double>::infinity()}) {
        CAPTURE(absurd);
        CHECK_THROWS_AS(syringe_limit(Millilitres{absurd}, Millilitres{absurd}), Refused);
        CHECK_THROWS_AS(flask_limit(Millilitres{absurd}), Refused);
        CHECK_THROWS_AS(cylinder_limit(Millilitres{absurd}), Refused);
        CHECK_THROWS_AS(pipette_limit(Millilitres{absurd}), Refused);
        CHECK_THROWS_AS(smallest_load(Grams{0.1}, absurd), Refused);
    }
    CHECK_THROWS_AS(syringe_limit(Millilitres{5.0}, Millilitres{6.0}), Refused);
    CHECK_THROWS_AS(smallest_load(Grams{nan}, 0.01), Refused);
}
