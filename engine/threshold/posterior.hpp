#pragma once

#include "engine/solution/ladder.hpp"
#include "engine/threshold/prior.hpp"
#include "engine/threshold/psychometric.hpp"
#include "engine/units.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace sipladder::threshold {

/// Answers at one level, pooled.
struct Counts {
    double x_log10{};
    std::size_t presentations{};
    std::size_t correct{};
    double u_own_log10{};  ///< the rung's own mixing uncertainty, shared by all its presentations
};

enum class Fineness { coarse, fine };  ///< a coarse grid chooses the next level, a fine grid reports

/// Probabilities on the grid of theta, width and lapse; they sum to 1. The grid is derived from the prior,
/// never from the levels tested, so that it cannot silently end.
class Posterior {
  public:
    Posterior() = default;
    Posterior(Prior prior, Task task, Fineness fineness, Shape shape = Shape::logistic);

    /// Multiplies in one answer.
    void update(Log10Level level, bool correct);
    void update(const Counts& counts);

    const Prior& prior() const { return prior_; }
    const Task& task() const { return task_; }
    std::span<const double> thetas() const { return thetas_; }  ///< cell centres, ascending, log10
    std::span<const double> widths() const { return widths_; }
    std::span<const double> lapses() const { return lapses_; }
    std::span<const double> cells() const { return cells_; }  ///< theta-major: [theta][width][lapse]
    std::vector<double> theta_marginal() const;               ///< probabilities per theta cell
    double mean() const;
    double sd() const;
    double quantile(double p) const;  ///< of theta; cell edges, linear within a cell
    double log_evidence() const {
        return log_evidence_;
    }  ///< ln of the answers' probability, without binomial coefficients
    bool operator==(const Posterior&) const = default;

  private:
    Prior prior_;
    Task task_;
    Shape shape_ = Shape::logistic;
    std::vector<double> thetas_;
    std::vector<double> widths_;
    std::vector<double> lapses_;
    std::vector<double> cells_;
    double log_evidence_ = 0.0;
};

}  // namespace sipladder::threshold
