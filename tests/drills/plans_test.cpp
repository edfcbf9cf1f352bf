#include "drills/plans.hpp"

#include "engine/problem.hpp"
#include "tests/drills/people.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;

TEST_CASE("the assumed prior says centre, spread and whose judgement it is") {
    solution::Substance sucrose = acid();
    sucrose.name = "sucrose";
    sucrose.prior = {2.3, 0.43, "some papers", "judgement"};
    const threshold::Prior prior = assumed_prior(sucrose);
    CHECK(prior.name == "assumed for sucrose: centre 2.3 g/L, factor 2.7 (judgement)");
    CHECK(within(prior.mean_log10, std::log10(2.3), 1e-12));
    CHECK(prior.sd_log10 == 0.43);
}

TEST_CASE("a flat prior reaches a factor of ten beyond the ladder") {
    const threshold::Prior prior = flat_prior(ladder_of(6, 3.0, 8));
    CHECK(prior.kind == threshold::Prior::Kind::flat);
    CHECK(within(prior.lower_log10, std::log10(0.101 / std::pow(3.0, 2.5)) - 1.0, 1e-9));
    CHECK(within(prior.upper_log10, std::log10(0.101 * std::pow(3.0, 2.5)) + 1.0, 1e-9));
}

TEST_CASE("own history widens with the weeks, and does not count the error of the same bottles twice") {
    OwnHistory history;
    history.last.log10 = -1.1;
    history.last.sd_log10 = 0.2;
    history.last.mixing_sd_log10 = 0.12;
    history.date = "2026-03-01";
    const double soon = own_prior(history).sd_log10;
    CHECK(within(soon, std::hypot(0.2, 0.1), 1e-12));
    history.weeks_ago = 4.0;
    CHECK(within(own_prior(history).sd_log10, std::sqrt(0.04 + 0.01 + 0.01), 1e-12));
    history.same_mix = true;
    CHECK(within(own_prior(history).sd_log10, std::sqrt(0.04 - 0.0144 + 0.01 + 0.01), 1e-12));
    CHECK(own_prior(history).mean_log10 == -1.1);
    CHECK(own_prior(history).name == "own history of 2026-03-01");
}

TEST_CASE("a plan from content is closed: it holds substance, base name, caps and rest in full") {
    content::Content content;
    content.substances = {acid()};
    content.bases = {{"still_water", "still water", 70.0}};
    content.cautions.caps = {
        {.what = "acid_g", .per_sitting = 3.0, .per_day = 3.0, .source = "judgement", .why = "made up"}};
    safety::Intake today;
    today.acid = Grams{0.25};
    DetectionOptions options;
    options.blinding = Blinding::served;
    const auto plan = detection_plan(content, ladder_of(6, 3.0, 8), options, today);
    CHECK(plan.substance.name == "tartaric acid");
    CHECK(plan.base_name == "still water");
    CHECK(plan.caps.size() == 1);
    CHECK(plan.rest_s == 60);
    CHECK(plan.blinding == Blinding::served);
    CHECK(plan.taken_today.acid == Grams{0.25});
    CHECK_NOTHROW(detection::begin(plan, Seed{1}));
    options.prior = PriorChoice::own_history;
    CHECK_THROWS_AS(detection_plan(content, ladder_of(6, 3.0, 8), options), Refused);
    auto other = ladder_of(6, 3.0, 8);
    other.substance = "gravel";
    CHECK_THROWS_AS(detection_plan(content, other, {}), Refused);
}
