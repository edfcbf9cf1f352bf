#pragma once

#include "engine/threshold/posterior.hpp"

#include <cstddef>
#include <map>
#include <span>
#include <vector>

/// The likelihood of one person's answers on the whole grid of theta, width and lapse, without a prior: what
/// fits of several people or several sittings are made of.
namespace sipladder::threshold {

/// Likelihoods of many sets of answers on one grid; tables of levels met before are kept.
class GridLikelihood {
  public:
    /// @param grid  any posterior of the grid wanted; its prior gives the weights of widths and lapses
    explicit GridLikelihood(const Posterior& grid);

    std::span<const double> thetas() const { return thetas_; }  ///< cell centres, ascending, log10
    double theta_step() const { return theta_step_; }
    std::span<const double> theta_weights() const { return theta_weights_; }  ///< the prior's; sum to 1
    std::span<const double> widths() const { return widths_; }
    std::span<const double> width_weights() const { return width_weights_; }
    std::span<const double> lapses() const { return lapses_; }
    std::span<const double> lapse_weights() const { return lapse_weights_; }

    struct Cells {
        std::vector<double> values;  ///< [width][lapse][theta]; the greatest is 1
        double log_scale{};          ///< ln of what they were divided by, without binomial coefficients
    };
    /// @throws Refused  when a level is not finite or more are right than were presented
    Cells of(std::span<const Counts> counts);
    /// d(log-likelihood of the answers at one level) / d(its x), for every theta, at a width and a lapse.
    std::vector<double> score(const Counts& at, double width_log10, double lapse) const;
    /// What the answers are expected to tell of theta (Fisher), for every theta, at a width and a lapse.
    std::vector<double> information(std::span<const Counts> counts, double width_log10, double lapse) const;

  private:
    struct Level {
        std::vector<double> rise;  // [width][theta]
        std::vector<double> fall;
    };
    const Level& level(double x_log10);

    Posterior grid_;
    std::vector<double> thetas_;
    double theta_step_{};
    std::vector<double> theta_weights_;
    std::vector<double> widths_;
    std::vector<double> width_weights_;
    std::vector<double> lapses_;
    std::vector<double> lapse_weights_;
    std::map<double, Level> levels_;
};

/// d(mean of theta) / d(x of each of `counts`), for theta probabilities that hold these counts: the
/// covariance of theta with the score, at one width and lapse.
std::vector<double> sensitivities(const GridLikelihood& likelihood,
                                  std::span<const double> theta_probabilities, std::span<const Counts> counts,
                                  double width_log10, double lapse);

}  // namespace sipladder::threshold
