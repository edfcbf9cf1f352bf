#include "engine/threshold/ranking.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <numeric>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

using Rows = std::vector<std::vector<double>>;

/// Goes through every order of every row: slow and obvious.
template <class Statistic>
double brute_tail(const Rows& rows, Statistic&& statistic) {
    const double seen = statistic(rows);
    double as_far = 0.0;
    double all = 0.0;
    Rows orders = rows;
    for (auto& row : orders) std::sort(row.begin(), row.end());
    const auto visit = [&](auto&& self, std::size_t at) -> void {
        if (at == orders.size()) {
            all += 1.0;
            if (statistic(orders) >= seen - 1e-9) as_far += 1.0;
            return;
        }
        // Equal ranks have fewer distinct orders, each of which stands for as many of all.
        do self(self, at + 1);
        while (std::next_permutation(orders[at].begin(), orders[at].end()));
    };
    visit(visit, 0);
    return as_far / all;
}

double place_sum(const Rows& rows) {
    double sum = 0.0;
    for (const auto& row : rows)
        for (std::size_t i = 0; i < row.size(); ++i) sum += static_cast<double>(i + 1) * row[i];
    return sum;
}

double squares(const Rows& rows) {
    double all = 0.0;
    for (std::size_t i = 0; i < rows.front().size(); ++i) {
        double sum = 0.0;
        for (const auto& row : rows) sum += row[i];
        all += sum * sum;
    }
    return all;
}

Rows random_rows(std::size_t persons, std::size_t samples, std::size_t scores, Random& random) {
    Rows rows(persons, std::vector<double>(samples));
    for (auto& row : rows)
        for (double& cell : row) cell = static_cast<double>(random.below(scores));
    return rows;
}

}  // namespace

TEST_CASE("exact p of Friedman and Page are those of counting every order, ties included") {
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        CAPTURE(seed);
        Random random{Seed{seed}};
        const Rankings rankings = rankings_of(random_rows(4, 3, seed % 2 == 0 ? 3 : 100, random));
        const Friedman f = friedman(rankings);
        if (f.statistic > 0.0 || !f.has_ties)
            CHECK(within(f.p_exact.value(), brute_tail(rankings, squares), 1e-12));
        const Page l = page(rankings);
        REQUIRE(l.is_exact);
        CHECK(within(l.p_given_ties.value_or(l.p), brute_tail(rankings, place_sum), 1e-12));
    }
}

TEST_CASE("ranks of equal values are their mean, and any order-keeping scores give the same test") {
    CHECK(mid_ranks(std::vector<double>{3.0, 1.0, 3.0, 2.0}) == std::vector<double>{3.5, 1.0, 3.5, 2.0});
    CHECK(mid_ranks(std::vector<double>{5.0, 5.0, 5.0}) == std::vector<double>{2.0, 2.0, 2.0});
    const Rankings places = rankings_of({{1, 2, 3}, {2, 1, 3}, {1, 3, 2}});
    const Rankings scores = rankings_of({{-5, 0.1, 900}, {7, 6, 8}, {0, 2, 1}});
    CHECK(places == scores);
}

TEST_CASE("perfect agreement has W = 1 and the smallest p there is") {
    const Rankings alike = rankings_of({{1, 2, 3, 4}, {1, 2, 3, 4}, {1, 2, 3, 4}});
    const Friedman f = friedman(alike);
    CHECK(within(f.kendall_w, 1.0, 1e-12));
    CHECK(within(f.p_exact.value(), 24.0 / (24.0 * 24.0 * 24.0), 1e-15));
    const Page l = page(alike);
    CHECK(within(l.p, 1.0 / (24.0 * 24.0 * 24.0), 0.0, 1e-10));
    CHECK(l.statistic == 90.0);
    CHECK(within(page(rankings_of({{4, 3, 2, 1}, {4, 3, 2, 1}})).p, 1.0, 1e-12));
}

