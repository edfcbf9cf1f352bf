#include "engine/threshold/best_estimate.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

const std::vector<double> series{-1.0, -0.4, 0.1, 0.3, 1.0};

}  // namespace

TEST_CASE("a best estimate depends on the strongest level missed alone") {
    Random random{Seed{7}};
    for (int i = 0; i < 300; ++i) {
        std::vector<bool> answers;
        for (std::size_t level = 0; level < series.size(); ++level) answers.push_back(random.below(2) == 1);
        std::size_t missed = series.size();
        while (missed > 0 && answers[missed - 1]) --missed;
        const BestEstimate found = best_estimate(series, answers);
        if (missed == 0) {
            CHECK(found.end == SeriesEnd::below);
            CHECK(within(found.log10, -1.3, 1e-12));
        } else if (missed == series.size()) {
            CHECK(found.end == SeriesEnd::above);
            CHECK(within(found.log10, 1.35, 1e-12));
        } else {
            CHECK(found.end == SeriesEnd::inside);
            CHECK(within(found.log10, 0.5 * (series[missed - 1] + series[missed]), 1e-12));
        }
    }
}

TEST_CASE("with unequal steps the ends differ by which step the series is thought to go on with") {
    const std::vector<bool> all(series.size(), true);
    const std::vector<bool> none(series.size(), false);
    CHECK(within(best_estimate(series, all, EndStep::mean).log10, -1.25, 1e-12));
    CHECK(within(best_estimate(series, none, EndStep::mean).log10, 1.25, 1e-12));
}

TEST_CASE("a group of one has no spread and an empty group is refused") {
    const std::vector<BestEstimate> one{{0.3, SeriesEnd::inside}};
    CHECK(group_estimate(one).log10 == 0.3);
    CHECK(!group_estimate(one).sd_log10.has_value());
    CHECK_THROWS_AS(group_estimate(std::vector<BestEstimate>{}), Refused);
}

TEST_CASE("a series that does not ascend, or has another number of answers, is refused") {
    CHECK_THROWS_AS(best_estimate(std::vector<double>{1.0}, {true}), Refused);
    CHECK_THROWS_AS(best_estimate(std::vector<double>{}, {}), Refused);
    CHECK_THROWS_AS(best_estimate(series, {true, false}), Refused);
    CHECK_THROWS_AS(best_estimate(std::vector<double>{1.0, 1.0}, {true, true}), Refused);
    CHECK_THROWS_AS(best_estimate(std::vector<double>{2.0, 1.0}, {true, true}), Refused);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(best_estimate(std::vector<double>{nan, 1.0}, {true, true}), Refused);
    CHECK_THROWS_AS(
        best_estimate(std::vector<double>{0.0, std::numeric_limits<double>::infinity()}, {true, true}),
        Refused);
}

TEST_CASE("shares that never pass the middle of the rise have no interpolated threshold") {
    const std::vector<double> levels{0.0, 1.0, 2.0};
    CHECK(!interpolated_threshold(levels, std::vector<double>{0.3, 0.4, 0.5}, 1.0 / 3.0).has_value());
    CHECK(!interpolated_threshold(levels, std::vector<double>{0.9, 0.9, 1.0}, 1.0 / 3.0).has_value());
    CHECK(
        within(interpolated_threshold(levels, std::vector<double>{0.5, 0.5, 1.0}, 0.5).value(), 1.5, 1e-12));
    CHECK_THROWS_AS(interpolated_threshold(levels, std::vector<double>{0.5, 1.5, 1.0}, 0.5), Refused);
    CHECK_THROWS_AS(interpolated_threshold(levels, std::vector<double>{0.5, 0.5, 1.0}, 1.0), Refused);
    CHECK(!logit_line(levels, std::vector<double>{0.5, 0.75, 1.0}, 0.5).has_value());
    CHECK(within(logit_line(levels, std::vector<double>{0.6, 0.75, 0.9}, 0.5).value().threshold_log10(), 1.0,
                 1e-12));
}
