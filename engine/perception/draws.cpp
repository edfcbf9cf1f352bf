// A dozen parameters at most, nearly normal after a logarithm here and there: Laplace's approximation is
// already close, and importance weights mend what it misses. Each draw is taken with its mirror image, so
// that means are better than their number says.

#include "engine/perception/draws.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

namespace sipladder::perception {

namespace {

constexpr double t_df = 6.0;              // heavier tails than a normal, lighter than they could be
constexpr std::size_t draw_pairs = 1000;  // a quantile is then off by half a percent of probability

using Matrix = std::vector<std::vector<double>>;

Matrix square(std::size_t size) {
    return Matrix(size, std::vector<double>(size, 0.0));
}

/// Lower triangle with L L' = matrix; nothing where it is not positive definite.
bool cholesky(const Matrix& matrix, Matrix& lower) {
    const std::size_t n = matrix.size();
    lower = square(n);
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j <= i; ++j) {
            double sum = matrix[i][j];
            for (std::size_t k = 0; k < j; ++k) sum -= lower[i][k] * lower[j][k];
            if (i == j) {
                if (!(sum > 1e-12)) return false;
                lower[i][i] = std::sqrt(sum);
            } else {
                lower[i][j] = sum / lower[j][j];
            }
        }
    return true;
}

/// x with L' x = y.
std::vector<double> solve_upper(const Matrix& lower, std::vector<double> y) {
    for (std::size_t i = y.size(); i-- > 0;) {
        for (std::size_t k = i + 1; k < y.size(); ++k) y[i] -= lower[k][i] * y[k];
        y[i] /= lower[i][i];
    }
    return y;
}
/// x with L x = y.
std::vector<double> solve_lower(const Matrix& lower, std::vector<double> y) {
    for (std::size_t i = 0; i < y.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) y[i] -= lower[i][k] * y[k];
        y[i] /= lower[i][i];
    }
    return y;
}

/// Everything is in units of `spread` from here on.
struct Slope {
    double value{};
    std::vector<double> gradient;
    Matrix information;  ///< minus the second derivatives
};

Slope slope_at(const LogDensity& f, const std::vector<double>& at) {
    constexpr double h = 0.02;
    const std::size_t n = at.size();
    Slope slope{f(at), std::vector<double>(n), square(n)};
    std::vector<double> up(n);
    std::vector<double> point = at;
    for (std::size_t i = 0; i < n; ++i) {
        point[i] = at[i] + h;
        up[i] = f(point);
        point[i] = at[i] - h;
        const double down = f(point);
        point[i] = at[i];
        slope.gradient[i] = (up[i] - down) / (2.0 * h);
        slope.information[i][i] = -(up[i] - 2.0 * slope.value + down) / (h * h);
    }
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < i; ++j) {
            point[i] = at[i] + h;
            point[j] = at[j] + h;
            const double second = (f(point) - up[i] - up[j] + slope.value) / (h * h);
            point[i] = at[i];
            point[j] = at[j];
            slope.information[i][j] = slope.information[j][i] = -second;
        }
    return slope;
}

/// The root of the information, with as much added to its diagonal as it takes to have one.
Matrix root_of(const Matrix& information) {
    Matrix lower;
    Matrix damped = information;
    for (double more = 0.0;; more = more == 0.0 ? 0.1 : 3.0 * more) {
        for (std::size_t i = 0; i < damped.size(); ++i) damped[i][i] = information[i][i] + more;
        if (cholesky(damped, lower)) return lower;
        SIPLADDER_EXPECT(more < 1e12);
    }
}

struct Peak {
    std::vector<double> at;
    Matrix root;  ///< of the information
};

