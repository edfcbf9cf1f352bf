#include "engine/threshold/posterior.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using sipladder::tests::within;

namespace {

Prior around(double mean) {
    Prior prior;
    prior.mean_log10 = mean;
    return prior;
}

struct OneAnswer {
    double x_log10{};
    bool correct{};
};

std::vector<OneAnswer> some_answers(Seed seed, std::size_t count) {
    Random random{seed};
    const Curve truth{random.normal() * 0.4, 0.4 + random.uniform(), 0.05 * random.uniform()};
    std::vector<OneAnswer> answers;
    for (std::size_t i = 0; i < count; ++i) {
        const double x = 0.477 * (static_cast<double>(random.below(6)) - 2.5);
        answers.push_back({x, random.uniform() < right_probability(truth, three_afc, x)});
    }
    return answers;
}

Posterior after(Posterior posterior, const std::vector<OneAnswer>& answers) {
    for (const OneAnswer& answer : answers) posterior.update(Log10Level{answer.x_log10}, answer.correct);
    return posterior;
}

double total(const Posterior& posterior) {
    return std::accumulate(posterior.cells().begin(), posterior.cells().end(), 0.0);
}

}  // namespace

TEST_CASE("the cells of a posterior sum to one before and after every answer") {
    for (const Shape shape : {Shape::logistic, Shape::gaussian}) {
        Posterior posterior{around(0.7), three_afc, Fineness::coarse, shape};
        CHECK(within(total(posterior), 1.0, 1e-12));
        for (const OneAnswer& answer : some_answers(Seed{11}, 40)) {
            posterior.update(Log10Level{answer.x_log10}, answer.correct);
            CHECK(within(total(posterior), 1.0, 1e-12));
        }
    }
}

TEST_CASE("a cell moves by the probability of the answer on its own curve") {
    for (const Shape shape : {Shape::logistic, Shape::gaussian})
        for (const bool correct : {true, false}) {
            const Posterior before{around(0.0), two_afc, Fineness::coarse, shape};
            Posterior then = before;
            then.update(Log10Level{0.3}, correct);
            std::size_t cell = 0;
            for (const double theta : before.thetas())
                for (const double width : before.widths())
                    for (const double lapse : before.lapses()) {
                        const Curve curve{theta, width, lapse};
                        const double p = correct ? right_probability(curve, two_afc, 0.3, shape)
                                                 : wrong_probability(curve, two_afc, 0.3, shape);
                        const double wanted = before.cells()[cell] * p / std::exp(then.log_evidence());
                        REQUIRE(within(then.cells()[cell], wanted, 1e-18, 1e-11));
                        ++cell;
                    }
        }
}

TEST_CASE("the order of answers does not matter, nor whether they are pooled") {
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        CAPTURE(seed);
        std::vector<OneAnswer> answers = some_answers(Seed{seed}, 30);
        const Posterior start{around(0.1), three_afc, Fineness::coarse};
        const Posterior in_order = after(start, answers);
        Random random{Seed{seed + 1000}};
        random.shuffle(answers);
        const Posterior shuffled = after(start, answers);
        Posterior pooled = start;
        std::vector<OneAnswer> left = answers;
        while (!left.empty()) {
            const double x = left.front().x_log10;
            Counts counts{x, 0, 0, 0.0};
            for (const OneAnswer& answer : left)
                if (answer.x_log10 == x) {
                    ++counts.presentations;
                    if (answer.correct) ++counts.correct;
                }
            std::erase_if(left, [&](const OneAnswer& answer) { return answer.x_log10 == x; });
            pooled.update(counts);
        }
        CHECK(within(shuffled.mean(), in_order.mean(), 1e-12));
        CHECK(within(pooled.mean(), in_order.mean(), 1e-12));
        CHECK(within(pooled.sd(), in_order.sd(), 1e-12));
        CHECK(within(pooled.log_evidence(), in_order.log_evidence(), 1e-10));
        CHECK(within(shuffled.log_evidence(), in_order.log_evidence(), 1e-10));
    }
}

// A theorem only where width and lapse are known: psi / (1 - psi) then falls with theta. With them open, a
// right answer far below theta speaks for a wide curve and may even raise it a little.
TEST_CASE("on a known width and lapse a right answer in place of a wrong one lowers theta") {
    Prior prior = around(0.0);
    prior.width_ln_sd = 0.0;
    prior.lapses = {{0.03, 1.0}};
    for (std::uint64_t seed = 1; seed <= 30; ++seed) {
        std::vector<OneAnswer> answers = some_answers(Seed{seed}, 16);
        const Posterior start{prior, three_afc, Fineness::coarse};
        const double mean = after(start, answers).mean();
        for (OneAnswer& answer : answers) {
            if (answer.correct) continue;
            answer.correct = true;
            CAPTURE(seed);
            CHECK(after(start, answers).mean() < mean);
            answer.correct = false;
        }
    }
}

