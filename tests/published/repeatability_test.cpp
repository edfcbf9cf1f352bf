#include "engine/threshold/repeatability.hpp"

#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::threshold;

TEST_CASE("repeatability of two meters agrees with Bland and Altman") {
    for (const char* id : {"peak_flow_wright", "peak_flow_mini"}) {
        const PublishedCase c = published("repeatability.json", id);
        CAPTURE(c.source_text());
        const std::vector<double> first = c.data("first").numbers();
        const std::vector<double> second = c.data("second").numbers();
        const Repeatability found = repeatability(first, second);
        CHECK(found.pairs == 17);
        CHECK(within(found.sd_about_zero, c.expected("sd_about_zero")));
        CHECK(within(found.within_sd, c.expected("within_sd")));
        CHECK(within(found.coefficient, c.expected("coefficient")));
        CHECK(within(2.0 * found.sd_about_zero, c.expected("twice_sd_about_zero")));
        CHECK(within(2.0 * found.sd_about_zero, c.expected("twice_sd_about_zero_printed")));
        CHECK(within(agreement(first, second).sd_difference, c.expected("sd_difference")));
    }
}

TEST_CASE("limits of agreement of two methods agree with Bland and Altman") {
    const PublishedCase c = published("repeatability.json", "peak_flow_methods");
    CAPTURE(c.source_text());
    const Agreement found = agreement(c.data("first").numbers(), c.data("second").numbers());
    const double mean = found.mean_difference;
    const double sd = found.sd_difference;
    CHECK(within(mean, c.expected("mean_difference")));
    CHECK(within(sd, c.expected("sd_difference")));
    CHECK(within(std::vector<double>{found.lower, found.upper}, c.expected("limits")));
    CHECK(within(std::vector<double>{found.mean_lower, found.mean_upper}, c.expected("mean_limits")));
    CHECK(within(std::vector<double>{mean - 2.0 * sd, mean + 2.0 * sd}, c.expected("limits_2sd")));
    CHECK(within(std::vector<double>{mean - 2.0 * sd, mean + 2.0 * sd}, c.expected("limits_printed")));
    CHECK(within(std::vector<double>{mean, sd}, c.expected("mean_and_sd_printed")));
}

TEST_CASE("reliable change agrees with Jacobson and Truax") {
    const PublishedCase c = published("repeatability.json", "reliable_change");
    CAPTURE(c.source_text());
    const ReliableChange found = reliable_change(c.data("x1").number(), c.data("x2").number(),
                                                 c.data("s_pre").number(), c.data("reliability").number());
    CHECK(within(found.standard_error, c.expected("standard_error")));
    CHECK(within(found.sd_difference, c.expected("sd_difference")));
    CHECK(within(found.index, c.expected("index")));
    CHECK(within(found.p_two_sided, c.expected("p_two_sided")));
    CHECK(within(found.smallest_reliable, c.expected("smallest_reliable")));
    CHECK(within(found.standard_error, c.expected("standard_error_printed")));
    CHECK(within(found.sd_difference, c.expected("sd_difference_printed")));
    CHECK(within(found.index, c.expected("index_printed")));
    CHECK(found.is_reliable);
    CHECK(within(midway(c.data("mean_pre").number(), c.data("s_pre").number(), c.data("mean_normal").number(),
                        c.data("s_normal").number()),
                 c.expected("midway")));
}
