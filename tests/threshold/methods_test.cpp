#include "engine/problem.hpp"
#include "engine/threshold/deviance_test.hpp"
#include "engine/threshold/ordinal.hpp"
#include "engine/threshold/repeatability.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

std::vector<Counts> counts_with(const std::vector<std::size_t>& correct) {
    std::vector<Counts> counts;
    for (std::size_t i = 0; i < correct.size(); ++i)
        counts.push_back({-0.3 + 0.3 * static_cast<double>(i), 12, correct[i], 0.0});
    return counts;
}

DevianceTest tested(const std::vector<Counts>& counts, const LikelihoodSettings& settings,
                    std::size_t replicates) {
    Random random{Seed{5}};
    const LikelihoodFit fit = maximum_likelihood(counts, three_afc, settings);
    return deviance_test(counts, three_afc, settings, fit, random, replicates);
}

}  // namespace

TEST_CASE("every shape rises from 0 to 1, is half done at 0 and has the width it claims") {
    for (const Shape shape : {Shape::logistic, Shape::gaussian, Shape::weibull}) {
        CHECK(within(rise(0.0, shape), 0.5, 1e-15));
        double low = -20.0;
        double high = 20.0;
        const auto quantile = [&](double p) {
            low = -20.0;
            high = 20.0;
            for (int i = 0; i < 80; ++i)
                (rise(0.5 * (low + high), shape) < p ? low : high) = 0.5 * (low + high);
            return low;
        };
        CHECK(within(quantile(0.9) - quantile(0.1), width_in_s(shape), 1e-9));
        for (double z = -6.0; z < 3.0; z += 0.37) {
            constexpr double h = 1e-5;
            CHECK(within(rise(z, shape) + fall(z, shape), 1.0, 1e-15));
            CHECK(
                within(rise_density(z, shape), (rise(z + h, shape) - rise(z - h, shape)) / (2.0 * h), 1e-8));
            CHECK(within(rise_bend(z, shape),
                         (rise_density(z + h, shape) - rise_density(z - h, shape)) / (2.0 * h), 1e-8));
        }
        CHECK(rise(1000.0, shape) == 1.0);
        CHECK(rise_density(1000.0, shape) == 0.0);
        CHECK(rise_bend(1000.0, shape) == 0.0);
        CHECK(rise(-1000.0, shape) >= 0.0);
    }
}

TEST_CASE("answers of a person who follows the curve pass the deviance test, others do not") {
    const DevianceTest good = tested(counts_with({4, 5, 8, 10, 12, 12}), {}, 400);
    CHECK(good.p_bootstrap > 0.1);
    CHECK(good.df == 4);
    const DevianceTest bad = tested(counts_with({10, 1, 12, 2, 12, 7}), {}, 400);
    CHECK(bad.p_bootstrap < 0.01);
    CHECK(bad.p_chi_squared < 0.01);
}

TEST_CASE("with many answers a level the bootstrap and the chi-squared distribution agree") {
    std::vector<Counts> counts;
    const std::vector<std::size_t> correct{141, 184, 242, 321, 372, 392};
    for (std::size_t i = 0; i < correct.size(); ++i)
        counts.push_back({0.3 * static_cast<double>(i), 400, correct[i], 0.0});
    const DevianceTest found = tested(counts, {}, 500);
    CHECK(within(found.p_bootstrap, found.p_chi_squared, 0.09));
}

TEST_CASE("the bootstrap's short climb finds what the careful fit finds") {
    // p is uniform when the curve is right: its tail over simulated sittings shows a climb that stops short.
    Random random{Seed{8}};
    int low = 0;
    constexpr int sittings = 40;
    for (int i = 0; i < sittings; ++i) {
        std::vector<Counts> counts;
        for (int level = 0; level < 6; ++level) {
            const double x = 0.3 * level;
            Counts at{x, 10, 0, 0.0};
            for (int k = 0; k < 10; ++k)
                if (random.uniform() < right_probability({0.7, 0.8, 0.0}, three_afc, x)) ++at.correct;
            counts.push_back(at);
        }
        const LikelihoodFit fit = maximum_likelihood(counts, three_afc);
        if (deviance_test(counts, three_afc, {}, fit, random, 39).p_bootstrap <= 0.2) ++low;
    }
    CHECK(low >= 1);
    CHECK(low <= 16);  // 8 expected, three standard deviations
}

