#pragma once

#include "engine/threshold/prior.hpp"
#include "tools/simulate/adaptive.hpp"
#include "tools/simulate/crowd.hpp"
#include "tools/simulate/figures.hpp"

#include <cstddef>
#include <functional>
#include <span>
#include <string>
#include <vector>

/// Ways to find a threshold, all asked of the same simulated people with the same luck.
namespace sipladder::benchmark {

struct Method {
    std::string name;
    bool knows_population = false;  ///< starts from the simulated population's own prior
    /// One estimate for each checkpoint; NaN where the method has none, NaN limits where it has no interval.
    std::function<std::vector<simulate::Estimate>(const simulate::Person&, std::span<const std::size_t>)> run;
};

/// The engine's prior that is the simulated population's own: the best case.
threshold::Prior matched_engine_prior(double sd_log10 = 0.35);
/// What ships, around the middle of the simulated population.
threshold::Prior shipped_engine_prior();

/// This program's method. @param portions  of each level; empty: no end. See simulate::SittingRules
Method own_method(std::string name, const threshold::Prior& prior, const std::vector<double>& levels_log10,
                  const threshold::Grid& reporting, bool varied = true);

/// The plain reference with the matched prior, and with the wide one.
Method matched_reference(const std::vector<double>& levels_log10);
Method wide_reference(const std::vector<double>& levels_log10);

/// The published methods, on 12 rungs of ratio 1.6 (ascending series and constant stimuli: 8 rungs of ratio
/// 2).
std::vector<Method> published_methods();
/// What remains when slope, lapse and shape are given away and any level can be mixed: the floor in practice.
Method floor_in_practice();
/// Least RMSE that any method could reach after `presentations` by 3-AFC (van Trees' inequality, the level
/// always at the best place, slope and lapse known), averaged over the simulated population. @source
/// gill_levit_1995
double bound(std::size_t presentations, double theta_sd = 0.35);

/// Errors and hits of one method, by checkpoint and person.
struct Outcome {
    std::vector<std::vector<double>> errors;  ///< NaN: no estimate
    std::vector<std::vector<char>>
        hits;  ///< 1: the interval holds the truth, 0: not, 2: there is no interval
    std::vector<std::vector<double>> sds;
};

struct Run {
    std::size_t people = 4000;
    Seed seed{1};
    std::size_t threads = 0;
    std::function<void(const std::string& what, std::size_t done, std::size_t of)> progress;
};

std::vector<Outcome> outcomes(const std::string& what, const simulate::Population& population,
                              const std::vector<Method>& methods, std::span<const std::size_t> checkpoints,
                              const Run& run);

/// RMSE; nothing where there is no estimate for everybody.
bool has_estimates(const Outcome& outcome, std::size_t checkpoint);
simulate::Figure coverage_of(const Outcome& outcome, std::size_t checkpoint);

}  // namespace sipladder::benchmark
