#include "engine/normal.hpp"
#include "engine/perception/confusion.hpp"
#include "engine/perception/draws.hpp"
#include "engine/perception/mouth.hpp"
#include "engine/perception/ordering.hpp"
#include "engine/perception/strength.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/ordinal.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
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

TEST_CASE("orders of cups have the probabilities of Thurstone's case V, and these sum to one") {
    const std::vector<double> x{0.0, 0.05, 0.12};
    // Two cups: Phi(distance / (noise sqrt 2)).
    const double two = order_probability({0.0, 0.08}, 0.1, {0, 1});
    CHECK(within(two, normal_below(0.08 / (0.1 * std::numbers::sqrt2)), 1e-4));
    double sum = 0.0;
    std::vector<std::size_t> order{0, 1, 2};
    do sum += order_probability(x, 0.06, order);
    while (std::next_permutation(order.begin(), order.end()));
    CHECK(within(sum, 1.0, 1e-3));
    // Against a count of drawn percepts.
    Random random{Seed{8}};
    constexpr int draws = 40'000;
    int hits = 0;
    for (int i = 0; i < draws; ++i) {
        const double a = x[0] + 0.06 * random.normal();
        const double b = x[1] + 0.06 * random.normal();
        const double c = x[2] + 0.06 * random.normal();
        hits += b < a && a < c ? 1 : 0;
    }
    const double p = order_probability(x, 0.06, {1, 0, 2});
    CHECK(within(static_cast<double>(hits) / draws, p, 4.0 * std::sqrt(p * (1.0 - p) / draws)));
    CHECK(within(normal_below(0.08 / (noise_of_step(0.08) * std::numbers::sqrt2)), 0.75, 1e-9));
    CHECK(adjacent_errors({0, 1, 2, 3}) == std::vector<std::size_t>{0, 0, 0});
    CHECK(adjacent_errors({1, 0, 3, 2}) == std::vector<std::size_t>{1, 0, 1});
    CHECK(adjacent_errors({3, 2, 1, 0}) == std::vector<std::size_t>{1, 1, 1});
}

TEST_CASE(
    "a difference threshold from orders is small for right ones, large for wrong ones, and wider for few") {
    const std::vector<double> x{0.0, 0.06, 0.12, 0.18, 0.24};
    const std::vector<double> u(5, 0.005);
    const Order right{0, 1, 2, 3, 4};
    const Estimate sure = difference_log10(x, u, {right, right, right, right}, {}, Seed{1});
    const Estimate once = difference_log10(x, u, {right}, {}, Seed{1});
    const Estimate wrong =
        difference_log10(x, u, {{1, 0, 2, 4, 3}, {2, 0, 1, 3, 4}, {0, 2, 1, 4, 3}}, {}, Seed{1});
    CHECK(std::pow(10.0, sure.value) < 0.12);
    CHECK(sure.upper < once.upper);
    CHECK(wrong.lower > sure.value);
    CHECK(std::pow(10.0, wrong.value) > 0.15);
    CHECK_THROWS_AS(difference_log10(x, u, {}, {}, Seed{1}), Refused);
    CHECK_THROWS_AS(difference_log10(x, u, {{0, 1, 2, 3, 3}}, {}, Seed{1}), Refused);
    CHECK_THROWS_AS(difference_log10(x, u, {{0, 1, 2}}, {}, Seed{1}), Refused);
}

namespace {

/// Rungs a factor of 1.8 apart, without errors unless said.
Levels levels_of(std::size_t rungs, double u_own = 0.0, double u_shared = 0.0) {
    Levels levels;
    for (std::size_t i = 0; i < rungs; ++i)
        levels.rungs.push_back({std::log10(1.8) * static_cast<double>(i), u_own, 0});
    levels.u_shared_log10[0] = u_shared;
    return levels;
}

GrowthPrior flat_growth() {
    GrowthPrior prior;
    prior.centre = {1.5, 10.0};
    prior.slope = {1.0, 10.0};
    prior.ln_noise = {-2.0, 3.0};
    return prior;
}

}  // namespace

TEST_CASE("growth without an assumption is the least-squares line with Student's interval") {
    const Levels levels = levels_of(5);
    // Two answers a rung, invented.
    const double y[] = {0.92, 1.05, 1.22, 1.18, 1.55, 1.41, 1.70, 1.78, 1.99, 1.90};
    std::vector<Felt> felt;
    for (std::size_t i = 0; i < 10; ++i) felt.push_back({i / 2, y[i]});
    const Growth found = growth(levels, felt, flat_growth(), Seed{2});
    // R: x <- rep(log10(1.8)*(0:4) - 2*log10(1.8), each = 2); confint(lm(y ~ x))
    CHECK(within(found.slope.value, 0.96368, 0.01));
    CHECK(within(found.slope.lower, 0.84106, 0.03));
    CHECK(within(found.slope.upper, 1.08630, 0.03));
    CHECK(within(found.centre.value, 1.47, 0.005));
    CHECK_FALSE(found.shift);
    // A mark at the end of the line says "this or more": the slope it allows is no smaller.
    felt[9].side = felt[8].side = Felt::Side::above;
    const Growth cut = growth(levels, felt, flat_growth(), Seed{2});
    CHECK(cut.slope.value > found.slope.value);
    CHECK_THROWS_AS(growth(levels, {}, flat_growth(), Seed{2}), Refused);
    CHECK_THROWS_AS(growth(levels, {{7, 1.0}}, flat_growth(), Seed{2}), Refused);
}

