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

/// How finely the prior's range is cut. Theta: at least `thetas` cells, more where a cell would be wider than
/// `theta_step_log10`. Width: `widths` cells, equal in the logarithm.
struct Grid {
    std::size_t thetas{};
    double theta_step_log10{};
    std::size_t widths{};
};
constexpr Grid coarse_grid{76, 0.062, 8};
constexpr Grid fine_grid{401, 0.012, 24};

enum class Fineness { coarse, fine };  ///< a coarse grid chooses the next level, a fine grid reports

/// F((x - theta)/s) and 1 - F for every theta and width of a grid, theta-major: all that one level needs.
struct RiseTable {
    std::vector<double> rise;
    std::vector<double> fall;
};

/// Probabilities on the grid of theta, width and lapse; they sum to 1. The grid is derived from the prior,
/// never from the levels tested, so that it cannot silently end.
class Posterior {
  public:
    Posterior() = default;
    /// @throws Refused  for a prior that cannot be used, a guess rate outside 0 to < 1, a lapse that leaves
    /// no rise
    Posterior(Prior prior, Task task, Fineness fineness, Shape shape = Shape::logistic);
    Posterior(Prior prior, Task task, const Grid& grid, Shape shape = Shape::logistic);

    /// Multiplies in one answer.
    void update(Log10Level level, bool correct);
    /// The same for a level whose table was made before, on a posterior of the same grid.
    void update(const RiseTable& level, bool correct);
    /// Multiplies in all answers at one level. @throws Refused when correct > presentations
    void update(const Counts& counts);

    const Prior& prior() const { return prior_; }
    const Task& task() const { return task_; }
    Shape shape() const { return shape_; }
    std::span<const double> thetas() const { return thetas_; }  ///< cell centres, ascending, log10
    double theta_step() const { return theta_step_; }           ///< width of a theta cell, log10
    std::span<const double> widths() const { return widths_; }
    std::span<const double> lapses() const { return lapses_; }
    std::span<const double> cells() const { return cells_; }  ///< theta-major: [theta][width][lapse]
    /// Per theta and width, summed over the lapse l: of probability · (1 - g - l), how high the curve still
    /// can rise.
    std::span<const double> reach() const { return reach_; }
    std::span<const double> theta_marginals() const { return marginal_; }  ///< probabilities per theta cell
    std::vector<double> theta_marginal() const { return marginal_; }       ///< the same, as a copy
    std::vector<double> width_marginal() const;                            ///< probabilities per width
    std::vector<double> lapse_marginal() const;                            ///< probabilities per lapse
    double mean() const;                                                   ///< of theta
    double sd() const;                                                     ///< of theta
    double quantile(double p) const;  ///< of theta; cell edges, linear within a cell
    /// ln of the answers' probability, in their order: without binomial coefficients.
    double log_evidence() const { return log_evidence_; }
    bool operator==(const Posterior&) const = default;

  private:
    void update(const RiseTable& level, double right, double wrong);
    void rescale(double log_factor);
    double predicted(const RiseTable& level, bool correct) const;
    void sum_up();

    Prior prior_;
    Task task_;
    Shape shape_ = Shape::logistic;
    double theta_step_ = 0.0;
    std::vector<double> thetas_;
    std::vector<double> widths_;
    std::vector<double> lapses_;
    std::vector<double> cells_;
    // Sums of the cells that every choice and every update needs; kept in step with them.
    std::vector<double> reach_;     // [theta][width]: of cell · (1 - g - lapse)
    std::vector<double> lapsed_;    // [theta][width]: of cell · lapse
    std::vector<double> marginal_;  // [theta]
    double log_evidence_ = 0.0;
};

RiseTable rise_table(const Posterior& posterior, double x_log10);

/// Quantile of cells of equal width around ascending centres: the running sum is taken at the cells' edges
/// and is linear within a cell. @pre probabilities sum to 1, 0 <= p <= 1
double cell_quantile(std::span<const double> centres, double step, std::span<const double> probabilities,
                     double p);

}  // namespace sipladder::threshold
