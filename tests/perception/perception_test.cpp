#include "engine/perception/confusion.hpp"
#include "engine/perception/draws.hpp"
#include "engine/problem.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

using namespace sipladder;
using namespace sipladder::perception;
using sipladder::tests::within;

TEST_CASE("weighted draws have the moments of what they were drawn from, also where it is skew") {
    // A normal of two correlated parameters.
    const auto normal = [](std::span<const double> x) {
        const double a = (x[0] - 3.0) / 2.0;
        const double b = (x[1] + 1.0) / 0.1;
        return -0.5 * (a * a - 1.6 * a * b + b * b) / (1.0 - 0.64);
    };
    const Draws draws = draws_of(normal, {0.0, 0.0}, {1.0, 1.0}, Seed{3});
    CHECK(draws.effective() > 0.6);
    const Estimate first = draws.of([](std::span<const double> x) { return x[0]; });
    CHECK(within(first.value, 3.0, 0.05));
    CHECK(within(first.sd, 2.0, 0.12));
    CHECK(within(first.lower, 3.0 - 1.96 * 2.0, 0.35));
    CHECK(within(first.upper, 3.0 + 1.96 * 2.0, 0.35));
    // sd of a - b at correlation 0.8: both in units of their own sd.
    const Estimate apart =
        draws.of([](std::span<const double> x) { return (x[0] - 3.0) / 2.0 - (x[1] + 1.0) / 0.1; });
    CHECK(within(apart.sd, std::sqrt(2.0 - 1.6), 0.05));
    // The log of a gamma variable of shape 1.5: mean digamma(1.5), variance trigamma(1.5).
    const Draws skew = draws_of([](std::span<const double> x) { return 1.5 * x[0] - std::exp(x[0]); }, {0.0},
                                {1.0}, Seed{4});
    const Estimate logs = skew.of([](std::span<const double> x) { return x[0]; });
    CHECK(within(logs.value, 0.03649, 0.04));
    CHECK(within(logs.sd, std::sqrt(0.93480), 0.05));
    const Draws again = draws_of([](std::span<const double> x) { return 1.5 * x[0] - std::exp(x[0]); }, {0.0},
                                 {1.0}, Seed{4});
    CHECK(again.points == skew.points);
}

TEST_CASE("gamma and beta draws have their means and variances") {
    Random random{Seed{9}};
    constexpr int count = 20'000;
    for (const double shape : {0.5, 1.0, 4.0}) {
        CAPTURE(shape);
        double sum = 0.0;
        double square = 0.0;
        for (int i = 0; i < count; ++i) {
            const double x = gamma_draw(random, shape);
            sum += x;
            square += x * x;
        }
        const double mean = sum / count;
        CHECK(within(mean, shape, 4.0 * std::sqrt(shape / count)));
        CHECK(within(square / count - mean * mean, shape, 0.1 * shape));
    }
    double sum = 0.0;
    for (int i = 0; i < count; ++i) sum += beta_draw(random, 2.0, 6.0);
    CHECK(within(sum / count, 0.25, 4.0 * 0.144 / std::sqrt(count)));
    CHECK(within(log_below(-35.0), -616.9751, 0.01));  // R: pnorm(-35, log.p = TRUE)
    CHECK(within(log_below(1.0), std::log(0.841344746), 1e-9));
}

TEST_CASE("a perfect namer has all the bits, a guesser none, and few answers no longer flatter") {
    Counts perfect(4, std::vector<std::size_t>(4, 0));
    Counts guessed(4, std::vector<std::size_t>(4, 1));
    for (std::size_t i = 0; i < 4; ++i) perfect[i][i] = 50;
    CHECK(within(plug_in_bits(perfect), 2.0, 1e-12));
    CHECK(within(plug_in_bits(guessed), 0.0, 1e-12));
    CHECK(corrected_bits(guessed) == 0.0);
    CHECK(within(bits(perfect, {}, Seed{1}).value, 2.0, 0.15));
    // Three answers a row by pure guessing: shares alone make a third of a bit of it and more.
    Random random{Seed{5}};
    double plain = 0.0;
    double first_order = 0.0;
    constexpr int tables = 300;
    for (int t = 0; t < tables; ++t) {
        Counts counts(4, std::vector<std::size_t>(4, 0));
        for (auto& row : counts)
            for (int i = 0; i < 3; ++i) ++row[random.below(4)];
        plain += plug_in_bits(counts) / tables;
        first_order += corrected_bits(counts) / tables;
    }
    CHECK(plain > 0.45);
    CHECK(first_order < 0.5 * plain);
    CHECK_THROWS_AS(plug_in_bits({{0, 0}, {0, 0}}), Refused);
    CHECK_THROWS_AS(plug_in_bits({{1, 0}, {0}}), Refused);
}

TEST_CASE("bits are neither too high nor too low for people as assumed, and their interval holds 95 in 100") {
    const NamingPrior prior;
    Random random{Seed{11}};
    constexpr int people = 400;
    double error = 0.0;
    double square = 0.0;
    int held = 0;
    for (int person = 0; person < people; ++person) {
        std::vector<std::vector<double>> truth;
        Counts counts;
        for (std::size_t row = 0; row < 3; ++row) {
            const double right = beta_draw(random, prior.right, prior.wrong);
            std::vector<double> shares(3);
            double rest = 0.0;
            for (std::size_t name = 0; name < 3; ++name)
                if (name != row) rest += shares[name] = gamma_draw(random, prior.each);
            for (std::size_t name = 0; name < 3; ++name)
                shares[name] = name == row ? right : (1.0 - right) * shares[name] / rest;
            counts.emplace_back(3, 0);
            for (int cup = 0; cup < 4; ++cup) {
                double left = random.uniform();
                std::size_t name = 0;
                while (name < 2 && (left -= shares[name]) >= 0.0) ++name;
                ++counts.back()[name];
            }
            truth.push_back(std::move(shares));
        }
        const Estimate found = bits(counts, prior, Seed{static_cast<std::uint64_t>(person)});
        const double off = found.value - bits_of(truth);
        error += off / people;
        square += off * off / people;
        held += found.lower <= bits_of(truth) && bits_of(truth) <= found.upper ? 1 : 0;
    }
    CHECK(std::abs(error) < 3.5 * std::sqrt(square / people));
    CHECK(within(held / static_cast<double>(people), 0.95, 3.5 * std::sqrt(0.95 * 0.05 / people)));
}

TEST_CASE("what was taken for what comes most often first, with its exact interval, and once is no habit") {
    const auto found = taken_for({{5, 3, 0}, {1, 4, 3}, {0, 0, 8}});
    REQUIRE(found.size() == 2);
    CHECK(found[0].row == 0);
    CHECK(found[0].name == 1);
    CHECK(found[0].times == 3);
    CHECK(found[0].served == 8);
    CHECK(within(found[0].share.upper, 0.755, 0.001));  // R: binom.test(3, 8)
    CHECK(found[1].row == 1);
}
