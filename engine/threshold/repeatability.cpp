#include "engine/threshold/repeatability.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <boost/math/special_functions/beta.hpp>

#include <cmath>
#include <numbers>
#include <string>

namespace sipladder::threshold {

namespace {

void check_pairs(std::span<const double> first, std::span<const double> second, std::size_t least) {
    if (first.size() != second.size())
        throw Refused(
            "readings",
            std::to_string(first.size()) + " first and " + std::to_string(second.size()) + " second",
            "two of each");
    if (first.size() < least)
        throw Refused("readings", "of " + std::to_string(first.size()) + " pairs",
                      std::to_string(least) + " pairs or more");
    for (const std::span<const double> readings : {first, second})
        for (const double reading : readings)
            if (!std::isfinite(reading)) throw Refused("readings", "hold no finite number", "numbers");
}

/// Quantile of Student's t above one half.
double student_quantile(double p, double df) {
    const double both = 2.0 * (1.0 - p);
    const double x = boost::math::ibeta_inv(0.5 * df, 0.5, both);
    return std::sqrt(df * (1.0 - x) / x);
}

}  // namespace

Repeatability repeatability(std::span<const double> first, std::span<const double> second) {
    check_pairs(first, second, 1);
    double squares = 0.0;
    for (std::size_t i = 0; i < first.size(); ++i) squares += std::pow(first[i] - second[i], 2);
    Repeatability result;
    result.pairs = first.size();
    result.sd_about_zero = std::sqrt(squares / static_cast<double>(first.size()));
    result.within_sd = result.sd_about_zero / std::numbers::sqrt2;
    result.coefficient = normal_975 * result.sd_about_zero;
    return result;
}

Agreement agreement(std::span<const double> first, std::span<const double> second) {
    check_pairs(first, second, 2);
    Agreement result;
    result.pairs = first.size();
    const auto n = static_cast<double>(first.size());
    double squares = 0.0;
    double count = 0.0;
    for (std::size_t i = 0; i < first.size(); ++i) {
        count += 1.0;
        const double off = first[i] - second[i] - result.mean_difference;
        result.mean_difference += off / count;
        squares += off * (first[i] - second[i] - result.mean_difference);
    }
    result.sd_difference = std::sqrt(squares / (n - 1.0));
    const double reach = student_quantile(0.975, n - 1.0) * result.sd_difference / std::sqrt(n);
    result.mean_lower = result.mean_difference - reach;
    result.mean_upper = result.mean_difference + reach;
    result.lower = result.mean_difference - normal_975 * result.sd_difference;
    result.upper = result.mean_difference + normal_975 * result.sd_difference;
    return result;
}

ReliableChange reliable_change(double before, double after, double sd, double reliability) {
    if (!std::isfinite(before) || !std::isfinite(after))
        throw Refused("readings", "hold no finite number", "numbers");
    if (!(sd > 0.0) || std::isinf(sd)) throw Refused("sd", "is " + exact(sd), "above 0");
    if (!(reliability >= 0.0 && reliability < 1.0))
        throw Refused("reliability", "is " + exact(reliability), "0 to below 1");
    ReliableChange result;
    result.standard_error = sd * std::sqrt(1.0 - reliability);
    result.sd_difference = std::numbers::sqrt2 * result.standard_error;
    result.index = (after - before) / result.sd_difference;
    result.p_two_sided = std::erfc(std::abs(result.index) / std::numbers::sqrt2);
    result.smallest_reliable = normal_975 * result.sd_difference;
    result.is_reliable = std::abs(result.index) > normal_975;
    return result;
}

double midway(double mean_a, double sd_a, double mean_b, double sd_b) {
    if (!(sd_a > 0.0) || !(sd_b > 0.0)) throw Refused("sd", "is not above 0", "above 0");
    return (sd_a * mean_b + sd_b * mean_a) / (sd_a + sd_b);
}

}  // namespace sipladder::threshold
