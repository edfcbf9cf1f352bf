#include "engine/threshold/likelihood.hpp"

#include "engine/problem.hpp"
#include "tests/support/within.hpp"
#include "tests/threshold/people.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

std::vector<Counts> some_counts() {
    return {
        {-0.7, 12, 4, 0.0}, {-0.2, 12, 6, 0.0}, {0.25, 12, 9, 0.0}, {0.7, 12, 11, 0.0}, {1.2, 12, 12, 0.0}};
}

double log_likelihood(const std::vector<Counts>& counts, const Curve& curve, double guess, Shape shape) {
    double ln = 0.0;
    for (const Counts& at : counts) {
        const double right = static_cast<double>(at.correct);
        const double wrong = static_cast<double>(at.presentations - at.correct);
        if (right > 0.0) ln += right * std::log(right_probability(curve, Task{guess}, at.x_log10, shape));
        if (wrong > 0.0) ln += wrong * std::log(wrong_probability(curve, Task{guess}, at.x_log10, shape));
    }
    return ln;
}

bool warns(const LikelihoodFit& fit, Warning::Kind kind) {
    for (const Warning& warning : fit.warnings)
        if (warning.kind == kind) return true;
    return false;
}

}  // namespace

TEST_CASE("no curve on a dense scan beats the curve of greatest likelihood") {
    for (const Shape shape : {Shape::logistic, Shape::gaussian})
        for (const bool lapse_free : {false, true}) {
            LikelihoodSettings settings;
            settings.shape = shape;
            if (lapse_free) settings.lapse.reset();
            const LikelihoodFit fit = maximum_likelihood(some_counts(), three_afc, settings);
            REQUIRE(!fit.separable);
            const Curve found{fit.theta_log10, fit.width_log10, fit.lapse};
            CHECK(within(log_likelihood(some_counts(), found, 1.0 / 3.0, shape),
                         fit.log_likelihood_of_answers, 1e-9));
            for (double theta = -1.5; theta <= 1.5; theta += 0.05)
                for (double width = 0.05; width < 6.0; width *= 1.2)
                    for (double lapse = 0.0; lapse <= (lapse_free ? 0.1 : 0.0); lapse += 0.01)
                        REQUIRE(log_likelihood(some_counts(), {theta, width, lapse}, 1.0 / 3.0, shape) <=
                                fit.log_likelihood_of_answers + 1e-9);
        }
}

TEST_CASE("shifting or scaling the axis moves the fit with it") {
    const LikelihoodFit fit = maximum_likelihood(some_counts(), three_afc);
    std::vector<Counts> moved = some_counts();
    for (Counts& at : moved) at.x_log10 = 5.0 + 100.0 * at.x_log10;
    const LikelihoodFit other = maximum_likelihood(moved, three_afc);
    CHECK(within(other.theta_log10, 5.0 + 100.0 * fit.theta_log10, 1e-6));
    CHECK(within(other.slope_per_log10, fit.slope_per_log10 / 100.0, 0.0, 1e-7));
    CHECK(within(other.lower_log10, 5.0 + 100.0 * fit.lower_log10, 1e-5));
    CHECK(within(other.deviance, fit.deviance, 1e-9));
}

TEST_CASE("splitting the counts of a level changes nothing") {
    std::vector<Counts> split = some_counts();
    split[1].presentations = 5;
    split[1].correct = 3;
    split.push_back({-0.2, 7, 3, 0.0});
    split.push_back({0.9, 0, 0, 0.0});
    const LikelihoodFit fit = maximum_likelihood(some_counts(), three_afc);
    const LikelihoodFit other = maximum_likelihood(split, three_afc);
    CHECK(other.theta_log10 == fit.theta_log10);
    CHECK(other.log_likelihood == fit.log_likelihood);
    CHECK(other.deviance_df == fit.deviance_df);
}

TEST_CASE("at the ends of the interval the best remaining curve has fallen by half of 3.841") {
    const LikelihoodFit fit = maximum_likelihood(some_counts(), three_afc);
    for (const double end : {fit.lower_log10, fit.upper_log10}) {
        double best = -infinite;
        for (double width = 0.02; width < 20.0; width *= 1.002)
            best =
                std::max(best, log_likelihood(some_counts(), {end, width, 0.0}, 1.0 / 3.0, Shape::logistic));
        CHECK(within(2.0 * (fit.log_likelihood_of_answers - best), 3.841459, 1e-3));
    }
}

