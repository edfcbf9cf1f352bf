#include "engine/threshold/rank_distribution.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"

#include <boost/math/special_functions/beta.hpp>
#include <boost/math/special_functions/gamma.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

// Going through all k! orders of a row is needless: over subsets of its ranks, placed one place after
// another, the sum has few values (2^k subsets times a few hundred sums). Rank sums of several rows are
// followed as a multiset, since the samples are exchangeable; that folds k! states into one. Ranks are
// doubled, so that mid-ranks are whole numbers and no sum is ever compared with rounding.

namespace sipladder::threshold::ranks {

namespace {

long doubled(double rank) {
    return std::lround(2.0 * rank);
}

/// More states times orders than this are not followed: about a tenth of a second.
constexpr double most_work = 500e3;

}  // namespace

double Distribution::at_least(double least) const {
    double tail = 0.0;
    // From the far end, so that small tails keep their digits.
    for (std::size_t i = probability.size(); i-- > 0;) {
        if (static_cast<double>(first + static_cast<long>(i)) < least) break;
        tail += probability[i];
    }
    return std::min(tail, 1.0);
}

Distribution twice_place_sum(std::span<const double> row) {
    SIPLADDER_EXPECT(!row.empty() && row.size() <= 12);
    const std::size_t count = row.size();
    std::vector<long> ranks;
    for (const double rank : row) ranks.push_back(doubled(rank));
    std::sort(ranks.begin(), ranks.end());
    long least = 0;
    long most = 0;
    for (std::size_t i = 0; i < count; ++i) {
        most += static_cast<long>(i + 1) * ranks[i];
        least += static_cast<long>(i + 1) * ranks[count - 1 - i];
    }
    const auto width = static_cast<std::size_t>(most) + 1;
    std::vector<std::vector<double>> by_subset(std::size_t{1} << count);
    by_subset[0].assign(width, 0.0);
    by_subset[0][0] = 1.0;
    for (std::size_t subset = 0; subset < by_subset.size(); ++subset) {
        std::vector<double>& from = by_subset[subset];
        if (from.empty()) continue;
        std::size_t place = 1;
        for (std::size_t i = 0; i < count; ++i) place += subset >> i & 1U;
        const double share = 1.0 / static_cast<double>(count - place + 1);
        for (std::size_t i = 0; i < count; ++i) {
            if (subset >> i & 1U) continue;
            std::vector<double>& to = by_subset[subset | std::size_t{1} << i];
            if (to.empty()) to.assign(width, 0.0);
            const std::size_t added = place * static_cast<std::size_t>(ranks[i]);
            for (std::size_t sum = 0; sum + added < width; ++sum) to[sum + added] += share * from[sum];
        }
        if (subset + 1 < by_subset.size()) from = {};  // its memory is not needed any more
    }
    const std::vector<double>& all = by_subset.back();
    return {least, {all.begin() + least, all.end()}};
}

Distribution sum_of(const Distribution& a, const Distribution& b) {
    Distribution sum{a.first + b.first,
                     std::vector<double>(a.probability.size() + b.probability.size() - 1, 0.0)};
    for (std::size_t i = 0; i < a.probability.size(); ++i) {
        if (a.probability[i] == 0.0) continue;
        for (std::size_t j = 0; j < b.probability.size(); ++j)
            sum.probability[i + j] += a.probability[i] * b.probability[j];
    }
    return sum;
}

Distribution concordant_pairs(std::size_t count) {
    SIPLADDER_EXPECT(count >= 1 && count <= 60);
    // The next thing stands before 0 … i of those already placed, each equally likely.
    Distribution pairs{0, {1.0}};
    for (std::size_t i = 1; i < count; ++i)
        pairs = sum_of(pairs, {0, std::vector<double>(i + 1, 1.0 / static_cast<double>(i + 1))});
    return pairs;
}

std::optional<std::map<long, double>> squares_of_sums(const std::vector<std::vector<double>>& rows) {
    const std::size_t samples = rows.front().size();
    double orders = 1.0;
    for (std::size_t i = 2; i <= samples; ++i) orders *= static_cast<double>(i);
    if (samples > 7) return std::nullopt;
    std::map<std::vector<long>, double> states{{std::vector<long>(samples, 0), 1.0}};
    double work = 0.0;
    for (const std::vector<double>& row : rows) {
        work += static_cast<double>(states.size()) * orders;
        if (work > most_work) return std::nullopt;
        std::vector<long> ranks;
        ranks.reserve(row.size());
        for (const double rank : row) ranks.push_back(doubled(rank));
        std::sort(ranks.begin(), ranks.end());
        std::vector<std::vector<long>> distinct_orders;
        do distinct_orders.push_back(ranks);
        while (std::next_permutation(ranks.begin(), ranks.end()));
        std::map<std::vector<long>, double> next;
        for (const auto& [sums, probability] : states)
            for (const std::vector<long>& order : distinct_orders) {
                std::vector<long> moved(samples);
                for (std::size_t i = 0; i < samples; ++i) moved[i] = sums[i] + order[i];
                std::sort(moved.begin(), moved.end());
                next[moved] += probability / static_cast<double>(distinct_orders.size());
            }
        states = std::move(next);
    }
    std::map<long, double> squares;
    for (const auto& [sums, probability] : states)
        squares[std::inner_product(sums.begin(), sums.end(), sums.begin(), 0L)] += probability;
    return squares;
}

double chi_squared_tail(double value, int df) {
    return boost::math::gamma_q(0.5 * df, 0.5 * std::max(value, 0.0));
}

double student_tail(double t, double df) {
    if (std::isinf(t)) return t > 0.0 ? 0.0 : 1.0;
    const double both = boost::math::ibeta(0.5 * df, 0.5, df / (df + t * t));
    return t > 0.0 ? 0.5 * both : 1.0 - 0.5 * both;
}

}  // namespace sipladder::threshold::ranks
