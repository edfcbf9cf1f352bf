#pragma once

#include "engine/threshold/prior.hpp"

#include <cstddef>
#include <span>
#include <vector>

/// Least expected entropy of the joint posterior over threshold, width and lapse: the published adaptive
/// method that this program is measured against.
namespace sipladder::benchmark {

/// What the grid's axes are, and what is believed of each cell.
struct JointGrid {
    std::vector<double> thetas;
    std::vector<double> widths;
    std::vector<double> lapses;
    std::vector<double> cells;  ///< theta-major, sums to 1
    double guess = 1.0 / 3.0;
};

/// Probability of a right answer for each cell, [level][cell].
std::vector<std::vector<double>> right_probabilities(const JointGrid& grid,
                                                     std::span<const double> levels_log10);

/// The choice as the papers write it: for each level and each answer the posterior of every cell, its
/// logarithm, and the sum; the weakest of ties.
/// @source kontsevich_tyler_1999
std::size_t textbook_choice(const JointGrid& grid, const std::vector<std::vector<double>>& right);

/// The same choice by the identity that the expected fall of the joint entropy is the mutual information
/// h(P) - Σ p h(psi): one product of cells and a table per level.
class JointChooser {
  public:
    JointChooser(const JointGrid& grid, std::span<const double> levels_log10);
    /// @param cells  of the same grid, summing to 1
    std::size_t choose(std::span<const double> cells) const;

  private:
    std::vector<std::vector<double>> right_;
    std::vector<std::vector<double>> entropy_;
};

/// Multiplies in one answer and makes the cells sum to 1.
void answer(std::vector<double>& cells, const std::vector<double>& right_of_level, bool correct);

}  // namespace sipladder::benchmark
