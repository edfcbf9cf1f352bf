#pragma once

#include "drills/drill.hpp"
#include "engine/random.hpp"

#include <map>
#include <string>
#include <vector>

/// What is true of a simulated person beyond thresholds. Never used for a real one.
namespace sipladder::drills {

/// How marks, or log seconds, grow with the level: y = centre + slope (x - middle of the ladder) + …
struct GrowthTruth {
    double centre{};
    double slope{};
    double shift{};  ///< of the other condition
    double pull{};   ///< of the cup before
    double noise{};
};
/// Where words begin, log10 units.
struct WordsTruth {
    std::vector<double> limits;
    double shift{};  ///< of the other condition
    double noise{};
    double lapse{};
};

struct Senses {
    /// Naming: probability of each name, for each substance and last for the base alone.
    std::vector<std::vector<double>> naming;
    double step_log10{};  ///< ranking, weight: put right three times of four
    double lapse{};       ///< ranking, weight: orders given at random
    GrowthTruth growth;
    WordsTruth words;
    /// Mouth map: probability of each place, for each substance and last for the base alone.
    std::vector<std::vector<double>> places;
};

/// Somebody drawn from what the drill assumes of people.
Senses drawn_senses(const Plan& plan, Random& random);

/// What a cup truly holds beside what is written on its bottle: log10 units, by line and rung.
using TrueLevels = std::vector<std::vector<double>>;

/// The answer to cups that truly hold this, left to right. `at` is left to the caller.
/// @param before  the cup before, if any
Answer sensed(const Plan& plan, const Senses& senses, const std::vector<Held>& cups,
              const std::optional<Held>& before, const TrueLevels& truth, Random& random);

/// What the measures of a finding should have been, by their names.
std::map<std::string, double> truths_of(const Plan& plan, const Senses& senses);

}  // namespace sipladder::drills
