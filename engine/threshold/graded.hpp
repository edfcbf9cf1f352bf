#pragma once

#include "engine/threshold/posterior.hpp"
#include "engine/threshold/threshold.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

/// Single cups graded in steps, blanks among them (A - not A of ISO 8588): a threshold on the same scale as
/// that of a 3-AFC.
namespace sipladder::threshold {

/// How often each grade was given to the cups of one level, or to the blanks.
struct GradedCounts {
    std::optional<double> x_log10;    ///< nothing: blanks
    std::vector<std::size_t> grades;  ///< one a grade, "nothing there" first; 2 to 10 of them
};

/// d' of a cup against a blank that makes a person of this curve right in 3-AFC as often as the curve says,
/// lapses left out: 0 far below theta, 1.116 at it, at most 9.
double perceived_distance(const Curve& curve, double x_log10);

struct GradedFit {
    Threshold threshold;
    std::vector<double> cut_points;  ///< posterior means, percept noise = 1, blanks at 0; ascending
    double log_likelihood{};         ///< of the counts, at the values reported
    double deviance{};               ///< against one free share a grade at every level
    int deviance_df{};
};

/// What grading habits are taken as possible before the first cup: the first cut point from -0.65 to 1.85 and
/// the cuts' spacing from 0.25 to 1.7 (of four grades; others span the same range), the common ones fully
/// and the rest at a quarter (judgement). Both are learned, since a spacing taken for granted covers too
/// seldom.
///
/// Made for what one person can grade: beyond about 500 cups the grid of habits is too coarse for the
/// precision that the counts would give, which is said in a warning.
///
/// A percept is Normal(0, 1) for a blank and Normal(d', 1) for a spiked cup; the grade counts the cut points
/// it exceeds. A lapse grades a cup as if it were a blank.
/// @throws Refused  without blanks or without a level, for another number of grades, levels not finite, or a
///                  prior that cannot be used
/// @source          judgement: the model of percepts is textbook signal detection (from memory)
/// @checked         tests/threshold/graded_test.cpp
GradedFit graded_threshold(std::span<const GradedCounts> counts, const Prior& prior, Scale scale,
                           double u_shared_log10 = 0.0);

/// Log-likelihood and deviance of the counts at these values, threshold and intervals left empty.
/// @throws Refused  as graded_threshold, but for the prior
GradedFit judged(std::span<const GradedCounts> counts, const Curve& curve,
                 const std::vector<double>& cut_points);

/// Without a prior: ordinal probit, d' a straight line in log10 of the concentration, blanks at 0. The
/// threshold is where d' gives chance-corrected 0.5 in 3-AFC; interval by the delta method, infinite where d'
/// does not rise. Grades nobody gave are merged.
/// @throws Refused  as graded_threshold, for fewer than two levels, or answers without a best fit
/// @checked         tests/threshold/graded_test.cpp
GradedFit graded_likelihood(std::span<const GradedCounts> counts, Scale scale, double u_shared_log10 = 0.0);

}  // namespace sipladder::threshold
