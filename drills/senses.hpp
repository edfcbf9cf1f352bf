#pragma once

#include "drills/drill.hpp"
#include "engine/random.hpp"

#include <map>
#include <string>
#include <vector>

/// What is true of a simulated person beyond thresholds. Never used for a real one.
namespace sipladder::drills {

struct Senses {
    /// Naming: probability of each name, for each substance and last for the base alone.
    std::vector<std::vector<double>> naming;
};

/// Somebody drawn from what the drill assumes of people.
Senses drawn_senses(const Plan& plan, Random& random);

/// What a cup truly holds beside what is written on its bottle: log10 units, by line and rung.
using TrueLevels = std::vector<std::vector<double>>;

/// The answer to cups that truly hold this, left to right. `at` is left to the caller.
Answer sensed(const Plan& plan, const Senses& senses, const std::vector<Held>& cups, const TrueLevels& truth,
              Random& random);

/// What the measures of a finding should have been, by their names.
std::map<std::string, double> truths_of(const Plan& plan, const Senses& senses);

}  // namespace sipladder::drills