TEST_CASE("nobody tells any sample apart, or one person ranks alone, and the answer is still right") {
    const Friedman tied = friedman(rankings_of({{1, 1, 1}, {7, 7, 7}}));
    CHECK(tied.statistic == 0.0);
    CHECK(tied.p == 1.0);
    CHECK(tied.kendall_w == 0.0);
    CHECK(within(page(rankings_of({{1, 1, 1}, {7, 7, 7}})).p_given_ties.value(), 1.0, 1e-12));
    const Friedman alone = friedman(rankings_of({{2, 1, 3}}));
    CHECK(within(alone.p_exact.value(), 1.0, 1e-12));
    CHECK(within(page(rankings_of({{1, 2, 3}})).p, 1.0 / 6.0, 1e-12));
}

TEST_CASE("a table too large to count through falls back to the large-sample distributions and says so") {
    Random random{Seed{3}};
    const Rankings wide = rankings_of(random_rows(12, 14, 1000, random));
    CHECK(!page(wide).is_exact);
    CHECK(!friedman(wide).p_exact.has_value());
    const Rankings tall = rankings_of(random_rows(3000, 6, 1000, random));
    CHECK(!page(tall).is_exact);
    CHECK(page(tall).p > 0.0);
    CHECK(friedman(tall).p > 0.0);
    CHECK(friedman(tall).p <= 1.0);
}

TEST_CASE("ranks that cannot be compared are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(rankings_of({}), Refused);
    CHECK_THROWS_AS(rankings_of({{1.0}}), Refused);
    CHECK_THROWS_AS(rankings_of({{1.0, 2.0}, {1.0}}), Refused);
    CHECK_THROWS_AS(rankings_of({{1.0, nan}}), Refused);
    CHECK_THROWS_AS(friedman_statistic(std::vector<double>{3.0}, 4), Refused);
    CHECK_THROWS_AS(friedman_statistic(std::vector<double>{3.0, 4.0}, 0), Refused);
    const std::vector<double> three{1, 2, 3};
    CHECK_THROWS_AS(kendall_tau(three, std::vector<double>{1, 2}), Refused);
    CHECK_THROWS_AS(kendall_tau(three, std::vector<double>{1, 1, 1}), Refused);
    CHECK_THROWS_AS(spearman_rho(three, std::vector<double>{1, nan, 1}), Refused);
    CHECK_THROWS_AS(spearman_rho(std::vector<double>{1, 2}, std::vector<double>{1, 2}), Refused);
}

TEST_CASE("rank correlations turn their sign with one side and keep their two-sided p") {
    const std::vector<double> x{1, 5, 2, 8, 4, 9, 3};
    const std::vector<double> y{2, 4, 1, 9, 6, 7, 3};
    std::vector<double> turned;
    for (const double value : y) turned.push_back(-value);
    for (const auto& measure : {kendall_tau, spearman_rho}) {
        const RankCorrelation up = measure(x, y);
        const RankCorrelation down = measure(x, turned);
        CHECK(within(up.value, -down.value, 1e-12));
        CHECK(within(up.p_two_sided, down.p_two_sided, 1e-12));
        CHECK(up.p_one_sided < 0.5);
        CHECK(down.p_one_sided > 0.5);
    }
    // 12 pairs are beyond counting for rho: R 4.2.2, computed here, cor.test(method = "spearman", exact =
    // FALSE).
    const std::vector<double> many{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12};
    const std::vector<double> others{2, 1, 4, 3, 6, 5, 8, 7, 10, 9, 12, 11};
    const RankCorrelation twelve = spearman_rho(many, others);
    CHECK(!twelve.is_exact);
    CHECK(within(twelve.value, 0.958041958041958, 1e-12));
    CHECK(within(twelve.p_two_sided, 9.54358182683830e-07, 0.0, 1e-9));
    CHECK(spearman_rho(many, many).p_two_sided == 0.0);
}