TEST_CASE(
    "answers that jump from chance to certainty are said to have no steepness, and still place the "
    "threshold") {
    const std::vector<Counts> jump{
        {0.0, 12, 4, 0.0}, {0.3, 12, 4, 0.0}, {0.6, 12, 12, 0.0}, {0.9, 12, 12, 0.0}};
    const LikelihoodFit fit = maximum_likelihood(jump, three_afc);
    CHECK(fit.separable);
    CHECK(warns(fit, Warning::Kind::separable));
    CHECK(within(fit.theta_log10, 0.45, 1e-12));
    CHECK(fit.slope_per_log10 == infinite);
    CHECK(fit.width_log10 == 0.0);
    CHECK(within(fit.log_likelihood, fit.step_log_likelihood, 1e-12));
    CHECK(within(fit.deviance, 0.0, 1e-9));
    CHECK(!fit.se_theta_observed.has_value());
    // A curve through its threshold at 0.3 or 0.6 gives 2/3 there, twice 2.77 or 4.87 below the step.
    CHECK(within(fit.lower_log10, 0.3, 1e-4));
    CHECK(within(fit.upper_log10, 0.6, 1e-4));
    CHECK(as_threshold(fit, Scale::g_per_L).sd_log10 == infinite);
}

TEST_CASE("all right lies below the ladder, all at chance above it, with one end open") {
    const std::vector<Counts> all_right{{0.0, 12, 12, 0.0}, {0.3, 12, 12, 0.0}, {0.6, 12, 12, 0.0}};
    const LikelihoodFit below = maximum_likelihood(all_right, three_afc);
    CHECK(warns(below, Warning::Kind::all_correct));
    CHECK(below.lower_log10 == -infinite);
    CHECK(below.upper_log10 < 0.3);
    const std::vector<Counts> chance{{0.0, 12, 4, 0.0}, {0.3, 12, 4, 0.0}, {0.6, 12, 4, 0.0}};
    const LikelihoodFit above = maximum_likelihood(chance, three_afc);
    CHECK(warns(above, Warning::Kind::guessing));
    CHECK(above.upper_log10 == infinite);
    const std::vector<Counts> falling{{0.0, 12, 11, 0.0}, {0.3, 12, 8, 0.0}, {0.6, 12, 5, 0.0}};
    const LikelihoodFit none = maximum_likelihood(falling, three_afc);
    CHECK(warns(none, Warning::Kind::guessing));
    CHECK(std::isfinite(none.theta_log10));
}

TEST_CASE("every simulated sitting gets a finite threshold inside its interval") {
    const Prior prior;
    const solution::MixedLadder ladder = exact_ladder(8, 2.0);
    int without_maximum = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        Random random{Seed{seed}};
        const Curve truth = person_from(prior, random);
        const std::vector<Counts> counts = counts_of(ladder, sitting(ladder, prior, truth, 24, random));
        if (counts.size() < 2) continue;
        const LikelihoodFit fit = maximum_likelihood(counts, three_afc);
        CHECK(std::isfinite(fit.theta_log10));
        CHECK(std::isfinite(fit.log_likelihood));
        CHECK(fit.lower_log10 <= fit.theta_log10);
        CHECK(fit.theta_log10 <= fit.upper_log10);
        CHECK(fit.log_likelihood >= fit.step_log_likelihood - 1e-9);
        if (fit.separable) ++without_maximum;
    }
    CHECK(without_maximum > 0);
    CHECK(without_maximum < 30);
}

TEST_CASE("the common mixing error widens the interval of a likelihood fit in squares") {
    const LikelihoodFit fit = maximum_likelihood(some_counts(), three_afc);
    const Threshold plain = as_threshold(fit, Scale::pct_vol);
    const Threshold wider = as_threshold(fit, Scale::pct_vol, 0.05);
    CHECK(within(plain.lower_log10, fit.lower_log10, 1e-12));
    CHECK(within(wider.sd_log10, std::hypot(plain.sd_log10, 0.05), 1e-12));
    CHECK(within(wider.upper_log10 - fit.theta_log10,
                 std::hypot(fit.upper_log10 - fit.theta_log10, 0.05 * 1.959964), 1e-6));
    CHECK(plain.scale == Scale::pct_vol);
}

TEST_CASE("counts that no curve can be fitted to are refused") {
    CHECK_THROWS_AS(maximum_likelihood(std::vector<Counts>{{0.0, 12, 4, 0.0}}, three_afc), Refused);
    CHECK_THROWS_AS(maximum_likelihood(std::vector<Counts>{{0.0, 2, 4, 0.0}, {1.0, 2, 2, 0.0}}, three_afc),
                    Refused);
    LikelihoodSettings settings;
    settings.lapse = 0.7;
    CHECK_THROWS_AS(maximum_likelihood(some_counts(), three_afc, settings), Refused);
    CHECK_THROWS_AS(maximum_likelihood(some_counts(), Task{-0.1}), Refused);
}
