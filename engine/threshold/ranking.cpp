#include "engine/threshold/ranking.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/rank_distribution.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace sipladder::threshold {

namespace {

constexpr std::size_t most_samples_counted = 10;  // 2^10 subsets; more is left to the normal distribution
constexpr double most_sums_counted = 4e7;         // products in adding up the persons: a tenth of a second

/// Sum of t^3 - t over the groups of equal ranks.
double tie_sum(std::vector<double> row) {
    std::sort(row.begin(), row.end());
    double sum = 0.0;
    for (std::size_t i = 0; i < row.size();) {
        const auto end =
            static_cast<std::size_t>(std::upper_bound(row.begin(), row.end(), row[i]) - row.begin());
        const auto alike = static_cast<double>(end - i);
        sum += alike * alike * alike - alike;
        i = end;
    }
    return sum;
}

std::vector<double> sums_of(const Rankings& rankings) {
    std::vector<double> sums(rankings.front().size(), 0.0);
    for (const std::vector<double>& row : rankings)
        for (std::size_t i = 0; i < row.size(); ++i) sums[i] += row[i];
    return sums;
}

/// P(squares of doubled rank sums >= least) over the persons' own ranks.
std::optional<double> tail_of_squares(const Rankings& rankings, double least) {
    const auto squares = ranks::squares_of_sums(rankings);
    if (!squares) return std::nullopt;
    double tail = 0.0;
    for (auto at = squares->rbegin(); at != squares->rend(); ++at) {
        if (static_cast<double>(at->first) < least - 0.5) break;  // the squares are whole numbers
        tail += at->second;
    }
    return std::min(tail, 1.0);
}

/// Distribution of twice L over the persons' own ranks; rows of the same ranks share the work.
std::optional<ranks::Distribution> twice_statistic(const Rankings& rankings) {
    const auto n = static_cast<double>(rankings.size());
    const auto k = static_cast<double>(rankings.front().size());
    const double range = k * (k * k - 1.0) / 3.0;  // of twice the place sum of one row
    if (rankings.front().size() > most_samples_counted || 0.5 * n * n * range * range > most_sums_counted)
        return std::nullopt;
    std::map<std::vector<double>, ranks::Distribution> known;
    ranks::Distribution all{0, {1.0}};
    for (std::vector<double> row : rankings) {
        std::sort(row.begin(), row.end());
        auto found = known.find(row);
        if (found == known.end()) found = known.emplace(row, ranks::twice_place_sum(row)).first;
        all = ranks::sum_of(all, found->second);
    }
    return all;
}

/// Distribution of L without ties, in steps of 1: half the length of twice_statistic's.
ranks::Distribution statistic_without_ties(std::size_t persons, std::size_t samples) {
    std::vector<double> row(samples);
    std::iota(row.begin(), row.end(), 1.0);
    const ranks::Distribution twice = ranks::twice_place_sum(row);
    ranks::Distribution one{twice.first / 2, {}};
    for (std::size_t i = 0; i < twice.probability.size(); i += 2)
        one.probability.push_back(twice.probability[i]);
    ranks::Distribution all{0, {1.0}};
    for (std::size_t i = 0; i < persons; ++i) all = ranks::sum_of(all, one);
    return all;
}

}  // namespace

