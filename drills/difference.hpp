#pragma once

#include "drills/drill.hpp"

/// Difference by 2-AFC on a pedestal: "which of the two is the stronger?" Both cups hold the pedestal, one of
/// them more. What is fitted is the added amount.
namespace sipladder::drills::difference {

/// What each rung holds beyond the pedestal, with its uncertainty: the rung's own error and the pedestal's
/// own stand in the small difference of two large numbers, the error of their common stock does not.
/// @param totals  rungs as mixed, each more than the pedestal
/// @throws Refused for a rung that holds no more than the pedestal
solution::MixedLadder added_ladder(const solution::MixedLadder& totals, const solution::MixedLevel& pedestal);

/// What is assumed of a person of whom nothing is known: a fifth of the pedestal, and a rise as slow as that
/// of a percept that grows in proportion to what is added (10 to 90 % in 1.1 log10 units for 2-AFC).
threshold::Prior assumed_prior(double pedestal, Scale scale);

struct Result {
    threshold::Threshold added;  ///< difference threshold: chance-corrected 0.5, three right of four
    double weber{};              ///< added over pedestal
    double weber_lower{};        ///< equal-tailed 95 %; the common stock has no part in it
    double weber_upper{};
};
Result result(const State& drill);

}  // namespace sipladder::drills::difference
