#pragma once

#include "engine/threshold/habit_posterior.hpp"

#include <cstddef>
#include <span>
#include <vector>

/// From the curve to distances of percepts, tabulated; for the fits of certainty and of graded cups only.
namespace sipladder::threshold::percepts {

/// Standard normal distribution function at whole hundredths, from a table.
class NormalTable {
  public:
    NormalTable();
    /// @param hundredths  the argument times 100; beyond ±1600 it is 0 or 1
    double below(long hundredths) const;

  private:
    static constexpr long reach = 1600;
    std::vector<double> values_;
};

/// Half-way between neighbouring distances of the table (`HabitModel`), each as z = (x - theta)/s, ascending:
/// d' is what makes a person right in 3-AFC as often as the logistic curve says, lapses left out.
std::vector<double> distance_edges();

/// Share of presentations answered as if every cup were a blank. A lapse still finds a third by chance, so it
/// is larger than the lapse.
/// @param lapse  of the curve, 0 to 2/3
double blank_share(double lapse);

/// Cut points of a way of grading: evenly spread over first … first + 2 · spacing; a single cut lies in the
/// middle.
std::vector<double> cut_points(double first, double spacing, std::size_t grades);

}  // namespace sipladder::threshold::percepts
