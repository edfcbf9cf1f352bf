#include "engine/threshold/psychometric.hpp"

#include <cmath>
#include <numbers>

namespace sipladder::threshold {

double rise(double z, Shape shape) {
    // Both forms keep their relative accuracy in the lower tail, so 1 - F is always taken as F(-z).
    if (shape == Shape::gaussian) return 0.5 * std::erfc(-z / std::numbers::sqrt2);
    if (z >= 0.0) return 1.0 / (1.0 + std::exp(-z));
    const double e = std::exp(z);
    return e / (1.0 + e);
}

double rise_density(double z, Shape shape) {
    if (shape == Shape::gaussian)
        return std::exp(-0.5 * z * z) * std::numbers::inv_sqrtpi / std::numbers::sqrt2;
    return rise(z, shape) * rise(-z, shape);
}

double width_in_s(Shape shape) {
    constexpr double two_ln_9 = 4.394449154672439;                // exact: 2 ln 9
    constexpr double two_normal_quantile_90 = 2.563103131089201;  // exact: twice the normal quantile of 0.9
    return shape == Shape::gaussian ? two_normal_quantile_90 : two_ln_9;
}

double right_probability(const Curve& curve, const Task& task, double x_log10, Shape shape) {
    const double z = width_in_s(shape) * (x_log10 - curve.theta_log10) / curve.width_log10;
    return task.guess + (1.0 - task.guess - curve.lapse) * rise(z, shape);
}

double wrong_probability(const Curve& curve, const Task& task, double x_log10, Shape shape) {
    const double z = width_in_s(shape) * (x_log10 - curve.theta_log10) / curve.width_log10;
    return curve.lapse + (1.0 - task.guess - curve.lapse) * rise(-z, shape);
}

}  // namespace sipladder::threshold
