#pragma once

#include "tools/simulate/adaptive.hpp"
#include "tools/simulate/crowd.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

/// The plain reference: an exact grid posterior that serves the level whose answer is expected to lower the
/// entropy of the threshold most. Written apart from the engine, and coarser, so that the two check one
/// another.
namespace sipladder::benchmark {

/// A width and a lapse that a person may have, and how likely.
struct Node {
    double width{};
    double lapse{};
    double weight{};
};

struct PlainPrior {
    std::vector<double> thetas;   ///< in equal steps
    std::vector<double> weights;  ///< of the thetas
    std::vector<Node> nodes;
};
/// The simulated population's own: Normal(0, sd), widths log-uniform on 0.5 … 1.2, lapses Beta(1.5, 48.5), by
/// nodes of equal weight at their quantiles.
PlainPrior matched_prior(double sd, std::size_t widths = 7, std::size_t lapses = 5);
/// Wide and heavy-tailed: 0.85 Normal(0, 0.35) + 0.15 Normal(0, 0.8) cut at 1.8; ln width Normal(ln 0.775,
/// 0.45) cut to 0.3 … 2.2, 8 nodes; six lapses up to 0.22.
PlainPrior wide_prior();

class PlainReference {
  public:
    PlainReference(const PlainPrior& prior, std::vector<double> levels_log10);
    /// Estimates after each of `checkpoints` presentations. @param portions  of each level; empty: no end
    std::vector<simulate::Estimate> run(const simulate::Person& person,
                                        std::span<const std::size_t> checkpoints,
                                        std::vector<int> portions = {}) const;
    /// The parts that `run` is made of, on cells [theta][node] that sum to 1.
    const std::vector<double>& start() const { return start_; }
    std::span<const double> thetas() const { return thetas_; }
    /// Probability of a right answer in each cell.
    std::span<const double> right(std::size_t level) const { return right_.at(level); }
    std::size_t choose(std::span<const double> cells, std::span<const int> portions) const;
    void answer(std::vector<double>& cells, std::size_t level, bool correct) const;

  private:
    simulate::Estimate estimate(std::span<const double> cells) const;

    std::vector<double> levels_log10_;
    std::vector<double> thetas_;
    std::size_t nodes_{};
    std::vector<double> start_;               // [theta][node]
    std::vector<std::vector<double>> right_;  // [level][theta][node]
};

}  // namespace sipladder::benchmark