Peak peak_of(const LogDensity& f, std::vector<double> at) {
    constexpr int most_steps = 40;
    constexpr double near_enough = 1e-4;  // of the log density
    for (int step = 0;; ++step) {
        const Slope slope = slope_at(f, at);
        const Matrix root = root_of(slope.information);
        const std::vector<double> move = solve_upper(root, solve_lower(root, slope.gradient));
        const double gain = std::inner_product(move.begin(), move.end(), slope.gradient.begin(), 0.0);
        if (gain < near_enough || step == most_steps) return {std::move(at), root};
        constexpr int most_halvings = 20;  // a millionth of the step
        double share = 1.0;
        int halved = 0;
        for (; halved < most_halvings; ++halved, share *= 0.5) {
            std::vector<double> there = at;
            for (std::size_t i = 0; i < at.size(); ++i) there[i] += share * move[i];
            if (f(there) > slope.value) {
                at = std::move(there);
                break;
            }
        }
        if (halved == most_halvings) return {std::move(at), root};
    }
}

/// Draws around a centre, `step` turning a round t into one of this shape.
Draws sampled(const LogDensity& f, const std::vector<double>& centre,
              const std::function<std::vector<double>(std::vector<double>)>& step, Random& random) {
    const std::size_t n = centre.size();
    Draws draws;
    std::vector<double> logs;
    for (std::size_t pair = 0; pair < draw_pairs; ++pair) {
        std::vector<double> z(n);
        double square_sum = 0.0;
        for (double& one : z) {
            one = random.normal();
            square_sum += one * one;
        }
        const double stretch = std::sqrt(0.5 * t_df / gamma_draw(random, 0.5 * t_df));
        const double log_proposal =
            -0.5 * (t_df + static_cast<double>(n)) * std::log1p(square_sum * stretch * stretch / t_df);
        for (double& one : z) one *= stretch;
        const std::vector<double> away = step(std::move(z));
        for (const double sign : {1.0, -1.0}) {
            std::vector<double> point = centre;
            for (std::size_t i = 0; i < n; ++i) point[i] += sign * away[i];
            logs.push_back(f(point) - log_proposal);
            draws.points.push_back(std::move(point));
        }
    }
    const double most = *std::max_element(logs.begin(), logs.end());
    double sum = 0.0;
    for (const double one : logs) {
        draws.weights.push_back(std::exp(one - most));
        sum += draws.weights.back();
    }
    for (double& weight : draws.weights) weight /= sum;
    return draws;
}

struct Moments {
    std::vector<double> mean;
    Matrix covariance;
};
Moments moments_of(const Draws& draws) {
    const std::size_t n = draws.points.front().size();
    Moments moments{std::vector<double>(n, 0.0), square(n)};
    for (std::size_t d = 0; d < draws.points.size(); ++d)
        for (std::size_t i = 0; i < n; ++i) moments.mean[i] += draws.weights[d] * draws.points[d][i];
    for (std::size_t d = 0; d < draws.points.size(); ++d)
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                moments.covariance[i][j] += draws.weights[d] * (draws.points[d][i] - moments.mean[i]) *
                                            (draws.points[d][j] - moments.mean[j]);
    // A little wider than found: a proposal that is too narrow cannot see that it is.
    for (std::size_t i = 0; i < n; ++i) moments.covariance[i][i] *= 1.1;
    return moments;
}

}  // namespace

double Draws::effective() const {
    double squares = 0.0;
    for (const double weight : weights) squares += weight * weight;
    return 1.0 / (squares * static_cast<double>(weights.size()));
}

Estimate Draws::of(const std::function<double(std::span<const double>)>& quantity) const {
    std::vector<std::pair<double, double>> found;  // value, weight
    Estimate estimate;
    for (std::size_t d = 0; d < points.size(); ++d) {
        if (weights[d] <= 0.0) continue;  // far out, where a quantity may be no number
        found.emplace_back(quantity(points[d]), weights[d]);
        estimate.value += weights[d] * found.back().first;
    }
    for (const auto& [value, weight] : found)
        estimate.sd += weight * (value - estimate.value) * (value - estimate.value);
    estimate.sd = std::sqrt(estimate.sd);
    std::sort(found.begin(), found.end());
    const auto quantile = [&](double share) {
        double sum = 0.0;
        for (const auto& [value, weight] : found)
            if ((sum += weight) >= share) return value;
        return found.back().first;
    };
    constexpr double tail = 0.025;
    estimate.lower = quantile(tail);
    estimate.upper = quantile(1.0 - tail);
    return estimate;
}

