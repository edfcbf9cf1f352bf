#include "engine/chart/ticks.hpp"

#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

using namespace sipladder;
using chart::Axis;
using chart::AxisKind;
using tests::within;

namespace {

std::string labels(const std::vector<chart::Tick>& ticks) {
    std::string text;
    for (const chart::Tick& tick : ticks) text.append(tick.label).append(" ");
    return text;
}

Axis logarithmic(double from, double to) {
    Axis axis;
    axis.kind = AxisKind::logarithmic;
    axis.from = from;
    axis.to = to;
    return axis;
}

}  // namespace

TEST_CASE("a logarithmic axis is labelled with round numbers, ends included") {
    const auto choices = chart::tick_choices(logarithmic(0.5, 5.0));
    CHECK(labels(choices.front()) == "0.5 1 2 5 ");
    CHECK(labels(choices.back()) == "1 ");
    CHECK(labels(chart::tick_choices(logarithmic(0.004, 30.0))[1]) == "0.01 0.03 0.1 0.3 1 3 10 30 ");
    CHECK(labels(chart::tick_choices(logarithmic(0.001, 1000.0))[3]) == "0.01 1 100 ");
}

TEST_CASE("a logarithmic axis too short for decades is labelled in even steps") {
    CHECK(labels(chart::tick_choices(logarithmic(6.05, 7.15)).front()) == "6.2 6.4 6.6 6.8 7.0 ");
}

TEST_CASE("a linear axis is labelled in steps of one, two or five") {
    Axis axis;
    axis.from = -7.0;
    axis.to = 7.0;
    const auto choices = chart::tick_choices(axis);
    CHECK(labels(choices[0]) == "-6 -4 -2 0 2 4 6 ");
    CHECK(labels(choices[1]) == "-5 0 5 ");
}

TEST_CASE("ticks lie on their axis and ascend, whatever its ends") {
    for (int i = 0; i < 300; ++i) {
        const double from = std::pow(10.0, -4.0 + 0.021 * i);
        const Axis axis = logarithmic(from, from * std::pow(10.0, 0.05 + 0.013 * (i % 40)));
        CAPTURE(i);
        for (const auto& ticks : chart::tick_choices(axis)) {
            REQUIRE_FALSE(ticks.empty());
            double before = 0.0;
            for (const chart::Tick& tick : ticks) {
                REQUIRE(tick.at > before);
                REQUIRE(within(std::stod(tick.label), tick.at, 0.0, 1e-9));
                const double share = chart::share_along(axis, tick.at);
                REQUIRE(share > -1e-6);
                REQUIRE(share < 1.0 + 1e-6);
                before = tick.at;
            }
        }
    }
}

TEST_CASE("what is not above zero lies before the start of a logarithmic axis") {
    CHECK(std::isinf(chart::share_along(logarithmic(0.1, 1.0), 0.0)));
    CHECK(within(chart::share_along(logarithmic(0.1, 10.0), 1.0), 0.5, 1e-12));
}

TEST_CASE("rungs that lie close are written with as many digits as tell them apart") {
    CHECK(chart::digits_apart(std::vector{1.0, 2.0, 4.0}, 2) == 2);
    CHECK(chart::digits_apart(std::vector{20.6, 21.2, 22.4}, 2) == 3);  // 21 and 21 with two
    CHECK(chart::digits_apart(std::vector{20.61, 20.64, 22.4}, 2) == 4);
    CHECK(chart::digits_apart(std::vector{20.001, 20.002}, 2) == 4);
    CHECK(chart::digits_apart(std::vector{5.0, 5.0}, 2) == 2);
    CHECK(chart::digits_apart(std::vector<double>{}, 1) == 1);
}
