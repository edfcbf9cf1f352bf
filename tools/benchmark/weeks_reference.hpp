#pragma once

#include "tools/benchmark/reference.hpp"
#include "tools/simulate/adaptive.hpp"
#include "tools/simulate/crowd.hpp"

#include <cstddef>
#include <vector>

/// The plain reference for a person over weeks: line, walk and jitter together on one grid, written apart
/// from the engine.
namespace sipladder::benchmark {

/// Somebody who sits once a week.
struct WeeklyPerson {
    std::vector<simulate::Person>
        sittings;                    ///< the same person, each with the threshold and the luck of that day
    std::vector<double> line_log10;  ///< what the thresholds vary around
};

struct WeeklyRules {
    std::size_t sittings = 8;
    std::size_t presentations = 16;
    double drift_log10 = -0.05;
    double jitter_log10 = 0.08;
};

WeeklyPerson weekly_person(const WeeklyRules& rules, Seed seed, std::size_t index);

struct WeeklyFound {
    std::vector<simulate::Estimate> sittings;
    std::vector<simulate::Estimate> line;
    double statistic{};  ///< P(drift < 0) + 1/2 P(drift = 0)
};

class WeeksReference {
  public:
    WeeksReference(std::vector<double> levels_log10, double walked_sd_log10);
    /// @param carried  each sitting is placed from the one before, widened by `walked_sd_log10`; else from
    /// the population's prior
    WeeklyFound run(const WeeklyPerson& person, bool carried) const;

  private:
    using Likelihoods = std::vector<std::vector<double>>;  // [sitting][node · theta]
    Likelihoods taste(const WeeklyPerson& person, bool carried) const;
    WeeklyFound fit(const Likelihoods& seen) const;

    std::vector<double> levels_log10_;
    PlainReference placing_;
    std::size_t nodes_{};
    std::vector<double> widening_;  // [theta][theta]
};

}  // namespace sipladder::benchmark
