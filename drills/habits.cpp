// A logistic curve says how often an answer is right; to know what a leaning does to it, the curve is read as
// a sensitivity: d' is such that the share right of an unbiased three-alternative choice is the curve's. A
// lapse is an answer given as if all three cups were blank and the places alike: it happens with probability
// l / (1 - g), so that the ceiling is 1 - l.

#include "drills/habits.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sipladder::drills {

namespace {

constexpr double most_d_prime = 9.0;  // beyond it every answer is right to rounding
constexpr std::size_t steps = 360;
constexpr double carry_margin_log10 = 0.2;  // "clearly above" the threshold (judgement)

/// Integral over z of phi(z - centre) Phi(z - a) Phi(z - b): a percept at `centre` is the strongest of three.
double strongest(double centre, double a, double b) {
    constexpr double reach = 8.0;
    constexpr int pieces = 160;
    constexpr double h = 2.0 * reach / pieces;
    double sum = 0.0;
    for (int i = 0; i < pieces; ++i) {
        const double z = centre - reach + h * (i + 0.5);
        sum += normal_density(z - centre) * normal_below(z - a) * normal_below(z - b);
    }
    return sum * h;
}

double risen(const threshold::Curve& curve, const Habits& habits, double x_log10) {
    if (!habits.weibull)
        return threshold::rise(threshold::width_in_s(threshold::Shape::logistic) *
                                   (x_log10 - curve.theta_log10) / curve.width_log10,
                               threshold::Shape::logistic);
    // 10 to 90 % of 1 - exp(-ln 2 · 10^(b·x)) spans log10(ln 0.1 / ln 0.9) / b.
    const double width_times_slope = std::log10(std::log(0.1) / std::log(0.9));
    const double slope = width_times_slope / curve.width_log10;
    return -std::expm1(-std::numbers::ln2 * std::pow(10.0, slope * (x_log10 - curve.theta_log10)));
}

}  // namespace

PlaceBias::PlaceBias(double shift) : shift_(shift) {
    SIPLADDER_EXPECT(shift >= 0.0 && shift <= 4.0);
    for (std::size_t i = 0; i <= steps; ++i) {
        const double d = most_d_prime * static_cast<double>(i) / static_cast<double>(steps);
        const double chance = 1.0 / 3.0;
        rises_.push_back(std::clamp((strongest(d, 0.0, 0.0) - chance) / (1.0 - chance), 0.0, 1.0));
        shares_.push_back(
            {strongest(d + shift, 0.0, 0.0), strongest(d, 0.0, shift), strongest(shift, 0.0, d)});
    }
    rises_.front() = 0.0;
}

PlaceBias::Shares PlaceBias::at(double rise) const {
    const auto above = std::upper_bound(rises_.begin(), rises_.end(), rise);
    if (above == rises_.end()) return shares_.back();
    const auto i = static_cast<std::size_t>(above - rises_.begin());
    if (i == 0) return shares_.front();
    const double share = (rise - rises_[i - 1]) / (rises_[i] - rises_[i - 1]);
    const auto between = [share](double from, double to) { return from + share * (to - from); };
    const Shares& a = shares_[i - 1];
    const Shares& b = shares_[i];
    return {between(a.right_there, b.right_there), between(a.right_elsewhere, b.right_elsewhere),
            between(a.lured, b.lured)};
}

double theta_now(const threshold::Curve& truth, const Habits& habits, std::size_t number,
                 std::optional<double> x_before_log10) {
    double theta = truth.theta_log10 + habits.fatigue_log10 * static_cast<double>(number);
    if (x_before_log10 && *x_before_log10 > truth.theta_log10 + carry_margin_log10)
        theta += habits.carry_over_log10;
    return theta;
}

std::array<double, 3> pick_probabilities(const threshold::Curve& now, const Habits& habits, double x_log10,
                                         std::size_t spiked) {
    SIPLADDER_EXPECT(spiked < 3 && habits.favoured_place < 3);
    const double rise = risen(now, habits, x_log10);
    const double chance = 1.0 / 3.0;
    const double lapsed = std::min(now.lapse / (1.0 - chance), 1.0);
    std::array<double, 3> tasted{};
    if (habits.place_bias == nullptr) {
        tasted.fill(0.5 * (1.0 - chance) * (1.0 - rise));
        tasted[spiked] = chance + (1.0 - chance) * rise;
    } else {
        const PlaceBias::Shares shares = habits.place_bias->at(rise);
        const bool there = spiked == habits.favoured_place;
        tasted.fill(there ? 0.5 * (1.0 - shares.right_there) : 1.0 - shares.right_elsewhere - shares.lured);
        if (!there) tasted[habits.favoured_place] = shares.lured;
        tasted[spiked] = there ? shares.right_there : shares.right_elsewhere;
    }
    for (double& share : tasted) share = lapsed * chance + (1.0 - lapsed) * share;
    return tasted;
}

}  // namespace sipladder::drills
