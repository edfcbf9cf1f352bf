#pragma once

#include "drills/drill.hpp"
#include "engine/perception/strength.hpp"

#include <optional>
#include <string>
#include <vector>

/// Persistence: single cups; one key at spitting, one when it is gone. A named sensation of the cup, or the
/// flavour of the person's own wine (then not its sweetness, acid or burn); with and without another thing.
namespace sipladder::drills::persistence {

/// What a bottle of one's own is, for a plan: one rung of so much alcohol, which counts as intake.
/// @param strength  of the label, 0.1 to 18 % vol
/// @throws Refused  outside this range
solution::Substance own_wine(const std::string& name, PercentVol strength);
bool is_own_wine(const Plan& plan);
/// What is timed: the plan's words for it, or the sensation of its substance.
std::string sensation_of(const Plan& plan);

/// What it may have been like, to start from and to be edited.
std::vector<std::string> usual_words();

/// Words for a length: limits at 2, 5 and 10 s, common practice, no source.
std::vector<std::string> length_words();
std::size_t length_word(double seconds);

perception::GrowthPrior assumed_growth();

struct Result {
    perception::Growth growth;  ///< log10 of seconds; centre: of the plain cup in the middle of its ladder
    double middle_s{};          ///< half of the cups last longer
    perception::Estimate quartiles_log10[2];  ///< a quarter is shorter, a quarter longer
    /// Log10 of how many times as long with the other condition.
    std::optional<perception::Estimate> stretched_log10;
    std::vector<std::size_t> lengths;   ///< plain cups by word for a length
    std::vector<std::size_t> was_like;  ///< how often each of the plan's words was said
    std::size_t cut_off{};              ///< cups that outlasted the stop-watch
};
/// @pre at least one cup is done
Result result(const State& drill);

}  // namespace sipladder::drills::persistence
