#include "engine/threshold/next_level.hpp"

#include "engine/random.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using sipladder::tests::within;

namespace {

const std::vector<double> ladder{-1.2, -0.72, -0.24, 0.24, 0.72, 1.2};

double entropy(const Posterior& posterior) {
    double sum = 0.0;
    for (const double m : posterior.theta_marginal())
        if (m > 0.0) sum -= m * std::log(m);
    return sum;
}

/// As the definition says: both answers really given, both posteriors really made.
double slow_expected_entropy(const Posterior& posterior, double x_log10) {
    double sum = 0.0;
    for (const bool correct : {true, false}) {
        Posterior then = posterior;
        then.update(Log10Level{x_log10}, correct);
        sum += std::exp(then.log_evidence() - posterior.log_evidence()) * entropy(then);
    }
    return sum;
}

}  // namespace

TEST_CASE("expected entropy is that of both answers really given") {
    for (const Shape shape : {Shape::logistic, Shape::gaussian}) {
        Posterior posterior{Prior{}, three_afc, Fineness::coarse, shape};
        Random random{Seed{3}};
        for (int step = 0; step < 8; ++step) {
            const std::vector<double> fast = expected_entropy(posterior, ladder);
            for (std::size_t i = 0; i < ladder.size(); ++i)
                CHECK(within(fast[i], slow_expected_entropy(posterior, ladder[i]), 1e-11));
            posterior.update(Log10Level{ladder[random.below(ladder.size())]}, random.uniform() < 0.6);
        }
    }
}

TEST_CASE("an answer is never expected to raise the entropy of theta") {
    Posterior posterior{Prior{}, three_afc, Fineness::coarse};
    Random random{Seed{8}};
    for (int step = 0; step < 30; ++step) {
        const double now = entropy(posterior);
        for (const double expected : expected_entropy(posterior, ladder)) CHECK(expected < now);
        posterior.update(Log10Level{ladder[random.below(ladder.size())]}, random.uniform() < 0.6);
    }
}

TEST_CASE("only levels with portions left are chosen, and nothing when none is left") {
    const Posterior posterior{Prior{}, three_afc, Fineness::coarse};
    std::vector<int> portions(ladder.size(), 1);
    std::vector<bool> chosen(ladder.size(), false);
    for (std::size_t i = 0; i < ladder.size(); ++i) {
        const auto level = next_level(posterior, ladder, portions);
        REQUIRE(level.has_value());
        CHECK(!chosen[*level]);
        chosen[*level] = true;
        portions[*level] = 0;
    }
    CHECK(!next_level(posterior, ladder, portions).has_value());
}

TEST_CASE("the weakest of equal levels is chosen") {
    const Posterior posterior{Prior{}, three_afc, Fineness::coarse};
    const std::vector<double> twins{0.1, 0.1, 0.1};
    CHECK(next_level(posterior, twins, std::vector<int>{1, 1, 1}) == std::size_t{0});
    CHECK(next_level(posterior, twins, std::vector<int>{0, 1, 1}) == std::size_t{1});
}

TEST_CASE("levels follow the person: weaker after right answers, stronger after wrong ones") {
    const std::vector<int> portions(ladder.size(), 20);
    for (const bool correct : {true, false}) {
        Posterior posterior{Prior{}, three_afc, Fineness::coarse};
        const std::size_t first = *next_level(posterior, ladder, portions);
        for (int i = 0; i < 8; ++i)
            posterior.update(Log10Level{ladder[*next_level(posterior, ladder, portions)]}, correct);
        const std::size_t last = *next_level(posterior, ladder, portions);
        CHECK(correct ? last < first : last > first);
    }
}

TEST_CASE("an update and the choice after it are quick") {
    Posterior posterior{Prior{}, three_afc, Fineness::coarse};
    const std::vector<int> portions(ladder.size(), 1000);
    constexpr int rounds = 200;
    const auto start = std::chrono::steady_clock::now();
    std::size_t sum = 0;
    for (int i = 0; i < rounds; ++i) {
        const std::size_t level = *next_level(posterior, ladder, portions);
        posterior.update(Log10Level{ladder[level]}, i % 3 != 0);
        sum += level;
    }
    const std::chrono::duration<double, std::micro> took = std::chrono::steady_clock::now() - start;
    MESSAGE("update and choice among 6 levels: ", took.count() / rounds, " microseconds (", sum, ")");
    CHECK(took.count() / rounds <
          20'000.0);  // a hundred times its time: only a blunder shows, not a busy machine
}

TEST_CASE("a tabulated update is the update, and keeps the sums that choices are made from") {
    Posterior tabulated{Prior{}, three_afc, Fineness::coarse};
    Posterior pooled = tabulated;
    const Chooser chooser{tabulated, ladder};
    Random random{Seed{11}};
    for (int step = 0; step < 40; ++step) {
        const std::size_t level = random.below(ladder.size());
        const bool correct = random.uniform() < 0.6;
        tabulated.update(chooser.table(level), correct);
        pooled.update(Counts{ladder[level], 1, correct ? std::size_t{1} : std::size_t{0}, 0.0});
        CHECK(within(tabulated.mean(), pooled.mean(), 1e-12));
        CHECK(within(tabulated.log_evidence(), pooled.log_evidence(), 1e-11));
        for (std::size_t i = 0; i < tabulated.reach().size(); ++i)
            CHECK(within(tabulated.reach()[i], pooled.reach()[i], 1e-14));
    }
    // Answers that the grid thinks all but impossible take the long way and end at the same place.
    Prior sure;
    sure.lapses = {{0.0, 1.0}};
    Posterior surprised{sure, three_afc, Fineness::coarse};
    Posterior slow = surprised;
    for (int i = 0; i < 40; ++i) surprised.update(Log10Level{8.0}, false);
    slow.update(Counts{8.0, 40, 0, 0.0});
    CHECK(within(surprised.mean(), slow.mean(), 1e-9));
    CHECK(within(surprised.log_evidence(), slow.log_evidence(), 1e-8));
}

TEST_CASE("no level is served five times running, and clear cups keep their distance") {
    for (const double theta : {-1.0, -0.3, 0.4}) {
        Posterior posterior{Prior{}, three_afc, Fineness::coarse};
        const Chooser chooser{posterior, ladder};
        const std::vector<int> portions(ladder.size(), 100);
        Random random{Seed{21}};
        std::vector<std::size_t> served;
        for (int step = 0; step < 60; ++step) {
            const std::size_t level = *next_level_varied(posterior, chooser, portions, served);
            const std::size_t n = served.size();
            if (n >= 4) CHECK(std::count(served.end() - 4, served.end(), level) < 4);
            served.push_back(level);
            const double right = right_probability({theta, 0.775, 0.03}, three_afc, ladder[level]);
            posterior.update(chooser.table(level), random.uniform() < right);
        }
    }
    const Posterior posterior{Prior{}, three_afc, Fineness::coarse};
    const Chooser chooser{posterior, ladder};
    const std::vector<int> only_the_strongest{0, 0, 0, 0, 1, 3};
    CHECK(next_level_varied(posterior, chooser, only_the_strongest, std::vector<std::size_t>{4, 5}) ==
          std::size_t{4});  // both are barred as clear, so the rules yield to what tells most
    const std::vector<int> none(ladder.size(), 0);
    CHECK(!next_level_varied(posterior, chooser, none, std::vector<std::size_t>{5}).has_value());
}
