#include "engine/threshold/graded.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/discrimination.hpp"
#include "tests/support/within.hpp"
#include "tests/threshold/graded_people.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

Prior wide() {
    Prior prior;
    prior.sd_log10 = 0.45;
    return prior;
}

}  // namespace

TEST_CASE("d' of a graded cup gives back the share right in 3-AFC that the curve promises") {
    const Curve curve{0.3, 0.9, 0.0};
    for (double x = -1.0; x < 1.5; x += 0.17)
        CHECK(within(share_right(DifferenceTask::afc_3, perceived_distance(curve, x)),
                     right_probability(curve, three_afc, x), 1e-9));
    CHECK(within(perceived_distance(curve, 0.3), 1.1159, 1e-3));
    CHECK(perceived_distance(curve, 50.0) <= 9.0);
    CHECK(perceived_distance(curve, -50.0) == 0.0);
}

TEST_CASE("many graded cups find threshold and cut points again") {
    Random random{Seed{4}};
    const Curve truth{0.15, 0.75, 0.03};
    const std::vector<double> cuts{0.45, 1.2, 1.95};
    const std::vector<GradedCounts> counts = graded_cups(along(truth), truth.lapse, cuts, 40, 160, random);
    const GradedFit fit = graded_threshold(counts, wide(), Scale::g_per_L);
    CHECK(within(fit.threshold.log10, 0.15, 0.18));
    CHECK(fit.threshold.sd_log10 < 0.06);
    CHECK(fit.threshold.warnings.empty());
    for (std::size_t i = 0; i < 3; ++i) CHECK(within(fit.cut_points.at(i), cuts[i], 0.25));
    CHECK(fit.deviance_df == 9 * 3 - 4);
    CHECK(fit.deviance < 200.0);
    double sum = 0.0;
    for (const double p : fit.threshold.theta_density) sum += p;
    CHECK(within(sum, 1.0, 1e-9));
}

TEST_CASE("ordinal probit finds the line along which d' rises, with an interval that holds it") {
    Random random{Seed{6}};
    const std::vector<double> cuts{0.45, 1.2, 1.5};
    int held = 0;
    constexpr int people = 40;
    for (int i = 0; i < people; ++i) {
        const auto counts =
            graded_cups([](double x) { return 1.115953 + 2.0 * (x - 0.1); }, 0.0, cuts, 12, 40, random);
        const GradedFit line = graded_likelihood(counts, Scale::g_per_L);
        CHECK(line.deviance_df == 9 * 3 - 5);
        if (line.threshold.lower_log10 <= 0.1 && 0.1 <= line.threshold.upper_log10) ++held;
        CHECK(line.threshold.sd_log10 < 0.15);
    }
    CHECK(held >= 34);  // 38 expected; three standard deviations below
}

TEST_CASE("the posterior of graded cups is that of the written-out sum") {
    // One level, two grades, a prior with one width and one lapse: theta and the cut are all that is unknown.
    Prior prior = wide();
    prior.kind = Prior::Kind::normal;
    prior.width_ln_sd = 0.0;
    prior.lapses = {{0.0, 1.0}};
    const std::vector<GradedCounts> counts{{std::nullopt, {7, 3}}, {0.2, {2, 8}}};
    const GradedFit fit = graded_threshold(counts, prior, Scale::g_per_L);
    const auto below = [](double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); };
    double sum = 0.0;
    double mean = 0.0;
    for (double theta = -2.5; theta <= 2.5; theta += 0.02) {
        const double distance = perceived_distance({theta, std::exp(prior.width_ln_mean), 0.0}, 0.2);
        for (int c = 0; c < 11; ++c)
            for (const double spacing : {0.25, 0.35, 0.55, 0.75, 1.0, 1.3, 1.7}) {
                const double first = -0.65 + 0.25 * c;
                const bool common = c >= 2 && c <= 7 && spacing > 0.3 && spacing < 1.5;
                const double cut = first + spacing;
                const double p = (common ? 1.0 : 0.25) * std::exp(-0.5 * std::pow(theta / 0.45, 2)) *
                                 std::pow(below(cut), 7) * std::pow(below(-cut), 3) *
                                 std::pow(below(cut - distance), 2) * std::pow(below(distance - cut), 8);
                sum += p;
                mean += p * theta;
            }
    }
    CHECK(within(fit.threshold.log10, mean / sum, 2e-3));
}

TEST_CASE("what graded cups cannot tell is refused or said") {
    const std::vector<GradedCounts> blanks{{std::nullopt, {7, 3}}};
    const std::vector<GradedCounts> no_blanks{{0.2, {7, 3}}, {0.4, {1, 9}}};
    const std::vector<GradedCounts> uneven{{std::nullopt, {7, 3}}, {0.4, {1, 9, 3}}};
    const std::vector<GradedCounts> one_grade{{std::nullopt, {7}}, {0.4, {1}}};
    const std::vector<GradedCounts> unbounded{{std::nullopt, {7, 3}}, {infinite, {1, 3}}};
    for (const auto& counts : {blanks, no_blanks, uneven, one_grade, unbounded, {}}) {
        CHECK_THROWS_AS(graded_threshold(counts, wide(), Scale::g_per_L), Refused);
        CHECK_THROWS_AS(graded_likelihood(counts, Scale::g_per_L), Refused);
    }
    const std::vector<GradedCounts> falling{
        {std::nullopt, {1, 3, 4}}, {0.0, {3, 3, 2}}, {0.4, {4, 3, 1}}, {0.8, {4, 2, 2}}};
    const GradedFit fit = graded_likelihood(falling, Scale::g_per_L);
    CHECK(fit.threshold.sd_log10 == infinite);
    CHECK(!fit.threshold.warnings.empty());
    CHECK(std::isfinite(graded_threshold(falling, wide(), Scale::g_per_L).threshold.log10));
    const std::vector<GradedCounts> all_zero{
        {std::nullopt, {9, 0, 0, 0}}, {0.0, {9, 0, 0, 0}}, {0.4, {9, 0, 0, 0}}};
    CHECK(graded_threshold(all_zero, wide(), Scale::g_per_L).threshold.log10 > 0.4);
    CHECK_THROWS_AS(graded_likelihood(all_zero, Scale::g_per_L), Refused);
    Random random{Seed{4}};
    const Curve curve{0.15, 0.75, 0.0};
    const auto crowd = graded_cups(along(curve), 0.0, {0.45, 1.2}, 60, 60, random);
    CHECK(graded_threshold(crowd, wide(), Scale::g_per_L).threshold.warnings.back().kind ==
          Warning::Kind::grid_edge);
    const GradedFit mixed = graded_threshold(falling, wide(), Scale::g_per_L, 0.1);
    CHECK(mixed.threshold.mixing_sd_log10 == 0.1);
}
