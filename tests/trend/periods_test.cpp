#include "engine/trend/periods.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "tests/support/within.hpp"
#include "tests/trend/small_prior.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::trend;
using threshold::Counts;
using threshold::three_afc;

namespace {

constexpr double jitter = 0.08;

std::vector<Counts> tasted(double theta, Random& random) {
    std::vector<Counts> counts;
    for (int rung = -4; rung < 4; ++rung) {
        Counts at{0.2 * (rung + 0.5), 3, 0};
        const double p = threshold::right_probability({theta, 0.775, 0.03}, three_afc, at.x_log10);
        for (std::size_t n = 0; n < at.presentations; ++n)
            if (random.uniform() < p) ++at.correct;
        counts.push_back(at);
    }
    return counts;
}

/// Four sittings at `theta`, four at `theta + change`; a mix each if `mixes`, else one throughout.
std::vector<Sitting> two_by_four(double theta, double change, double u, bool mixes, Random& random) {
    const double common = u * random.normal();
    std::vector<Sitting> sittings;
    for (std::size_t k = 0; k < 8; ++k) {
        Sitting sitting;
        sitting.date = "2026-03-0" + std::to_string(k + 1);
        sitting.week = static_cast<double>(k);
        const double error = mixes ? u * random.normal() : common;
        sitting.counts = tasted(theta + (k < 4 ? 0.0 : change) + jitter * random.normal() + error, random);
        sitting.mix = mixes ? std::to_string(k) : "one";
        sitting.u_shared_log10 = u;
        sittings.push_back(std::move(sitting));
    }
    return sittings;
}

constexpr Period first_four{0, 3};
constexpr Period last_four{4, 7};

}  // namespace

TEST_CASE("the change between two periods is unbiased and its interval holds what it says") {
    Random random{Seed{11}};
    constexpr int people = 400;
    for (const double change : {0.0, -0.2})
        for (const bool mixes : {false, true}) {
            int covered = 0;
            double error = 0.0;
            double square = 0.0;
            for (int person = 0; person < people; ++person) {
                const double theta = 0.3 * random.normal();
                const auto sittings = two_by_four(theta, change, 0.05, mixes, random);
                const PeriodsCompared found =
                    compare(sittings, first_four, last_four, small_prior(), three_afc);
                if (found.change.lower_log10 <= change && change <= found.change.upper_log10) ++covered;
                error += found.change.log10 - change;
                square += std::pow(found.change.log10 - change, 2);
            }
            CAPTURE(change);
            CAPTURE(mixes);
            const double coverage = static_cast<double>(covered) / people;
            const double se = std::sqrt(0.95 * 0.05 / people);
            CAPTURE(coverage);
            CHECK(coverage > 0.95 - 3.0 * se);
            CHECK(coverage < 0.95 + 3.0 * se);
            const double bias = error / people;
            CAPTURE(bias);
            CHECK(std::abs(bias) < 0.02 + 3.0 * std::sqrt(square) / people);
        }
}

TEST_CASE("with one sitting a period the level is what summing over the grid gives") {
    Random random{Seed{3}};
    auto sittings = two_by_four(0.1, -0.3, 0.0, false, random);
    sittings.resize(2);
    const threshold::Prior prior = small_prior();
    const PeriodsCompared found = compare(sittings, {0, 0}, {1, 1}, prior, three_afc);
    const auto mean = [&](const Sitting& sitting) {
        double sum = 0.0;
        double first = 0.0;
        constexpr double step = 0.02;
        for (double level = -2.0; level <= 2.0; level += step) {
            double seen = 0.0;
            for (double z = -4.0; z <= 4.0; z += 0.05) {
                double ln = -0.5 * z * z;
                for (const Counts& at : sitting.counts) {
                    const double p = threshold::right_probability({level + jitter * z, 0.775, 0.03},
                                                                  three_afc, at.x_log10);
                    ln += static_cast<double>(at.correct) * std::log(p) +
                          static_cast<double>(at.presentations - at.correct) * std::log(1.0 - p);
                }
                seen += std::exp(ln);
            }
            const double weight = seen * std::exp(-0.5 * std::pow(level / prior.sd_log10, 2));
            sum += weight;
            first += weight * level;
        }
        return first / sum;
    };
    CHECK(within(found.before.log10, mean(sittings[0]), 0.01));
    CHECK(within(found.after.log10, mean(sittings[1]), 0.01));
    CHECK(within(found.change.log10, mean(sittings[1]) - mean(sittings[0]), 0.01));
}

TEST_CASE("the error of a mix that both periods were served goes out of the change, and no other does") {
    Random random{Seed{5}};
    auto sittings = two_by_four(0.0, 0.0, 0.0, false, random);
    const auto sd = [&](double u, bool same) {
        for (std::size_t k = 0; k < sittings.size(); ++k) {
            sittings[k].u_shared_log10 = u;
            sittings[k].mix = same || k < 4 ? "one" : "other";
        }
        return compare(sittings, first_four, last_four, small_prior(), three_afc).change.sd_log10;
    };
    const double without = sd(0.0, true);
    CHECK(within(sd(0.1, true), without, 1e-3));
    CHECK(within(sd(0.1, false), std::hypot(without, 0.1 * std::numbers::sqrt2), 1e-3));
}

TEST_CASE("periods that overlap, turn round or go beyond the sittings are refused") {
    Random random{Seed{5}};
    const auto sittings = two_by_four(0.0, 0.0, 0.0, false, random);
    const auto tried = [&](Period earlier, Period later) {
        return compare(sittings, earlier, later, small_prior(), three_afc);
    };
    CHECK_THROWS_AS(tried({0, 3}, {3, 7}), Refused);
    CHECK_THROWS_AS(tried({4, 7}, {0, 3}), Refused);
    CHECK_THROWS_AS(tried({2, 1}, {3, 7}), Refused);
    CHECK_THROWS_AS(tried({0, 3}, {4, 8}), Refused);
    CHECK_NOTHROW(tried({0, 0}, {7, 7}));
}

TEST_CASE("two periods in words: the change, the levels with their dates, and what else is different") {
    Random random{Seed{5}};
    auto sittings = two_by_four(0.3, -0.6, 0.02, false, random);
    for (std::size_t k = 4; k < 8; ++k) sittings[k].conditions.lot = "a new pack";
    const PeriodsCompared found = compare(sittings, first_four, last_four, small_prior(), three_afc);
    CHECK(found.differs == std::vector<std::string>{"the lot of the ingredient"});
    const std::vector<std::string> lines = words(found, sittings, Scale::g_per_L);
    REQUIRE(lines.size() == 3);
    CHECK(lines[0].starts_with("Down "));
    CHECK(lines[0].find("lower in the later period") != std::string::npos);
    CHECK(lines[1].find("g/L, 2026-03-01 to 2026-03-04, against ") != std::string::npos);
    CHECK(lines[2] == "Not the same throughout: the lot of the ingredient. The change may be theirs.");
    for (Sitting& sitting : sittings) sitting.conditions.lot.clear();
    const auto same = two_by_four(0.0, 0.0, 0.0, false, random);
    const auto still =
        words(compare(same, first_four, last_four, small_prior(), three_afc), same, Scale::g_per_L);
    CHECK(std::ranges::find(still, "No change at all would fit these answers too.") != still.end());
}

TEST_CASE("halves leave the practice out") {
    CHECK(!halves(3, 2));
    CHECK(halves(4, 2) == std::pair{Period{2, 2}, Period{3, 3}});
    CHECK(halves(9, 2) == std::pair{Period{2, 4}, Period{5, 8}});
}
