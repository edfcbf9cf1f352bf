#pragma once

#include "drills/drill.hpp"
#include "engine/perception/ordering.hpp"
#include "engine/threshold/ranking.hpp"

#include <optional>
#include <vector>

/// Ranking (ISO 8587): every rung of a ladder together, put in order of strength, several times over.
namespace sipladder::drills::ranking {

struct Result {
    std::vector<perception::Order> orders;  ///< rungs as they were put, weakest first
    std::vector<double> spearman;           ///< of each order with the true one; three rungs or more
    std::vector<double> kendall;
    double mean_spearman{};
    threshold::Page page;              ///< all orders together: does the order follow the strength?
    threshold::Friedman friedman;      ///< and do they agree among themselves?
    std::vector<std::size_t> swapped;  ///< of the orders, those with rung i above rung i + 1
    /// Log10 of the difference threshold as a part of the level; nothing: not scored.
    std::optional<perception::Estimate> difference_log10;
};
/// @param is_scored  false: the true order is not known well enough to say what is right
/// @pre at least one order is complete
Result result(const State& drill, bool is_scored = true);

/// Shared with weight: the words about orders, neighbours and the step.
Finding finding_of(const State& drill, const Result& result, const std::string& less,
                   const std::string& more);
}  // namespace sipladder::drills::ranking