std::vector<double> mid_ranks(std::span<const double> values) {
    std::vector<std::size_t> order(values.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (const double value : values)
        if (!std::isfinite(value))
            throw Refused("ranks", "hold a value that is no finite number", "a number");
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
    std::vector<double> ranks(values.size());
    for (std::size_t i = 0; i < order.size();) {
        std::size_t end = i;
        while (end < order.size() && values[order[end]] == values[order[i]]) ++end;
        const double middle = 0.5 * static_cast<double>(i + 1 + end);
        for (; i < end; ++i) ranks[order[i]] = middle;
    }
    return ranks;
}

Rankings rankings_of(const std::vector<std::vector<double>>& rows) {
    if (rows.empty()) throw Refused("rankings", "have no rows", "one row a person");
    if (rows.front().size() < 2)
        throw Refused("rankings", "have " + std::to_string(rows.front().size()) + " samples", "two or more");
    Rankings rankings;
    for (const std::vector<double>& row : rows) {
        if (row.size() != rows.front().size())
            throw Refused("row " + std::to_string(rankings.size() + 1),
                          "ranks " + std::to_string(row.size()) + " samples",
                          "as many as the first row: " + std::to_string(rows.front().size()));
        rankings.push_back(mid_ranks(row));
    }
    return rankings;
}

double friedman_statistic(std::span<const double> rank_sums, std::size_t persons) {
    if (rank_sums.size() < 2 || persons == 0)
        throw Refused(
            "rank sums",
            "of " + std::to_string(rank_sums.size()) + " samples by " + std::to_string(persons) + " persons",
            "two samples and one person at least");
    const auto n = static_cast<double>(persons);
    const auto k = static_cast<double>(rank_sums.size());
    double squares = 0.0;
    for (const double sum : rank_sums) squares += std::pow(sum - 0.5 * n * (k + 1.0), 2);
    return 12.0 * squares / (n * k * (k + 1.0));
}

Friedman friedman(const Rankings& given) {
    const Rankings rankings = rankings_of(given);
    const auto n = static_cast<double>(rankings.size());
    const auto k = static_cast<double>(rankings.front().size());
    double ties = 0.0;
    for (const std::vector<double>& row : rankings) ties += tie_sum(row);
    Friedman result;
    result.rank_sums = sums_of(rankings);
    result.df = static_cast<int>(k) - 1;
    result.has_ties = ties > 0.0;
    result.least_significant_difference = normal_975 * std::sqrt(n * k * (k + 1.0) / 6.0);
    const double left = 1.0 - ties / (n * (k * k * k - k));
    if (left <= 1e-12) {  // everyone ties everything: nothing can be told
        result.p = 1.0;
        result.p_exact = 1.0;
        return result;
    }
    result.statistic = friedman_statistic(result.rank_sums, rankings.size()) / left;
    result.p = ranks::chi_squared_tail(result.statistic, result.df);
    double squares = 0.0;
    for (const double sum : result.rank_sums) squares += 4.0 * sum * sum;
    result.p_exact = tail_of_squares(rankings, squares);
    result.kendall_w = std::min(result.statistic / (n * (k - 1.0)), 1.0);
    return result;
}

std::optional<double> friedman_tail(std::size_t persons, std::size_t samples, double least) {
    friedman_statistic(std::vector<double>(samples, 0.0), persons);
    constexpr std::size_t most_persons = 1000;  // far beyond what is counted; spares the memory for more
    if (persons > most_persons) return std::nullopt;
    std::vector<double> row(samples);
    std::iota(row.begin(), row.end(), 1.0);
    const auto n = static_cast<double>(persons);
    const auto k = static_cast<double>(samples);
    const double even = k * std::pow(n * (k + 1.0), 2);  // the squares where all rank sums are alike
    return tail_of_squares(Rankings(persons, row), even + least * n * k * (k + 1.0) / 3.0);
}

Page page(const Rankings& given) {
    const Rankings rankings = rankings_of(given);
    const auto n = static_cast<double>(rankings.size());
    const auto k = static_cast<double>(rankings.front().size());
    Page result;
    const std::vector<double> sums = sums_of(rankings);
    for (std::size_t i = 0; i < sums.size(); ++i) result.statistic += static_cast<double>(i + 1) * sums[i];
    for (const std::vector<double>& row : rankings)
        if (tie_sum(row) > 0.0) result.has_ties = true;
    const double mean = 0.25 * n * k * (k + 1.0) * (k + 1.0);
    const double sd = std::sqrt(n * k * k * (k + 1.0) * (k * k - 1.0) / 144.0);
    result.z = (result.statistic - mean) / sd;
    const double range = k * (k * k - 1.0) / 6.0;
    result.is_exact =
        rankings.front().size() <= most_samples_counted && 0.5 * n * n * range * range <= most_sums_counted;
    result.p = result.is_exact
                   ? page_tail(rankings.size(), rankings.front().size(), std::floor(result.statistic))
                   : normal_above(result.z);
    if (!result.has_ties) return result;
    if (const auto twice = twice_statistic(rankings))
        result.p_given_ties = twice->at_least(2.0 * result.statistic - 0.5);
    return result;
}

double page_tail(std::size_t persons, std::size_t samples, double least) {
    SIPLADDER_EXPECT(samples >= 2 && samples <= most_samples_counted);
    return statistic_without_ties(persons, samples).at_least(least);
}

std::optional<double> page_critical(std::size_t persons, std::size_t samples, double alpha) {
    SIPLADDER_EXPECT(samples >= 2 && samples <= most_samples_counted);
    const ranks::Distribution all = statistic_without_ties(persons, samples);
    double tail = 0.0;
    std::optional<double> smallest;
    for (std::size_t i = all.probability.size(); i-- > 0;) {
        tail += all.probability[i];
        if (tail > alpha) break;
        smallest = static_cast<double>(all.first + static_cast<long>(i));
    }
    return smallest;
}

}  // namespace sipladder::threshold
