#pragma once

#include "engine/threshold/posterior.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace sipladder::threshold {

/// Chooses among the levels of one ladder, for posteriors of one grid. What does not change from answer to
/// answer is tabulated when it is made.
class Chooser {
  public:
    /// @param grid          any posterior of the grid that is to be used
    /// @param levels_log10  log10 of each level as mixed, ascending
    Chooser(const Posterior& grid, std::span<const double> levels_log10);

    std::size_t levels() const { return tables_.size(); }
    /// For `Posterior::update`.
    const RiseTable& table(std::size_t level) const { return tables_.at(level); }
    /// Expected entropy (nats) of the theta marginal after one answer at each level.
    std::vector<double> expected_entropy(const Posterior& posterior) const;
    /// Probability of a right answer at each level, all else summed out.
    std::vector<double> right_probability(const Posterior& posterior) const;

  private:
    std::vector<double> right_masses(const Posterior& posterior) const;

    std::vector<RiseTable> tables_;
    std::vector<double> rises_;  // [theta][width][level], levels filled up with zeros to a whole block
    std::size_t padded_ = 0;
};

/// The level whose answer is expected to lower the entropy of the theta marginal most (width and lapse summed
/// out), among those with portions left; the weakest of ties. Nothing if no level is left.
/// @param levels_log10  log10 of each level as mixed, ascending
/// @param portions_left cups of each level that can still be poured
std::optional<std::size_t> next_level(const Posterior& posterior, std::span<const double> levels_log10,
                                      std::span<const int> portions_left);
std::optional<std::size_t> next_level(const Posterior& posterior, const Chooser& chooser,
                                      std::span<const int> portions_left);

/// The same, with rules against what a person could learn and against too many strong cups: a level is not
/// served a fifth time running, and of levels that would almost surely be clear at most one of any three
/// presentations is made. Where the rules leave no level in stock, they yield.
/// @param served  the levels served so far, in order
std::optional<std::size_t> next_level_varied(const Posterior& posterior, const Chooser& chooser,
                                             std::span<const int> portions_left,
                                             std::span<const std::size_t> served);

/// The same rules for entropies from elsewhere. @param is_clear  levels that would almost surely be clear
std::optional<std::size_t> least_varied(std::span<const double> entropies, std::span<const int> portions_left,
                                        std::span<const std::size_t> served,
                                        const std::vector<bool>& is_clear);
/// Levels whose answer is foreseen right almost surely. @param guess  chance of being right without
/// perceiving
std::vector<bool> clear_levels(std::span<const double> right_probabilities, double guess);

/// Expected entropy (nats) of the theta marginal after one answer at each level.
std::vector<double> expected_entropy(const Posterior& posterior, std::span<const double> levels_log10);

}  // namespace sipladder::threshold
