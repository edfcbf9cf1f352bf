#include "engine/safety/intake.hpp"

#include "tests/support/published.hpp"

#include <doctest/doctest.h>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

solution::Substance of(const std::string& component) {
    using solution::Component;
    solution::Substance substance;
    substance.component = component == "alcohol"  ? Component::alcohol
                          : component == "bitter" ? Component::bitter
                          : component == "sour"   ? Component::sour
                                                  : Component::sweet;
    substance.scale = component == "alcohol" ? Scale::pct_vol : Scale::g_per_L;
    return substance;
}

}  // namespace

TEST_CASE("grams of ethanol follow from volume, strength and the density of ethanol") {
    const PublishedCase one = published("intake.json", "ethanol_grams");
    CAPTURE(one.source_text());
    const std::vector<double> strengths = one.data("strength_pct_vol").numbers();
    const std::vector<double> volumes = one.data("volume_mL").numbers();
    std::vector<double> grams;
    for (std::size_t i = 0; i < strengths.size(); ++i)
        grams.push_back(
            safety::intake_of_cup(of("alcohol"), strengths[i], Millilitres{volumes[i]}).ethanol.value);
    CHECK(within(grams, one.expected("ethanol_g")));
}

TEST_CASE("the intake of a mixed sitting is the sum of its cups") {
    const PublishedCase one = published("intake.json", "intake_sum");
    CAPTURE(one.source_text());
    safety::Intake sum;
    for (const PublishedValue& cups : one.data("cups").each())
        for (long i = 0; i < cups.at("count").integer(); ++i)
            sum += safety::intake_of_cup(of(cups.at("component").text()), cups.at("level").number(),
                                         Millilitres{cups.at("mL").number()});
    CHECK(within(sum.ethanol.value, one.expected("ethanol_g")));
    CHECK(within(sum.caffeine.value, one.expected("caffeine_mg")));
    CHECK(within(sum.acid.value, one.expected("acid_g")));
    CHECK(within(sum.sugar.value, one.expected("sugar_g")));
    CHECK(sum.acid_cups == 6.0);
}