TEST_CASE("quantiles ascend, end at the edges of the range and halve the probability at the median") {
    const Posterior posterior =
        after(Posterior{around(0.0), three_afc, Fineness::fine}, some_answers(Seed{5}, 12));
    const Range range = theta_range(posterior.prior());
    CHECK(within(posterior.quantile(1.0), range.upper, 1e-9));
    CHECK(posterior.quantile(0.0) >= range.lower - 1e-9);
    double last = posterior.quantile(0.0);
    for (int percent = 1; percent <= 100; ++percent) {
        const double quantile = posterior.quantile(percent / 100.0);
        CHECK(quantile >= last);
        last = quantile;
    }
    const Posterior prior{around(0.4), three_afc, Fineness::coarse};
    CHECK(within(prior.quantile(0.5), 0.4, 1e-9));  // cell centres would be half a cell off
    CHECK(within(prior.quantile(0.975) - 0.4, 0.4 - prior.quantile(0.025), 1e-9));
}

TEST_CASE("quantiles of a flat prior are exact, for they are taken at cell edges") {
    Prior prior;
    prior.kind = Prior::Kind::flat;
    prior.lower_log10 = -1.0;
    prior.upper_log10 = 3.0;
    const Posterior posterior{prior, three_afc, Fineness::coarse};
    CHECK(within(posterior.quantile(0.025), -0.9, 1e-12));
    CHECK(within(posterior.quantile(0.975), 2.9, 1e-12));
    CHECK(within(posterior.mean(), 1.0, 1e-12));
    CHECK(within(posterior.sd(), 4.0 / std::sqrt(12.0), 1e-3));
}

TEST_CASE("coarse and fine grid agree within what a coarse grid can tell") {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        CAPTURE(seed);
        const std::vector<OneAnswer> answers = some_answers(Seed{seed}, 16);
        const Posterior coarse = after(Posterior{around(0.0), three_afc, Fineness::coarse}, answers);
        const Posterior fine = after(Posterior{around(0.0), three_afc, Fineness::fine}, answers);
        CHECK(within(coarse.mean(), fine.mean(), 0.01));
        CHECK(within(coarse.sd(), fine.sd(), 0.01));
        CHECK(within(coarse.log_evidence(), fine.log_evidence(), 0.01));
        CHECK(within(coarse.quantile(0.025), fine.quantile(0.025), 0.03));
        CHECK(within(coarse.quantile(0.975), fine.quantile(0.975), 0.03));
    }
}

TEST_CASE("thousands of answers at one level, pooled or one by one, stay finite and agree") {
    Posterior one_by_one{around(0.0), three_afc, Fineness::coarse};
    for (int i = 0; i < 3000; ++i) one_by_one.update(Log10Level{0.2}, i % 3 != 0);
    Posterior pooled{around(0.0), three_afc, Fineness::coarse};
    pooled.update(Counts{0.2, 3000, 2000, 0.0});
    CHECK(std::isfinite(pooled.log_evidence()));
    CHECK(within(one_by_one.mean(), pooled.mean(), 1e-9));
    CHECK(within(one_by_one.log_evidence(), pooled.log_evidence(), 1e-6));
    Posterior huge{around(0.0), three_afc, Fineness::coarse};
    huge.update(Counts{0.2, 4'000'000, 2'000'000, 0.0});
    CHECK(std::isfinite(huge.mean()));
    CHECK(within(total(huge), 1.0, 1e-9));
}

TEST_CASE("an answer that cannot happen on any curve does not end a yes-no posterior") {
    Prior prior = around(0.0);
    prior.lapses = {{0.0, 1.0}};
    Posterior posterior{prior, Task{0.0}, Fineness::coarse, Shape::gaussian};
    posterior.update(Log10Level{-40.0}, true);
    CHECK(within(total(posterior), 1.0, 1e-12));
}

TEST_CASE("the lapse nodes of a beta prior keep its mass and mean") {
    const std::vector<Prior::LapseNode> nodes = beta_lapses(2.0, 50.0, 24);
    double weight = 0.0;
    double mean = 0.0;
    for (const Prior::LapseNode& node : nodes) {
        weight += node.weight;
        mean += node.weight * node.lapse;
    }
    CHECK(within(weight, 1.0, 1e-12));
    CHECK(within(mean, 2.0 / 52.0, 1e-6));
    CHECK(std::is_sorted(nodes.begin(), nodes.end(), [](auto a, auto b) { return a.lapse < b.lapse; }));
}

TEST_CASE("a prior that cannot be used is refused with every problem named") {
    Prior prior;
    prior.sd_log10 = 0.0;
    prior.width_lower = -1.0;
    prior.lapses = {{1.5, 1.0}};
    std::size_t problems = 0;
    try {
        const Posterior posterior{prior, three_afc, Fineness::coarse};
    } catch (const Refused& refused) {
        problems = refused.problems().size();
    }
    CHECK(problems == 4);  // sd, the range that follows from it, width, lapse
    CHECK_THROWS_AS((Posterior{Prior{}, Task{1.0}, Fineness::coarse}), Refused);
    Prior flat;
    flat.kind = Prior::Kind::flat;
    CHECK_THROWS_AS((Posterior{flat, three_afc, Fineness::coarse}), Refused);
    Posterior posterior{Prior{}, three_afc, Fineness::coarse};
    CHECK_THROWS_AS(posterior.update(Counts{0.0, 3, 4, 0.0}), Refused);
}
