#pragma once

#include <cstddef>

namespace sipladder::threshold {

/// The shape F of psi(x) = g + (1 - g - l) F((x - theta) / s).
/// Weibull in the concentration is 1 - exp(-ln 2 e^z) on its logarithm (complementary log-log regression).
/// Every shape has F(0) = 0.5, so theta means the same in all of them.
enum class Shape { logistic, gaussian, weibull };

/// What the assessor is asked, as far as the fit needs to know.
struct Task {
    double guess = 1.0 / 3.0;  ///< chance of being right without perceiving anything, 0 to < 1
    bool operator==(const Task&) const = default;
};
constexpr Task three_afc{1.0 / 3.0};
constexpr Task two_afc{0.5};

/// How sure the assessor says to be of an answer.
enum class Certainty { guessed, leaning, sure };

/// One person's curve. theta is where the rise from chance to ceiling is half done (ISO 13301 and ASTM E679:
/// chance-corrected 0.5); width is the 10 to 90 % rise, 2 ln 9 · s for the logistic, log10 units.
struct Curve {
    double theta_log10{};
    double width_log10 = 0.775;
    double lapse = 0.03;
};

/// Probability of a right answer at x = log10 of the concentration.
double right_probability(const Curve& curve, const Task& task, double x_log10, Shape shape = Shape::logistic);
/// Probability of a wrong answer; keeps its digits where it is small.
double wrong_probability(const Curve& curve, const Task& task, double x_log10, Shape shape = Shape::logistic);

/// F(z): the logistic 1 / (1 + e^-z), the standard normal distribution, or 1 - exp(-ln 2 e^z).
double rise(double z, Shape shape);
/// 1 - F(z); keeps its digits where it is small.
double fall(double z, Shape shape);
/// dF/dz.
double rise_density(double z, Shape shape);
/// d2F/dz2.
double rise_bend(double z, Shape shape);
/// The 10 to 90 % width of F in units of s: 2 ln 9 (logistic), 2 z(0.9) (gaussian), ln(ln 10 / ln(10/9))
/// (weibull).
double width_in_s(Shape shape);

}  // namespace sipladder::threshold
