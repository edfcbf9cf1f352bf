#pragma once

#include "engine/threshold/next_level.hpp"
#include "engine/threshold/posterior.hpp"
#include "tools/simulate/crowd.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

/// This program's own method, as the detection drill uses it, without the drill around it: for thousands of
/// people.
namespace sipladder::simulate {

struct Estimate {
    double value{};
    double lower{};  ///< 95 %
    double upper{};
    double sd{};
};

/// One answered presentation.
struct Tasted {
    std::size_t level{};
    std::size_t spiked{};
    std::size_t picked{};
    bool correct{};
};

/// Rungs of constant ratio centred on 0, log10.
std::vector<double> centred_ladder(std::size_t rungs, double ratio);

/// Everything that does not depend on the person, made once.
class Adaptive {
  public:
    Adaptive(threshold::Prior prior, std::vector<double> levels_log10, const threshold::Grid& choosing,
             const threshold::Grid& reporting);

    std::span<const double> levels_log10() const { return levels_log10_; }
    const threshold::Prior& prior() const { return choosing_.prior(); }
    const threshold::Posterior& choosing() const { return choosing_; }
    const threshold::Posterior& reporting() const { return reporting_; }
    const threshold::Chooser& chooser() const { return chooser_; }
    const threshold::Chooser& report_tables() const { return report_tables_; }

  private:
    std::vector<double> levels_log10_;
    threshold::Posterior choosing_;
    threshold::Posterior reporting_;
    threshold::Chooser chooser_;
    threshold::Chooser report_tables_;
};

struct Sitting {
    std::vector<Tasted> tasted;
    std::vector<Estimate> estimates;  ///< one for each checkpoint reached
};

struct SittingRules {
    std::vector<std::size_t> checkpoints;  ///< numbers of presentations after which to report, ascending
    std::vector<int> portions = {};        ///< of each level; empty: no end
    double stop_sd = 0.0;                  ///< above 0: ends, and reports, when the SD is at or below this
    bool varied = true;                    ///< the rules against runs and clear cups
    std::vector<double> bottle_errors_log10 =
        {};  ///< what each bottle holds beyond its label; empty: nothing
};

/// Serves until the last checkpoint, the stop or the end of the stock.
Sitting sitting(const Adaptive& method, const Person& person, const SittingRules& rules);

}  // namespace sipladder::simulate
