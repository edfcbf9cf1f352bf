#include "engine/threshold/discrimination.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <boost/math/special_functions/beta.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

// The integrals run over smooth bell-shaped functions. The trapezoidal rule converges faster than any power
// of the step where the function dies out at both ends; the triangle's integral begins at 0 and is split
// into panels of Simpson's rule instead. Both are exact to about 1e-13 with the steps below.

namespace sipladder::threshold {

namespace {

constexpr double reach = 9.0;         // standard deviations; the tail beyond is 1e-19
constexpr double farthest = 60.0;     // d' at which every task is answered rightly to the last digit
constexpr double rule_step = 0.25;    // of the trapezoidal rule
constexpr int simpson_panels = 1200;  // over 0 … reach

/// x to a small whole power.
double power(double x, int times) {
    double product = 1.0;
    for (int i = 0; i < times; ++i) product *= x;
    return product;
}

template <class Function>
double over_line(Function&& integrand, double centre) {
    double sum = 0.0;
    constexpr int steps = static_cast<int>(2.0 * reach / rule_step);
    for (int i = 0; i <= steps; ++i) sum += integrand(centre - reach + rule_step * i);
    return sum * rule_step;
}

template <class Function>
double over_half_line(Function&& integrand) {
    const double width = reach / simpson_panels;
    double sum = 0.0;
    for (int i = 0; i < simpson_panels; ++i) {
        const double from = width * i;
        sum += integrand(from) + 4.0 * integrand(from + 0.5 * width) + integrand(from + width);
    }
    return sum * width / 6.0;
}

int cups_of(DifferenceTask task) {
    return task == DifferenceTask::afc_2 ? 2 : task == DifferenceTask::afc_3 ? 3 : 4;
}

double triangle_share(double d) {
    const double shift = d * std::sqrt(2.0 / 3.0);
    const double root = std::sqrt(3.0);
    return over_half_line([&](double z) {
        return 2.0 * (normal_below(-z * root + shift) + normal_below(-z * root - shift)) * normal_density(z);
    });
}

double triangle_slope(double d) {
    const double per_d = std::sqrt(2.0 / 3.0);
    const double root = std::sqrt(3.0);
    return over_half_line([&](double z) {
        return 2.0 * per_d * (normal_density(-z * root + d * per_d) - normal_density(-z * root - d * per_d)) *
               normal_density(z);
    });
}

/// P = 1 - a - b + 2 a b , a and b the upper normal tails at d/sqrt 2 and d/sqrt 6 (by symmetry).
double duo_trio_share(double d) {
    const double a = normal_below(-d / std::sqrt(2.0));
    const double b = normal_below(-d / std::sqrt(6.0));
    return (1.0 - a) * (1.0 - b) + a * b;
}

double duo_trio_slope(double d) {
    const double near = d / std::sqrt(2.0);
    const double far = d / std::sqrt(6.0);
    return normal_density(near) / std::sqrt(2.0) * (1.0 - 2.0 * normal_below(-far)) +
           normal_density(far) / std::sqrt(6.0) * (1.0 - 2.0 * normal_below(-near));
}

double tetrad_share(double d) {
    // The two from one sample both lie on one side of the two from the other.
    return 1.0 - over_line(
                     [&](double x) {
                         const double other = normal_below(x - d);
                         return 2.0 * normal_density(x) * other * (2.0 * normal_below(x) - other);
                     },
                     0.0);
}

double tetrad_slope(double d) {
    return over_line(
        [&](double x) {
            return 4.0 * normal_density(x) * normal_density(x - d) * (normal_below(x) - normal_below(x - d));
        },
        0.5 * d);
}

void check_distance(double d_prime) {
    if (!(d_prime >= 0.0)) throw Refused("d'", "is " + exact(d_prime), "0 or more");
}

void check_counts(std::uint64_t correct, std::uint64_t presentations, double chance) {
    if (presentations == 0) throw Refused("presentations", "are none", "1 or more");
    if (correct > presentations)
        throw Refused("correct", std::to_string(correct) + " of " + std::to_string(presentations),
                      "no more right answers than presentations");
    if (!(chance > 0.0 && chance < 1.0)) throw Refused("chance", "is " + exact(chance), "between 0 and 1");
}

}  // namespace

double chance_of(DifferenceTask task) {
    switch (task) {
        case DifferenceTask::afc_2:
        case DifferenceTask::duo_trio:
            return 0.5;
        case DifferenceTask::afc_4:
            return 0.25;
        case DifferenceTask::afc_3:
        case DifferenceTask::triangle:
        case DifferenceTask::tetrad:
            break;
    }
    return 1.0 / 3.0;
}

double share_right(DifferenceTask task, double d_prime) {
    check_distance(d_prime);
    if (d_prime == 0.0) return chance_of(task);
    if (d_prime > farthest) return 1.0;
    switch (task) {
        case DifferenceTask::afc_2:
            return normal_below(d_prime / std::numbers::sqrt2);
        case DifferenceTask::triangle:
            return std::min(triangle_share(d_prime), 1.0);
        case DifferenceTask::duo_trio:
            return duo_trio_share(d_prime);
        case DifferenceTask::tetrad:
            return std::min(tetrad_share(d_prime), 1.0);
        case DifferenceTask::afc_3:
        case DifferenceTask::afc_4:
            break;
    }
    const int others = cups_of(task) - 1;
    const double share = over_line(
        [&](double z) { return normal_density(z) * power(normal_below(z + d_prime), others); }, 0.0);
    return std::min(share, 1.0);  // the sum may round up
}

double share_right_slope(DifferenceTask task, double d_prime) {
    check_distance(d_prime);
    if (d_prime > farthest) return 0.0;
    switch (task) {
        case DifferenceTask::afc_2:
            return normal_density(d_prime / std::numbers::sqrt2) / std::numbers::sqrt2;
        case DifferenceTask::triangle:
            return triangle_slope(d_prime);
        case DifferenceTask::duo_trio:
            return duo_trio_slope(d_prime);
        case DifferenceTask::tetrad:
            return tetrad_slope(d_prime);
        case DifferenceTask::afc_3:
        case DifferenceTask::afc_4:
            break;
    }
    const int others = cups_of(task) - 1;
    return over_line(
        [&](double z) {
            return others * normal_density(z) * normal_density(z + d_prime) *
                   power(normal_below(z + d_prime), others - 1);
        },
        -0.5 * d_prime);
}

double d_prime_of(DifferenceTask task, double share) {
    if (!(share >= 0.0 && share <= 1.0)) throw Refused("share right", "is " + exact(share), "0 to 1");
    if (share <= chance_of(task)) return 0.0;
    if (share >= 1.0) return std::numeric_limits<double>::infinity();
    // Newton's method, held between the ends known so far.
    double low = 0.0;
    double high = farthest;
    double distance = 1.0;
    constexpr int most_steps = 80;
    for (int i = 0; i < most_steps; ++i) {
        const double off = share_right(task, distance) - share;
        (off < 0.0 ? low : high) = distance;
        const double slope = share_right_slope(task, distance);
        double next = slope > 0.0 ? distance - off / slope : low;
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        const double moved = std::abs(next - distance);
        distance = next;
        if (moved < 1e-13 * (1.0 + distance)) break;
    }
    return distance;
}

double chance_p(std::uint64_t correct, std::uint64_t presentations, double chance) {
    check_counts(correct, presentations, chance);
    if (correct == 0) return 1.0;
    const auto k = static_cast<double>(correct);
    return boost::math::ibeta(k, static_cast<double>(presentations - correct) + 1.0, chance);
}

std::optional<std::uint64_t> minimum_correct(std::uint64_t presentations, double chance, double alpha) {
    check_counts(0, presentations, chance);
    if (!(alpha > 0.0 && alpha < 1.0)) throw Refused("alpha", "is " + exact(alpha), "between 0 and 1");
    if (chance_p(presentations, presentations, chance) > alpha) return std::nullopt;
    std::uint64_t too_few = 0;
    std::uint64_t enough = presentations;
    while (enough - too_few > 1) {
        const std::uint64_t middle = too_few + (enough - too_few) / 2;
        (chance_p(middle, presentations, chance) <= alpha ? enough : too_few) = middle;
    }
    return enough;
}

ExactShare exact_share(std::uint64_t hits, std::uint64_t trials) {
    if (trials == 0 || hits > trials)
        throw Refused("share", "is " + std::to_string(hits) + " of " + std::to_string(trials),
                      "at least one trial, and no more hits than trials");
    constexpr double tail = 0.025;
    const auto n = static_cast<double>(trials);
    const auto k = static_cast<double>(hits);
    return {k / n, hits == 0 ? 0.0 : boost::math::ibeta_inv(k, n - k + 1.0, tail),
            hits == trials ? 1.0 : boost::math::ibeta_inv(k + 1.0, n - k, 1.0 - tail)};
}

Discrimination discriminate(DifferenceTask task, std::uint64_t correct, std::uint64_t presentations) {
    const double chance = chance_of(task);
    Discrimination result;
    result.p_value = chance_p(correct, presentations, chance);
    const auto n = static_cast<double>(presentations);
    const auto k = static_cast<double>(correct);
    const double share = k / n;
    result.d_prime = d_prime_of(task, share);
    const ExactShare exact = exact_share(correct, presentations);
    result.lower = d_prime_of(task, exact.lower);
    result.upper = d_prime_of(task, exact.upper);
    if (share > chance && correct < presentations)
        result.standard_error =
            std::sqrt(share * (1.0 - share) / n) / share_right_slope(task, result.d_prime);
    return result;
}

}  // namespace sipladder::threshold