TEST_CASE("bottles that may be off widen what rests on them, and a common error moves no ratio of one mix") {
    const auto with = [](double u_shared, bool same_bottles) {
        Levels levels = levels_of(4);
        for (std::size_t i = 0; i < 4; ++i) levels.rungs.push_back({levels.rungs[i].x_log10, 0.0, 1});
        levels.has_two_conditions = true;
        levels.same_bottles = same_bottles;
        levels.u_shared_log10[0] = levels.u_shared_log10[1] = u_shared;
        std::vector<Felt> felt;
        Random random{Seed{6}};
        for (std::size_t i = 0; i < 32; ++i) {
            const Rung& rung = levels.rungs[i % 8];
            const double x = rung.x_log10 - (rung.condition == 1 ? 0.2 : 0.0);
            felt.push_back({i % 8, 1.2 + x + 0.05 * random.normal()});
        }
        GrowthPrior prior = flat_growth();
        prior.shift = {0.0, 1.0};
        prior.shift_is_of_level = true;
        return *growth(levels, felt, prior, Seed{3}).shift;
    };
    const Estimate exact = with(0.0, false);
    const Estimate vague = with(0.1, false);
    const Estimate same = with(0.1, true);
    CHECK(within(exact.value, 0.2, 0.06));
    CHECK(within(vague.sd, std::hypot(exact.sd, 0.1 * std::numbers::sqrt2), 0.02));
    CHECK(within(same.sd, exact.sd, 0.006));
}

TEST_CASE("limits of words are those of ordinal regression where there are many answers") {
    const Levels levels = levels_of(6);
    const std::vector<double> truth{0.25, 0.6, 1.0};
    Random random{Seed{17}};
    std::vector<Said> said;
    std::vector<threshold::OrdinalRow> rows;
    for (const Rung& rung : levels.rungs) rows.push_back({{rung.x_log10}, std::vector<double>(4, 0.0)});
    for (std::size_t i = 0; i < 600; ++i) {
        const double felt = levels.rungs[i % 6].x_log10 + 0.15 * random.normal();
        const auto word = static_cast<std::size_t>(
            std::count_if(truth.begin(), truth.end(), [&](double c) { return felt > c; }));
        said.push_back({i % 6, word});
        rows[i % 6].counts[word] += 1.0;
    }
    WordsPrior prior;
    prior.lapse = 0.0;
    const WordLimits found = word_limits(levels, 4, said, prior, Seed{4}, 1);
    const threshold::OrdinalFit fit = threshold::ordinal_regression(rows, threshold::Link::probit);
    REQUIRE(found.log10.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(within(found.log10[i].value, fit.cut_points[i] / fit.coefficients[0], 0.01));
        CHECK(within(found.log10[i].value, truth[i], 4.0 * found.log10[i].sd));
    }
    CHECK(within(found.noise.value, 1.0 / fit.coefficients[0], 0.006));
    CHECK(within(found.middle_log10->value, 0.5 * (found.log10[0].value + found.log10[1].value), 1e-9));
    // What the whole mix may be off by moves every limit.
    const WordLimits vague = word_limits(levels_of(6, 0.0, 0.08), 4, said, prior, Seed{4});
    CHECK(within(vague.log10[1].sd, std::hypot(found.log10[1].sd, 0.08), 0.01));
    CHECK_THROWS_AS(word_limits(levels, 1, said, prior, Seed{4}), Refused);
    CHECK_THROWS_AS(word_limits(levels, 3, said, prior, Seed{4}), Refused);
}

TEST_CASE("two cups are alike as often as their places are, by lot half the time") {
    CHECK(two_alike_of({0.5, 0.5}) == 0.5);
    CHECK(two_alike_of({0.0, 1.0}) == 1.0);
    const Estimate always = two_alike({{8, 8}, {0, 8}, {8, 8}}, {}, Seed{1});
    CHECK(always.value > 0.85);
    const Estimate by_lot = two_alike({{4, 8}, {4, 8}, {3, 8}}, {}, Seed{1});
    CHECK(within(by_lot.value, 0.54, 0.04));
    CHECK(by_lot.upper < always.lower);
    CHECK_THROWS_AS(two_alike({{3, 2}}, {}, Seed{1}), Refused);
    // Two cups that always agree, and two that never do.
    CHECK(krippendorff_nominal({{1, 0, 1, 0}, {1, 0, 1, 0}}) == 1.0);
    CHECK(krippendorff_nominal({{1, 0, 1, 0}, {0, 1, 0, 1}}) < -0.5);
    CHECK_THROWS_AS(krippendorff_nominal({{1, 1}, {1, 1}}), Refused);
}
