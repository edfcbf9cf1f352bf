#pragma once

#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace sipladder::solution {

/// What happened at the bench, by step (index into MixPlan::steps). A step that is named nowhere went as
/// planned.
struct BenchRecord {
    Readings readings;              ///< what the scale or vessel really showed, in the step's unit
    std::set<std::size_t> skipped;  ///< not done
    /// Spilled, and so much left, in the step's unit. After a load: of the load, before it was filled up.
    /// After filling up: of the finished mixture (g on a balance, mL in a vessel). What is left is taken as
    /// estimated: within a tenth of what was lost (rectangular; judgement).
    std::map<std::size_t, double> left;
};

/// A level that is further from its target than its uncertainty explains, or that is no level at all.
struct Missed {
    std::string bottle;
    double target{};
    double mixed{};      ///< 0 where nothing of the substance is in it
    bool left_out{};     ///< not to be tasted: not in the ladder
    std::string reason;  ///< one sentence
};

/// Relative covariance of the levels: entry (i, j) is the covariance of their relative errors. Symmetric and
/// positive semi-definite; order of `bottles`.
struct LevelCovariance {
    std::vector<std::string> bottles;
    std::vector<double> values;  ///< row by row

    double at(std::size_t row, std::size_t column) const { return values.at(row * bottles.size() + column); }
    double u_rel(std::size_t level) const;
    double correlation(std::size_t row, std::size_t column) const;
};

/// The bottles after everything that happened.
struct AsMixed {
    MixedLadder ladder;                            ///< what may be tasted, weakest first
    LevelCovariance covariance;                    ///< of these levels, in this order
    std::vector<std::vector<BudgetLine>> budgets;  ///< of these levels, in this order, largest first
    std::vector<Missed> missed;
    std::vector<std::string> notes;  ///< stock that runs short …; one sentence each
};

/// The levels with their full covariance once readings, skipped and spilled steps are taken into account.
/// @throws Refused  for a reading that is not positive, not finite, or further than a factor 3 from the
///                  planned one; for a step that is not in the plan, or of which two things are said; where
///                  fewer than two levels are left
/// @source  gum_2008
/// @checked tests/solution/as_mixed_test.cpp
AsMixed after_mixing(const MixPlan& plan, const BenchRecord& record);

/// The ladder alone, from readings alone; a step without a reading is taken as planned.
/// @throws Refused  as after_mixing
MixedLadder as_mixed(const MixPlan& plan, const Readings& readings);

/// Covariance of the levels if every reading is as printed, in the order of MixPlan::levels.
LevelCovariance planned_covariance(const MixPlan& plan);

}  // namespace sipladder::solution
