#pragma once

#include "engine/random.hpp"

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

/// Posteriors of a few parameters at once, as weighted draws: what the fits of this folder rest on. The same
/// seed gives the same draws.
namespace sipladder::perception {

/// Mean with its equal-tailed 95 % interval.
struct Estimate {
    double value{};
    double lower{};
    double upper{};
    double sd{};
};

struct Draws {
    std::vector<std::vector<double>> points;
    std::vector<double> weights;  ///< one a point; they sum to 1

    /// How many equally weighted draws these are worth, as a share of their number.
    double effective() const;
    /// Of any quantity that follows from the parameters.
    Estimate of(const std::function<double(std::span<const double>)>& quantity) const;
};

/// Log of a density up to a constant, at a point; minus infinity where it is 0.
using LogDensity = std::function<double(std::span<const double>)>;

/// Draws from a density with one peak: its highest point by Newton's method, then importance sampling from a
/// multivariate t with the curvature found there, once more from the moments of the first draws where these
/// are worth little.
///
/// @param start   where the search begins; the density there must be more than 0
/// @param spread  about how wide each parameter is, for the steps of the search; > 0
/// @checked tests/perception/perception_test.cpp
Draws draws_of(const LogDensity& log_density, std::vector<double> start, const std::vector<double>& spread,
               Seed seed);

/// Equal weights.
Draws equal_draws(std::vector<std::vector<double>> points);

/// A draw from the gamma distribution of this shape and scale 1, by the method of Marsaglia and Tsang (ACM
/// Trans. Math. Softw. 26:363, 2000; from memory). @pre shape > 0
double gamma_draw(Random& random, double shape);
/// @pre a, b > 0
double beta_draw(Random& random, double a, double b);

/// log of the standard normal distribution function, also far below 0.
double log_below(double z);
/// log of the normal density, without its constant.
double log_normal(double x, double mean, double sd);

}  // namespace sipladder::perception
