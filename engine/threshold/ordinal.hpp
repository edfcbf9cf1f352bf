#pragma once

#include <cstddef>
#include <vector>

namespace sipladder::threshold {

/// Distribution of the percept around its place: standard normal or standard logistic.
enum class Link { probit, logit };

/// Answers given under the same conditions: how often each category was chosen, lowest first.
struct OrdinalRow {
    std::vector<double> covariates;  ///< the same number in every row, perhaps none
    std::vector<double> counts;      ///< one a category, 0 or more
};

/// P(category <= j) = F(cut point j - sum of coefficient times covariate): words, grades or ratings as cuts
/// through one sensation. With two categories this is plain probit or logit regression.
struct OrdinalFit {
    std::vector<double> cut_points;    ///< ascending, one fewer than categories
    std::vector<double> coefficients;  ///< one a covariate
    /// Inverse of the observed information, cut points first, then coefficients.
    std::vector<std::vector<double>> covariance;
    /// The same from the expected information; alike for the logit of two categories.
    std::vector<std::vector<double>> covariance_expected;
    double log_likelihood{};  ///< of the answers in their order: without multinomial coefficients
    double deviance{};        ///< against one free share a category in every row
    int deviance_df{};

    double standard_error(std::size_t parameter) const;
};

/// Greatest likelihood; it has one maximum at most (Pratt 1981), found by Newton's method.
///
/// @throws Refused  for no rows, rows of unequal size, counts or covariates that are negative or not finite,
///                  a category nobody chose (merge it with a neighbour), covariates that tell nothing apart,
///                  and answers that some covariate separates perfectly, for which no maximum exists
/// @source          mccullagh_1980
/// @checked         tests/published/ordinal_test.cpp
OrdinalFit ordinal_regression(const std::vector<OrdinalRow>& rows, Link link);

}  // namespace sipladder::threshold
