#include "engine/threshold/psychometric.hpp"

#include "engine/normal.hpp"

#include <cmath>
#include <numbers>

namespace sipladder::threshold {

double rise(double z, Shape shape) {
    // Each form keeps its relative accuracy in the lower tail; for the upper one there is fall.
    if (shape == Shape::weibull) return -std::expm1(-std::numbers::ln2 * std::exp(z));
    if (shape == Shape::gaussian) return normal_below(z);
    if (z >= 0.0) return 1.0 / (1.0 + std::exp(-z));
    const double e = std::exp(z);
    return e / (1.0 + e);
}

double fall(double z, Shape shape) {
    if (shape == Shape::weibull) return std::exp(-std::numbers::ln2 * std::exp(z));
    return rise(-z, shape);  // the others are symmetric
}

double rise_density(double z, Shape shape) {
    if (shape == Shape::gaussian) return normal_density(z);
    if (shape == Shape::weibull) {
        const double hazard = std::numbers::ln2 * std::exp(z);
        return std::isinf(hazard) ? 0.0 : hazard * std::exp(-hazard);
    }
    return rise(z, shape) * rise(-z, shape);
}

double rise_bend(double z, Shape shape) {
    const double density = rise_density(z, shape);
    if (density == 0.0) return 0.0;
    if (shape == Shape::gaussian) return -z * density;
    if (shape == Shape::weibull) return density * (1.0 - std::numbers::ln2 * std::exp(z));
    return density * (rise(-z, shape) - rise(z, shape));
}

double width_in_s(Shape shape) {
    constexpr double two_ln_9 = 4.394449154672439;                // exact: 2 ln 9
    constexpr double two_normal_quantile_90 = 2.563103131089201;  // exact: twice the normal quantile of 0.9
    constexpr double ln_ratio = 3.084399772560401;                // exact: ln(ln 10 / ln(10/9))
    return shape == Shape::gaussian ? two_normal_quantile_90 : shape == Shape::weibull ? ln_ratio : two_ln_9;
}

double right_probability(const Curve& curve, const Task& task, double x_log10, Shape shape) {
    const double z = width_in_s(shape) * (x_log10 - curve.theta_log10) / curve.width_log10;
    return task.guess + (1.0 - task.guess - curve.lapse) * rise(z, shape);
}

double wrong_probability(const Curve& curve, const Task& task, double x_log10, Shape shape) {
    const double z = width_in_s(shape) * (x_log10 - curve.theta_log10) / curve.width_log10;
    return curve.lapse + (1.0 - task.guess - curve.lapse) * fall(z, shape);
}

}  // namespace sipladder::threshold
