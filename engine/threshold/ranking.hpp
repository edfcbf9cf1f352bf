#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

/// Rankings of several samples by several persons (ISO 8587): do the samples differ, do they differ in the
/// order expected, and how well do the persons agree?
namespace sipladder::threshold {

/// Ranks of these values from 1 up; equal values share the mean of the ranks they fill (mid-ranks).
/// @throws Refused  for a value that is not finite
std::vector<double> mid_ranks(std::span<const double> values);

/// One row a person, one column a sample; every row holds that person's mid-ranks of the samples.
using Rankings = std::vector<std::vector<double>>;
/// Any order-keeping numbers (places, scores) as rankings.
/// @throws Refused  for no rows, fewer than two samples, rows of unequal length or a value that is not finite
Rankings rankings_of(const std::vector<std::vector<double>>& rows);

/// Friedman's test. Ties: mid-ranks, and F divided by 1 - (sum of t^3 - t over ties) / (n (k^3 - k)), so that
/// it keeps its distribution.
struct Friedman {
    double statistic{};  ///< F; 0 where everyone ties everything
    int df{};            ///< k - 1
    double p{};          ///< from chi-squared
    /// P(F' >= F) over all ways in which each person could have given their own ranks (ties included) to the
    /// samples by chance; for tables small enough to be counted through.
    std::optional<double> p_exact;
    std::vector<double> rank_sums;
    double kendall_w{};  ///< F / (n (k - 1)): 0 no agreement, 1 all alike; ties corrected with F
    bool has_ties = false;
    /// Two rank sums differ at 5 % (two-sided, one comparison) where they lie this far apart:
    /// z(0.975) sqrt(n k (k + 1) / 6).
    double least_significant_difference{};
};
/// @throws Refused  as rankings_of
/// @source          iso_8587, hollander_wolfe_1973
/// @checked         tests/published/ranking_test.cpp
Friedman friedman(const Rankings& rankings);
/// F from rank sums alone, without ties. @throws Refused  for fewer than two samples or no persons
double friedman_statistic(std::span<const double> rank_sums, std::size_t persons);
/// P(F' >= least) when every person ranks at random without ties, counted through; nothing where that would
/// take too long (beyond about 20 persons by 3 samples, 12 by 4, 5 by 5).
/// @throws Refused  as friedman_statistic
/// @checked         tests/published/ranking_test.cpp
std::optional<double> friedman_tail(std::size_t persons, std::size_t samples, double least);

/// Page's test of the order in which the columns stand, weakest first.
struct Page {
    double statistic{};  ///< L = sum over samples of place times rank sum
    double z{};          ///< (L - mean) / sd under chance, without ties
    double p{};          ///< one-sided
    /// Whether p was counted through (up to 10 samples) or comes from the normal distribution.
    bool is_exact = false;
    bool has_ties = false;
    /// With ties L may lie between whole numbers. `p` is then P(L' >= L cut down to a whole number), the
    /// convention of published software, which errs on the safe side; this is P(L' >= L) over all ways in
    /// which each person could have given their own ranks, ties included, to the samples.
    std::optional<double> p_given_ties;
};
/// @throws Refused  as rankings_of
/// @source          page_1963
/// @checked         tests/published/ranking_test.cpp
Page page(const Rankings& rankings);
/// P(L' >= least) when every person ranks at random without ties; counted through.
/// @pre samples 2 to 10
double page_tail(std::size_t persons, std::size_t samples, double least);
/// The smallest L with page_tail <= alpha; nothing where there is none.
std::optional<double> page_critical(std::size_t persons, std::size_t samples, double alpha);

/// Agreement of two rankings of the same things.
struct RankCorrelation {
    double value{};         ///< tau-b or rho, -1 to 1
    double p_two_sided{};   ///< of no association
    double p_one_sided{};   ///< of none or negative
    bool is_exact = false;  ///< counted through; else from a normal (tau) or t (rho) distribution
    double z{};             ///< tau: large-sample, ties in its variance, no continuity correction; rho: t
};
/// Kendall's tau-b; counted through without ties up to 50 pairs.
/// @throws Refused  for unequal lengths, fewer than three pairs, values not finite, or all x or all y equal
/// @source          hollander_wolfe_1973
/// @checked         tests/published/ranking_test.cpp
RankCorrelation kendall_tau(std::span<const double> x, std::span<const double> y);
/// Spearman's rho; counted through without ties up to 10 pairs.
/// @throws Refused  as kendall_tau
/// @checked         tests/published/ranking_test.cpp
RankCorrelation spearman_rho(std::span<const double> x, std::span<const double> y);

}  // namespace sipladder::threshold