Draws draws_of(const LogDensity& log_density, std::vector<double> start, const std::vector<double>& spread,
               Seed seed) {
    SIPLADDER_EXPECT(!start.empty() && start.size() == spread.size());
    SIPLADDER_EXPECT(std::isfinite(log_density(start)));
    const std::size_t n = start.size();
    std::vector<double> scaled(n);
    const LogDensity f = [&](std::span<const double> at) {
        for (std::size_t i = 0; i < n; ++i) scaled[i] = at[i] * spread[i];
        const double value = log_density(scaled);
        return std::isnan(value) ? -std::numeric_limits<double>::infinity() : value;
    };
    for (std::size_t i = 0; i < n; ++i) start[i] /= spread[i];
    const Peak peak = peak_of(f, std::move(start));
    Random random{seed};
    Draws draws = sampled(
        f, peak.at, [&](std::vector<double> z) { return solve_upper(peak.root, std::move(z)); }, random);
    constexpr double worth_little = 0.4;
    for (int again = 0; again < 3 && draws.effective() < worth_little; ++again) {
        const Moments moments = moments_of(draws);
        Matrix lower;
        if (!cholesky(moments.covariance, lower)) break;
        const auto shaped = [&](const std::vector<double>& z) {
            std::vector<double> away(n, 0.0);
            for (std::size_t i = 0; i < n; ++i)
                for (std::size_t k = 0; k <= i; ++k) away[i] += lower[i][k] * z[k];
            return away;
        };
        Draws better = sampled(f, moments.mean, shaped, random);
        if (better.effective() <= draws.effective()) break;
        draws = std::move(better);
    }
    for (std::vector<double>& point : draws.points)
        for (std::size_t i = 0; i < n; ++i) point[i] *= spread[i];
    return draws;
}

Draws equal_draws(std::vector<std::vector<double>> points) {
    SIPLADDER_EXPECT(!points.empty());
    const double weight = 1.0 / static_cast<double>(points.size());
    Draws draws{std::move(points), {}};
    draws.weights.assign(draws.points.size(), weight);
    return draws;
}

double gamma_draw(Random& random, double shape) {
    SIPLADDER_EXPECT(shape > 0.0);
    if (shape < 1.0) return gamma_draw(random, shape + 1.0) * std::pow(1.0 - random.uniform(), 1.0 / shape);
    const double d = shape - 1.0 / 3.0;
    const double c = 1.0 / std::sqrt(9.0 * d);
    for (;;) {
        const double z = random.normal();
        const double v = (1.0 + c * z) * (1.0 + c * z) * (1.0 + c * z);
        if (v <= 0.0) continue;
        if (std::log(1.0 - random.uniform()) < 0.5 * z * z + d - d * v + d * std::log(v)) return d * v;
    }
}

double beta_draw(Random& random, double a, double b) {
    const double x = gamma_draw(random, a);
    const double y = gamma_draw(random, b);
    return x + y > 0.0 ? x / (x + y) : (a > b ? 1.0 : 0.0);
}

double log_below(double z) {
    constexpr double far = -30.0;  // erfc is still exact here
    if (z > far) return std::log(normal_below(z));
    // Mills' ratio to its first correction: relative error below 1e-5.
    return -0.5 * z * z - std::log(-z) - 0.5 * std::log(2.0 * std::numbers::pi) + std::log1p(-1.0 / (z * z));
}

double log_normal(double x, double mean, double sd) {
    const double z = (x - mean) / sd;
    return -0.5 * z * z - std::log(sd);
}

}  // namespace sipladder::perception
