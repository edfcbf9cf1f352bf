#pragma once

#include <cstdint>
#include <optional>
#include <string>

/// Difference tests: is the count of right answers more than chance, and how far apart are the samples?
namespace sipladder::threshold {

/// What the assessor is asked. m-AFC: which of m cups holds it? Triangle: which of three is different?
/// Duo-trio: which of two is the reference? Tetrad: sort four cups into two pairs.
enum class DifferenceTask { afc_2, afc_3, afc_4, triangle, duo_trio, tetrad };

/// Chance of being right without perceiving anything: 1/2, 1/3 or 1/4.
double chance_of(DifferenceTask task);

/// Share right of an assessor whose percepts of the two samples are Normal(0, 1) and Normal(d', 1).
///
/// @param d_prime  distance of the samples in units of the perceptual noise, 0 or more, infinity allowed
/// @throws Refused for NaN or a negative distance
/// @source         hacker_ratcliff_1979 (m-AFC), ennis_1993 (triangle, duo-trio), ennis_jesionka_2011
/// (tetrad)
/// @checked        tests/published/discrimination_test.cpp
double share_right(DifferenceTask task, double d_prime);
/// d(share right) / d(d'). At d' = 0 it is 0 for triangle, duo-trio and tetrad.
double share_right_slope(DifferenceTask task, double d_prime);
/// The distance that gives this share right; 0 at or below chance (a convention), infinite at 1.
/// @throws Refused for a share outside 0 to 1
double d_prime_of(DifferenceTask task, double share);

/// P(X >= correct) for X binomial over `presentations` at this chance: the one-sided p of "better than
/// chance". Exact, by the incomplete beta function, for any counts.
/// @throws Refused  for more right than presented, no presentations, a chance not between 0 and 1
/// @checked         tests/published/discrimination_test.cpp
double chance_p(std::uint64_t correct, std::uint64_t presentations, double chance);
/// The smallest count with chance_p <= alpha; nothing where even all right is not enough. For a two-sided
/// paired comparison give half the alpha.
/// @throws Refused  as chance_p, and for an alpha not between 0 and 1
/// @source          fao_348, gost_10399_2015: all but three of their entries, which are misprints
/// @checked         tests/published/discrimination_test.cpp
std::optional<std::uint64_t> minimum_correct(std::uint64_t presentations, double chance, double alpha);

/// A share with its exact 95 % limits (equal-tailed).
struct ExactShare {
    double value{};
    double lower{};
    double upper{};
};
/// @throws Refused  for more hits than trials, or no trials
/// @source          clopper_pearson_1934
/// @checked         tests/published/discrimination_test.cpp
ExactShare exact_share(std::uint64_t hits, std::uint64_t trials);

/// A counted difference test.
struct Discrimination {
    double p_value{};  ///< one-sided, exact
    double d_prime{};  ///< infinite where all are right, 0 at or below chance
    /// Equal-tailed 95 %: the exact limits of the share (Clopper and Pearson), taken through d_prime_of.
    double lower{};
    double upper{};
    /// sqrt(B / N), large-sample; nothing at the ends (all right, or at or below chance).
    std::optional<double> standard_error;
};
/// @throws Refused  as chance_p
/// @source          clopper_pearson_1934 for the limits; bi_1997 for B = p (1 - p) / (dp/dd')^2
/// @checked         tests/published/discrimination_test.cpp
Discrimination discriminate(DifferenceTask task, std::uint64_t correct, std::uint64_t presentations);

}  // namespace sipladder::threshold
