#pragma once

#include "tools/simulate/adaptive.hpp"
#include "tools/simulate/crowd.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

/// Up-down rules with the mean of their reversals: published methods that this program is measured against.
namespace sipladder::benchmark {

/// A wrong answer steps up; `right_for_down` right ones in a row at one level step down.
/// @source levitt_1971 (transformed rules), kaernbach_1991 (unequal steps)
struct StaircaseRule {
    double start_log10{};
    double step_up = 0.1;
    double step_down = 0.1;
    std::size_t right_for_down = 2;
    /// Until the first reversal the steps are these; nothing: as they are.
    std::optional<double> first_up = {};
    std::optional<double> first_down = {};
    /// The ladder's ends, where there is one: no step leads beyond them.
    std::optional<double> weakest_log10 = {};
    std::optional<double> strongest_log10 = {};
};

/// A staircase as it runs. A reversal is a step whose direction differs from that of the step before; its
/// level is the one presented on the trial that causes it.
class Staircase {
  public:
    explicit Staircase(const StaircaseRule& rule) : rule_(rule), level_(rule.start_log10) {}
    double level_log10() const { return level_; }
    void answer(bool correct);
    std::span<const double> reversal_levels() const { return reversals_; }
    std::span<const std::size_t> reversal_trials() const {
        return reversal_trials_;
    }  ///< 1 for the first trial

  private:
    StaircaseRule rule_;
    double level_{};
    std::size_t trials_ = 0;
    std::size_t right_in_a_row_ = 0;
    int last_direction_ = 0;
    std::vector<double> reversals_;
    std::vector<std::size_t> reversal_trials_;
};

/// Mean of the reversals without the first, interval from Student's t over them. With fewer than two
/// reversals the level that would come next, without an interval.
struct MeanWithInterval {
    double value{};
    std::optional<double> lower;  ///< 95 %, nothing for fewer than two values
    std::optional<double> upper;
};
MeanWithInterval estimate_of(const Staircase& staircase);

/// @pre at least one value
MeanWithInterval mean_with_t_interval(std::span<const double> values);

/// Mean of the last reversals, an even number of them: the first is dropped where their number is odd. `most`
/// 0: all.
double mean_of_last_reversals(std::span<const double> reversals, std::size_t most = 0);

/// Share right at which a rule comes to rest: an up step as likely as a down step, weighted by their lengths.
double target_share(std::size_t right_for_down, double up_over_down = 1.0);

}  // namespace sipladder::benchmark
