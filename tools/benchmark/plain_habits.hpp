#pragma once

#include "tools/benchmark/reference.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <vector>

/// The plain reference for answers that carry certainty or grades: an exact grid posterior over theta, a few
/// widths and lapses, and a few habits of answering; no look-ahead, no rule against repeats. Written apart
/// from the engine.
namespace sipladder::benchmark {

/// Probability of each outcome at a distance d' from a blank, no lapse.
struct PlainHabit {
    double weight{};
    std::function<std::vector<double>(double distance)> shares;
};

class PlainHabits {
  public:
    PlainHabits(const PlainPrior& prior, const std::vector<double>& levels_log10,
                const std::vector<PlainHabit>& habits);

    /// What is believed of one person.
    struct Belief {
        std::vector<double> cells;  ///< [theta][width][lapse][habit]
    };
    Belief start() const { return {start_}; }
    std::size_t choose(const Belief& belief) const;
    /// @param level  nothing: a blank
    void update(Belief& belief, std::optional<std::size_t> level, std::size_t outcome) const;
    simulate::Estimate estimate(const Belief& belief) const;

  private:
    std::vector<double> marginal(const Belief& belief) const;

    std::vector<double> thetas_;
    std::vector<Node> nodes_;
    std::size_t levels_{};
    std::size_t outcomes_{};
    std::size_t habits_{};
    std::vector<double> start_;
    std::vector<double> blank_;  // [habit][outcome]
    std::vector<std::vector<double>>
        clear_;                          // [level][theta][node][habit][outcome], nodes of one width share it
    std::vector<std::size_t> width_of_;  // [node]
    std::size_t widths_{};
};

/// Certainty by a Gaussian lead with these cuts, guessed/leaning/sure when right, then when wrong.
PlainHabit plain_lead(double first, double spacing, double weight, double at_random = 0.0);
PlainHabit plain_empty(double sure, double leaning, double weight);
/// The guarded fit of the reference; the trusting one with its spacing learned; plain 3-AFC.
std::vector<PlainHabit> guarded_habits();
std::vector<PlainHabit> spacing_learned_habits();
/// Grades 0 to 3, the spacing learned, and the SD ratio learned too where asked.
std::vector<PlainHabit> grading_habits(bool ratio_learned);

}  // namespace sipladder::benchmark
