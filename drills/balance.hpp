#pragma once

#include "drills/drill.hpp"
#include "engine/perception/strength.hpp"

#include <optional>
#include <vector>

/// Balance: single cups of a mixture; is one thing in it just about right, and how strong is it? With and
/// without another thing, or cool and at room temperature: how much does one hide the other from me?
namespace sipladder::drills::balance {

/// "far too little" to "far too much"; the third is just about right.
std::vector<std::string> words();
constexpr std::size_t just_right = 2;

perception::GrowthPrior assumed_growth();
perception::WordsPrior assumed_words();

struct Result {
    /// Log10 of the level that is just about right: plain, and in the other condition.
    perception::Estimate right_log10;
    std::optional<perception::Estimate> right_in_other_log10;
    perception::Growth growth;  ///< of the marks
    /// Log10 of how many times as much it takes in the other condition to be felt as strong; above 0: hidden.
    std::optional<perception::Estimate> hidden_log10;
    std::vector<std::size_t> said;  ///< how often each word, all cups
};
/// @pre at least one cup is done
Result result(const State& drill);

}  // namespace sipladder::drills::balance