TEST_CASE("separable, lapsing and huge counts have a bootstrap p too, and the same seed the same one") {
    const DevianceTest jump = tested(counts_with({4, 4, 4, 12, 12, 12}), {}, 100);
    CHECK(jump.p_bootstrap > 0.05);
    LikelihoodSettings free;
    free.lapse.reset();
    CHECK(tested(counts_with({4, 5, 8, 10, 11, 11}), free, 100).p_bootstrap > 0.05);
    CHECK(tested(counts_with({4, 5, 8, 10, 11, 11}), free, 100).p_bootstrap ==
          tested(counts_with({4, 5, 8, 10, 11, 11}), free, 100).p_bootstrap);
    const std::vector<Counts> huge{{0.0, 1'000'000'000, 400'000'000, 0.0},
                                   {0.5, 1'000'000'000, 700'000'000, 0.0},
                                   {1.0, 1'000'000'000, 999'000'000, 0.0}};
    CHECK(tested(huge, {}, 50).p_bootstrap < 0.05);
    const LikelihoodFit fit = maximum_likelihood(huge, three_afc);
    Random random{Seed{1}};
    CHECK_THROWS_AS(deviance_test(huge, three_afc, {}, fit, random, 0), Refused);
    CHECK_THROWS_AS(deviance_test(huge, three_afc, {}, fit, random, 1'000'000), Refused);
}

TEST_CASE("two ordered categories are plain probit regression and no covariate gives the pooled cuts") {
    const OrdinalFit plain = ordinal_regression({{{}, {10, 30, 60}}}, Link::logit);
    CHECK(within(plain.cut_points.at(0), std::log(10.0 / 90.0), 1e-9));
    CHECK(within(plain.cut_points.at(1), std::log(40.0 / 60.0), 1e-9));
    CHECK(within(plain.deviance, 0.0, 1e-9));
    // Scaling a covariate scales its coefficient and nothing else.
    const std::vector<OrdinalRow> grams{{{0.0}, {9, 1}}, {{1.0}, {6, 4}}, {{2.0}, {3, 7}}};
    std::vector<OrdinalRow> milligrams = grams;
    for (OrdinalRow& row : milligrams) row.covariates[0] *= 1000.0;
    const OrdinalFit a = ordinal_regression(grams, Link::probit);
    const OrdinalFit b = ordinal_regression(milligrams, Link::probit);
    CHECK(within(a.coefficients.at(0), 1000.0 * b.coefficients.at(0), 0.0, 1e-9));
    CHECK(within(a.standard_error(1), 1000.0 * b.standard_error(1), 0.0, 1e-8));
    CHECK(within(a.log_likelihood, b.log_likelihood, 1e-10));
}

TEST_CASE("ratings without a best fit are refused") {
    CHECK_THROWS_AS(ordinal_regression({}, Link::probit), Refused);
    CHECK_THROWS_AS(ordinal_regression({{{1.0}, {3}}}, Link::probit), Refused);
    CHECK_THROWS_AS(ordinal_regression({{{1.0}, {3, 0, 2}}, {{2.0}, {1, 0, 2}}}, Link::probit), Refused);
    CHECK_THROWS_AS(ordinal_regression({{{1.0}, {3, 2}}, {{1.0}, {1, 2}}}, Link::probit), Refused);
    CHECK_THROWS_AS(ordinal_regression({{{1.0}, {3, 2}}, {{2.0}, {1, 2, 3}}}, Link::probit), Refused);
    CHECK_THROWS_AS(ordinal_regression({{{1.0}, {3, -2}}, {{2.0}, {1, 2}}}, Link::probit), Refused);
    CHECK_THROWS_AS(ordinal_regression({{{not_a_number}, {3, 2}}, {{2.0}, {1, 2}}}, Link::probit), Refused);
    for (const Link link : {Link::probit, Link::logit})
        CHECK_THROWS_AS(ordinal_regression({{{1.0}, {9, 0}}, {{2.0}, {0, 9}}}, link), Refused);
    CHECK_THROWS_AS(
        ordinal_regression({{{1.0, 2.0}, {5, 4}}, {{2.0, 4.0}, {3, 6}}, {{3.0, 6.0}, {1, 8}}}, Link::logit),
        Refused);
}

TEST_CASE("readings that say nothing about repeatability are refused, identical ones repeat perfectly") {
    const std::vector<double> some{1.0, 2.0, 4.0};
    CHECK(repeatability(some, some).coefficient == 0.0);
    CHECK(agreement(some, some).upper == 0.0);
    CHECK_THROWS_AS(repeatability(some, std::vector<double>{1.0}), Refused);
    CHECK_THROWS_AS(repeatability(std::vector<double>{}, std::vector<double>{}), Refused);
    CHECK_THROWS_AS(agreement(std::vector<double>{1.0}, std::vector<double>{1.0}), Refused);
    CHECK_THROWS_AS(agreement(some, std::vector<double>{1.0, not_a_number, 1.0}), Refused);
    CHECK_THROWS_AS(reliable_change(1.0, 2.0, 0.0, 0.8), Refused);
    CHECK_THROWS_AS(reliable_change(1.0, 2.0, 1.0, 1.0), Refused);
    CHECK_THROWS_AS(reliable_change(not_a_number, 2.0, 1.0, 0.5), Refused);
    CHECK(!reliable_change(1.0, 1.5, 1.0, 0.5).is_reliable);
    CHECK(within(reliable_change(0.0, 1.0, 1.0, 0.5).index, 1.0, 1e-12));
}
