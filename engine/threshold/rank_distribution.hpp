#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <vector>

/// Chance distributions of rank statistics, counted through; for ranking and rank_correlation only.
namespace sipladder::threshold::ranks {

/// Probabilities of first, first + 1, first + 2 …
struct Distribution {
    long first{};
    std::vector<double> probability;

    double at_least(double least) const;
};

/// Places times twice the ranks, summed, when these ranks fall on places 1 … k at random.
/// @pre 1 to 12 ranks, each a multiple of 0.5
Distribution twice_place_sum(std::span<const double> row);
/// Of the sum of two independent draws.
Distribution sum_of(const Distribution& a, const Distribution& b);
/// Number of pairs in one order, for two rankings of `count` things without ties. @pre count 1 to 60
Distribution concordant_pairs(std::size_t count);

/// Sum over samples of squared doubled rank sums, with its probability, when each row's ranks fall on the
/// samples at random; nothing where counting would take too long.
std::optional<std::map<long, double>> squares_of_sums(const std::vector<std::vector<double>>& rows);

/// Upper tail of chi-squared.
double chi_squared_tail(double value, int df);
/// Upper tail of Student's t.
double student_tail(double t, double df);

}  // namespace sipladder::threshold::ranks
