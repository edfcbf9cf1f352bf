#include "engine/perception/confusion.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

// A table of a dozen rows and twenty answers has more cells than answers: what its shares tell of information
// is mostly luck. The first-order correction of Miller takes most of that away only where every cell has some
// answers, so a person's result is the posterior mean, whose prior knows that names are mostly right.

namespace sipladder::perception {

namespace {

void check(const Counts& counts) {
    std::size_t all = 0;
    for (const auto& row : counts) {
        if (row.size() != counts.front().size())
            throw Refused("confusion table", "has rows of unequal length", "one column for every name");
        for (const std::size_t one : row) all += one;
    }
    if (all == 0) throw Refused("confusion table", "holds no answer", "at least one");
}

double entropy_bits(const std::vector<double>& shares) {
    double sum = 0.0;
    for (const double share : shares)
        if (share > 0.0) sum -= share * std::log2(share);
    return sum;
}

/// Information of joint shares.
double information(const std::vector<std::vector<double>>& joint) {
    std::vector<double> rows;
    std::vector<double> columns(joint.front().size(), 0.0);
    std::vector<double> cells;
    for (const auto& row : joint) {
        double sum = 0.0;
        for (std::size_t j = 0; j < row.size(); ++j) {
            sum += row[j];
            columns[j] += row[j];
            cells.push_back(row[j]);
        }
        rows.push_back(sum);
    }
    return std::max(entropy_bits(rows) + entropy_bits(columns) - entropy_bits(cells), 0.0);
}

std::size_t sum_of(const std::vector<std::size_t>& row) {
    std::size_t sum = 0;
    for (const std::size_t one : row) sum += one;
    return sum;
}

/// Wrong names.
std::size_t taken_at_all(const Counts& counts) {
    std::size_t wrong = 0;
    for (std::size_t i = 0; i < counts.size(); ++i) wrong += sum_of(counts[i]) - counts[i][i];
    return wrong;
}

}  // namespace

double plug_in_bits(const Counts& counts) {
    check(counts);
    double all = 0.0;
    for (const auto& row : counts) all += static_cast<double>(sum_of(row));
    std::vector<std::vector<double>> joint;
    for (const auto& row : counts) {
        joint.emplace_back();
        for (const std::size_t one : row) joint.back().push_back(static_cast<double>(one) / all);
    }
    return information(joint);
}

double corrected_bits(const Counts& counts) {
    const double plain = plug_in_bits(counts);
    double all = 0.0;
    double rows = 0.0;
    std::vector<bool> used(counts.front().size(), false);
    for (const auto& row : counts) {
        const std::size_t sum = sum_of(row);
        all += static_cast<double>(sum);
        rows += sum > 0 ? 1.0 : 0.0;
        for (std::size_t j = 0; j < row.size(); ++j)
            if (row[j] > 0) used[j] = true;
    }
    const auto columns = static_cast<double>(std::count(used.begin(), used.end(), true));
    const double bias = (rows - 1.0) * (columns - 1.0) / (2.0 * all * std::numbers::ln2);
    return std::max(plain - bias, 0.0);
}

double bits_of(const std::vector<std::vector<double>>& probabilities) {
    SIPLADDER_EXPECT(!probabilities.empty());
    std::vector<std::vector<double>> joint = probabilities;
    for (auto& row : joint)
        for (double& one : row) one /= static_cast<double>(joint.size());
    return information(joint);
}

Estimate bits(const Counts& counts, const NamingPrior& prior, Seed seed) {
    check(counts);
    SIPLADDER_EXPECT(counts.size() <= counts.front().size());
    constexpr std::size_t draws = 1000;
    const std::size_t names = counts.front().size();
    Random random{seed};
    std::vector<std::vector<double>> found;
    for (std::size_t d = 0; d < draws; ++d) {
        std::vector<std::vector<double>> rows;
        for (std::size_t i = 0; i < counts.size(); ++i) {
            const auto right = static_cast<double>(counts[i][i]);
            const double wrong = static_cast<double>(sum_of(counts[i])) - right;
            const double p = beta_draw(random, prior.right + right, prior.wrong + wrong);
            std::vector<double> row(names, 0.0);
            double rest = 0.0;
            for (std::size_t j = 0; j < names; ++j)
                if (j != i)
                    rest += row[j] = gamma_draw(random, prior.each + static_cast<double>(counts[i][j]));
            for (std::size_t j = 0; j < names; ++j)
                row[j] = j == i ? p : (rest > 0.0 ? (1.0 - p) * row[j] / rest : 0.0);
            rows.push_back(std::move(row));
        }
        found.push_back({bits_of(rows)});
    }
    Estimate estimate = equal_draws(std::move(found)).of([](std::span<const double> one) { return one[0]; });
    // Nothing speaks against somebody who names everything right, though no draw is quite such a person.
    if (taken_at_all(counts) == 0) estimate.upper = std::log2(static_cast<double>(counts.size()));
    return estimate;
}

std::vector<TakenFor> taken_for(const Counts& counts) {
    check(counts);
    constexpr std::size_t fewest = 2;
    std::vector<TakenFor> all;
    for (std::size_t i = 0; i < counts.size(); ++i)
        for (std::size_t j = 0; j < counts[i].size(); ++j)
            if (j != i && counts[i][j] >= fewest) {
                const std::size_t served = sum_of(counts[i]);
                all.push_back({i, j, counts[i][j], served, threshold::exact_share(counts[i][j], served)});
            }
    std::stable_sort(all.begin(), all.end(),
                     [](const TakenFor& a, const TakenFor& b) { return a.share.value > b.share.value; });
    return all;
}

}  // namespace sipladder::perception
