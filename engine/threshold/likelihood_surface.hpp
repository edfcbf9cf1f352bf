#pragma once

#include "engine/threshold/likelihood.hpp"
#include "engine/threshold/psychometric.hpp"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

/// The log-likelihood as a function of the curve, for maximum_likelihood and deviance_test only.
namespace sipladder::threshold::likelihood {

struct Level {
    double x{};
    double presentations{};
    double correct{};
};

struct Surface {
    std::vector<Level> levels;  ///< ascending, no two alike
    double guess{};
    Shape shape{};
    double least_lapse{};  ///< equal to most_lapse: the lapse is known
    double most_lapse{};

    bool lapse_is_free() const { return most_lapse > least_lapse; }
};

/// A surface with the way back to log10: levels are scaled to -0.5 … 0.5 so that one set of bounds serves
/// grams per litre and quanta alike.
struct Placed {
    Surface surface;
    double centre{};
    double range{};

    double out(double u) const { return centre + range * u; }
};
/// Counts pooled by level, levels without answers left out.
/// @throws Refused  for fewer than two levels with answers
Placed placed(std::span<const Counts> counts, const Task& task, const LikelihoodSettings& settings);

/// theta, ln slope, lapse.
using Point = std::array<double, 3>;
using Matrix = std::array<std::array<double, 3>, 3>;

struct Value {
    double ln{};       ///< without binomial coefficients
    Point gradient{};  ///< by theta, ln slope, lapse
    Matrix observed{};
    Matrix expected{};
};

/// Probability in the logarithm never falls below this, so that a step against the answers stays comparable.
constexpr double least_probability = 1e-300;

double log_likelihood(const Surface& surface, const Point& at);
Value value_at(const Surface& surface, const Point& at);

/// The best point with the coordinates that `free` names left to move, uphill from `start` (Newton, damped
/// where the surface is not convex downwards); the lapse stays within its bounds.
Point climb(const Surface& surface, Point start, std::array<bool, 3> free);
/// The best over all curves with a finite slope, from a scan and a climb from its best points.
Point best_curve(const Surface& surface);
/// The greatest log-likelihood with theta held.
double profile(const Surface& surface, double theta);

/// The best step: p = guess below a level, 1 - lapse above it, anything between at it.
struct Step {
    double ln{};
    double theta{};
    double lapse{};
    bool is_below_all = false;  ///< every level lies above it
    bool is_above_all = false;
};
Step best_step(const Surface& surface);

/// Inverse of the matrix over the coordinates that `free` names; false if it is not positive definite.
bool invert(const Matrix& matrix, const std::array<bool, 3>& free, Matrix& inverse);

}  // namespace sipladder::threshold::likelihood
