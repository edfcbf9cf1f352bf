#include "engine/threshold/discrimination.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

constexpr std::array<DifferenceTask, 6> every_task{DifferenceTask::afc_2,    DifferenceTask::afc_3,
                                                   DifferenceTask::afc_4,    DifferenceTask::triangle,
                                                   DifferenceTask::duo_trio, DifferenceTask::tetrad};
constexpr double infinite = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("a share right and its distance are each other's inverse, and the slope is the share's") {
    for (const DifferenceTask task : every_task)
        for (double d = 0.1; d < 5.0; d += 0.3) {
            CAPTURE(d);
            CHECK(within(d_prime_of(task, share_right(task, d)), d, 1e-8));
            constexpr double h = 1e-4;
            const double slope = (share_right(task, d + h) - share_right(task, d - h)) / (2.0 * h);
            CHECK(within(share_right_slope(task, d), slope, 1e-7));
            CHECK(share_right(task, d + 0.1) > share_right(task, d));
        }
}

TEST_CASE("simulated percepts in a triangle give its share right") {
    Random random{Seed{11}};
    int right = 0;
    constexpr int rounds = 40000;
    for (int i = 0; i < rounds; ++i) {
        const double a = random.normal();
        const double b = random.normal();
        const double odd = random.normal() + 1.5;
        if (std::abs(a - b) < std::min(std::abs(odd - a), std::abs(odd - b))) ++right;
    }
    CHECK(within(right / static_cast<double>(rounds), share_right(DifferenceTask::triangle, 1.5), 0.01));
}

TEST_CASE("the ends of the scale are said, not guessed") {
    for (const DifferenceTask task : every_task) {
        CHECK(share_right(task, 0.0) == chance_of(task));
        CHECK(within(share_right(task, 1e-9), chance_of(task), 1e-8));
        CHECK(share_right(task, infinite) == 1.0);
        CHECK(share_right(task, 1e9) == 1.0);
        CHECK(d_prime_of(task, 1.0) == infinite);
        CHECK(d_prime_of(task, 0.1) == 0.0);
        const Discrimination all = discriminate(task, 12, 12);
        CHECK(all.d_prime == infinite);
        CHECK(all.upper == infinite);
        CHECK(all.lower > 0.0);
        CHECK(!all.standard_error.has_value());
        const Discrimination none = discriminate(task, 0, 12);
        CHECK(none.p_value == 1.0);
        CHECK(none.d_prime == 0.0);
        CHECK(none.lower == 0.0);
    }
}

TEST_CASE("d' of a count lies within its interval, whose ends are the exact limits of the share") {
    const Discrimination found = discriminate(DifferenceTask::triangle, 15, 30);
    CHECK(within(found.p_value, 0.0434822757279195, 0.0, 1e-10));
    CHECK(found.lower == 0.0);  // 0.3130 is below chance
    // Clopper and Pearson's limits for 15 of 30, computed here with R 4.2.2 (binom.test).
    CHECK(within(share_right(DifferenceTask::triangle, found.upper), 0.687029714131973, 1e-8));
    const Discrimination better = discriminate(DifferenceTask::afc_3, 25, 30);
    CHECK(within(share_right(DifferenceTask::afc_3, better.lower), 0.652788301165856, 1e-8));
    CHECK(within(share_right(DifferenceTask::afc_3, better.upper), 0.943578303531929, 1e-8));
    CHECK(better.lower < better.d_prime);
    CHECK(better.d_prime < better.upper);
    CHECK(within(better.standard_error.value(), 0.3535, 0.1));
}

TEST_CASE("intervals of d' hold the truth at least 95 times in 100") {
    for (const double truth : {0.0, 0.8, 2.0}) {
        const double share = share_right(DifferenceTask::afc_3, truth);
        double covered = 0.0;
        constexpr std::uint64_t n = 20;
        for (std::uint64_t k = 0; k <= n; ++k) {
            const Discrimination found = discriminate(DifferenceTask::afc_3, k, n);
            if (found.lower > truth || found.upper < truth) continue;
            const auto times = static_cast<double>(k);
            covered += std::exp(std::lgamma(n + 1.0) - std::lgamma(times + 1.0) -
                                std::lgamma(static_cast<double>(n - k) + 1.0)) *
                       std::pow(share, times) * std::pow(1.0 - share, static_cast<double>(n - k));
        }
        CAPTURE(truth);
        CHECK(covered >= 0.95);
    }
}

TEST_CASE("huge counts keep their tails, and impossible ones are refused") {
    constexpr std::uint64_t billion = 1'000'000'000;
    const std::uint64_t wanted = minimum_correct(billion, 0.5, 0.05).value();
    CHECK(chance_p(wanted, billion, 0.5) <= 0.05);
    CHECK(chance_p(wanted - 1, billion, 0.5) > 0.05);
    CHECK(within(static_cast<double>(wanted), 0.5e9 + 1.6448536 * std::sqrt(0.25e9), 2.0));
    CHECK(within(chance_p(billion / 2, billion, 0.5), 0.5, 2e-5));
    CHECK(chance_p(billion, billion, 0.5) == 0.0);
    CHECK(within(discriminate(DifferenceTask::afc_2, 760'250'000, billion).d_prime, 1.0, 1e-3));
    CHECK(!minimum_correct(1, 1.0 / 3.0, 0.05).has_value());
    CHECK_THROWS_AS(chance_p(13, 12, 0.5), Refused);
    CHECK_THROWS_AS(chance_p(0, 0, 0.5), Refused);
    CHECK_THROWS_AS(chance_p(3, 12, 1.0), Refused);
    CHECK_THROWS_AS(minimum_correct(12, 0.5, 0.0), Refused);
    CHECK_THROWS_AS(share_right(DifferenceTask::tetrad, -0.1), Refused);
    CHECK_THROWS_AS(share_right(DifferenceTask::tetrad, std::numeric_limits<double>::quiet_NaN()), Refused);
    CHECK_THROWS_AS(d_prime_of(DifferenceTask::tetrad, 1.1), Refused);
}
