#pragma once

#include "drills/drill.hpp"
#include "engine/perception/strength.hpp"
#include "engine/threshold/repeatability.hpp"

#include <optional>
#include <string>
#include <vector>

/// Scaling: single cups, each with a mark on a line from 0 to 100 and one of the person's own words. Where
/// those words stand in g/L, how marks grow, and how well they repeat.
namespace sipladder::drills::scaling {

/// Words to start from, weakest first, to be replaced by one's own (common practice, no source).
std::vector<std::string> usual_words(solution::Component component);

/// Whether the law has terms for a wine with so much of this.
bool has_label_terms(const Plan& plan);

perception::GrowthPrior assumed_growth();
perception::WordsPrior assumed_words();
/// A mark as the fits take it: the ends of the line are "this or beyond".
perception::Felt felt_of(std::size_t rung, double mark);

struct Result {
    perception::Growth growth;      ///< marks: slope is the exponent of the power law
    perception::WordLimits limits;  ///< the person's words, log10 of the ladder's scale
    std::vector<double> blank_marks;
    /// Marks of two cups of the same rung, not known as such.
    std::optional<threshold::Repeatability> repeats;
    std::size_t words_moved{};  ///< pairs of such cups that got words more than one apart
    std::size_t pairs{};
};
/// @pre at least one cup that is no blank is done
Result result(const State& drill);

}  // namespace sipladder::drills::scaling
