#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/rank_distribution.hpp"
#include "engine/threshold/ranking.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace sipladder::threshold {

namespace {

constexpr std::size_t most_pairs_tau = 50;
constexpr std::size_t most_pairs_rho = 10;

void check_pairs(std::span<const double> x, std::span<const double> y) {
    if (x.size() != y.size())
        throw Refused("pairs", std::to_string(x.size()) + " and " + std::to_string(y.size()) + " values",
                      "as many of one as of the other");
    if (x.size() < 3) throw Refused("pairs", "are " + std::to_string(x.size()), "three or more");
    for (const std::span<const double> values : {x, y}) {
        for (const double value : values)
            if (!std::isfinite(value))
                throw Refused("pairs", "hold a value that is no finite number", "numbers");
        if (std::all_of(values.begin(), values.end(), [&](double v) { return v == values.front(); }))
            throw Refused("pairs", "one side has the same value throughout", "values that differ");
    }
}

/// Sums over groups of t equal values: t (t - 1), t (t - 1)(t - 2), t (t - 1)(2 t + 5).
struct Ties {
    double two{};
    double three{};
    double five{};
};

Ties ties_of(std::span<const double> values) {
    std::map<double, double> groups;
    for (const double value : values) groups[value] += 1.0;
    Ties ties;
    for (const auto& [value, t] : groups) {
        ties.two += t * (t - 1.0);
        ties.three += t * (t - 1.0) * (t - 2.0);
        ties.five += t * (t - 1.0) * (2.0 * t + 5.0);
    }
    return ties;
}

double sign(double value) {
    return value > 0.0 ? 1.0 : value < 0.0 ? -1.0 : 0.0;
}

}  // namespace

RankCorrelation kendall_tau(std::span<const double> x, std::span<const double> y) {
    check_pairs(x, y);
    double score = 0.0;  // pairs in the same order less pairs in the other
    for (std::size_t i = 0; i < x.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) score += sign(x[i] - x[j]) * sign(y[i] - y[j]);
    const auto n = static_cast<double>(x.size());
    const Ties tx = ties_of(x);
    const Ties ty = ties_of(y);
    const double pairs = n * (n - 1.0);
    RankCorrelation result;
    result.value = 2.0 * score / std::sqrt((pairs - tx.two) * (pairs - ty.two));
    const double variance = (pairs * (2.0 * n + 5.0) - tx.five - ty.five) / 18.0 +
                            tx.two * ty.two / (2.0 * pairs) + tx.three * ty.three / (9.0 * pairs * (n - 2.0));
    result.z = score / std::sqrt(variance);
    result.is_exact = tx.two == 0.0 && ty.two == 0.0 && x.size() <= most_pairs_tau;
    if (!result.is_exact) {
        result.p_one_sided = normal_above(result.z);
        result.p_two_sided = std::min(1.0, 2.0 * normal_above(std::abs(result.z)));
        return result;
    }
    const ranks::Distribution concordant = ranks::concordant_pairs(x.size());
    const double same = 0.5 * (0.5 * pairs + score);
    result.p_one_sided = concordant.at_least(same);
    result.p_two_sided = std::min(1.0, 2.0 * concordant.at_least(std::max(same, 0.5 * pairs - same)));
    return result;
}

RankCorrelation spearman_rho(std::span<const double> x, std::span<const double> y) {
    check_pairs(x, y);
    const std::vector<double> a = mid_ranks(x);
    const std::vector<double> b = mid_ranks(y);
    const auto n = static_cast<double>(x.size());
    const double middle = 0.5 * (n + 1.0);
    double aa = 0.0;
    double bb = 0.0;
    double ab = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        aa += std::pow(a[i] - middle, 2);
        bb += std::pow(b[i] - middle, 2);
        ab += (a[i] - middle) * (b[i] - middle);
    }
    RankCorrelation result;
    result.value = std::clamp(ab / std::sqrt(aa * bb), -1.0, 1.0);
    const double rest = 1.0 - result.value * result.value;
    result.z = rest > 0.0 ? result.value * std::sqrt((n - 2.0) / rest)
                          : sign(result.value) * std::numeric_limits<double>::infinity();
    result.is_exact = ties_of(x).two == 0.0 && ties_of(y).two == 0.0 && x.size() <= most_pairs_rho;
    if (!result.is_exact) {
        result.p_one_sided = ranks::student_tail(result.z, n - 2.0);
        result.p_two_sided = std::min(1.0, 2.0 * ranks::student_tail(std::abs(result.z), n - 2.0));
        return result;
    }
    const ranks::Distribution twice = ranks::twice_place_sum(a);
    const double seen = 2.0 * (ab + n * middle * middle);
    const double mirrored = 2.0 * (std::abs(ab) + n * middle * middle);
    constexpr double rounding = 0.5;  // twice the sum moves in steps of 2
    result.p_one_sided = twice.at_least(seen - rounding);
    result.p_two_sided = std::min(1.0, 2.0 * twice.at_least(mirrored - rounding));
    return result;
}

}  // namespace sipladder::threshold
