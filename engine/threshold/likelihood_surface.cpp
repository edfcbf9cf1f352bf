#include "engine/threshold/likelihood_surface.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <string>

// No starting value is trusted: a scan over theta and slope finds the hills (the lapse is concave for a given
// curve, so it is solved, not scanned), and Newton's method climbs the best few. ln slope keeps the slope
// positive.

namespace sipladder::threshold::likelihood {

namespace {

constexpr double least_log_slope = -3.0;  // 0.05 per range of the levels: flat
constexpr double most_log_slope = 14.0;   // a step between any two levels a person could mix
constexpr double theta_reach = 3.0;       // scanned, in ranges of the levels around their middle

double log_of(double p) {
    return std::log(std::max(p, least_probability));
}

/// k ln p + (n - k) ln q, with 0 ln 0 = 0.
double binomial_part(const Level& level, double p, double q) {
    double ln = 0.0;
    if (level.correct > 0.0) ln += level.correct * log_of(p);
    if (level.correct < level.presentations) ln += (level.presentations - level.correct) * log_of(q);
    return ln;
}

/// The best lapse for a given theta and slope: p is linear in it, so the log-likelihood is concave.
double best_lapse(const Surface& surface, double theta, double log_slope) {
    if (!surface.lapse_is_free()) return surface.least_lapse;
    const double slope = std::exp(log_slope);
    double low = surface.least_lapse;
    double high = surface.most_lapse;
    constexpr int halvings = 30;
    for (int i = 0; i < halvings; ++i) {
        const double lapse = 0.5 * (low + high);
        double gradient = 0.0;
        for (const Level& level : surface.levels) {
            const double z = slope * (level.x - theta);
            const double up = rise(z, surface.shape);
            const double height = 1.0 - surface.guess - lapse;
            const double p = std::max(surface.guess + height * up, least_probability);
            const double q = std::max(lapse + height * fall(z, surface.shape), least_probability);
            gradient -= up * (level.correct / p - (level.presentations - level.correct) / q);
        }
        (gradient > 0.0 ? low : high) = lapse;
    }
    return 0.5 * (low + high);
}

bool solve(const Matrix& matrix, const std::array<bool, 3>& free, const Point& right, Point& solution) {
    Matrix inverse{};
    if (!invert(matrix, free, inverse)) return false;
    for (std::size_t i = 0; i < 3; ++i) {
        solution[i] = 0.0;
        for (std::size_t j = 0; j < 3; ++j) solution[i] += inverse[i][j] * right[j];
    }
    return true;
}

Point bounded(const Surface& surface, Point at) {
    at[1] = std::clamp(at[1], least_log_slope, most_log_slope);
    at[2] = std::clamp(at[2], surface.least_lapse, surface.most_lapse);
    return at;
}

/// Newton's direction, with as much added to the diagonal as makes it point uphill.
Point direction(const Value& value, const std::array<bool, 3>& free) {
    double scale = 0.0;
    for (std::size_t i = 0; i < 3; ++i)
        if (free[i]) scale = std::max(scale, std::abs(value.observed[i][i]));
    Point step{};
    for (double damping = 0.0; damping<1e12; damping = damping> 0.0 ? 10.0 * damping : 1e-6) {
        Matrix damped = value.observed;
        for (std::size_t i = 0; i < 3; ++i) damped[i][i] += damping * (scale + 1e-12);
        if (solve(damped, free, value.gradient, step)) return step;
    }
    return Point{};
}

}  // namespace

Placed placed(std::span<const Counts> counts, const Task& task, const LikelihoodSettings& settings) {
    std::map<double, Level> by_level;
    for (const Counts& at : counts) {
        if (at.presentations == 0) continue;
        Level& level = by_level[at.x_log10];
        level.presentations += static_cast<double>(at.presentations);
        level.correct += static_cast<double>(at.correct);
    }
    if (by_level.size() < 2)
        throw Refused("levels", std::to_string(by_level.size()) + " with answers",
                      "two or more; one level cannot place a curve without a prior");
    const double first = by_level.begin()->first;
    const double last = by_level.rbegin()->first;
    Placed result{{}, 0.5 * (first + last), last - first};
    result.surface.guess = task.guess;
    result.surface.shape = settings.shape;
    result.surface.least_lapse = settings.lapse.value_or(0.0);
    result.surface.most_lapse = settings.lapse.value_or(settings.most_lapse);
    for (const auto& [x, level] : by_level)
        result.surface.levels.push_back(
            {(x - result.centre) / result.range, level.presentations, level.correct});
    return result;
}

double log_likelihood(const Surface& surface, const Point& at) {
    const double slope = std::exp(at[1]);
    const double height = 1.0 - surface.guess - at[2];
    double ln = 0.0;
    for (const Level& level : surface.levels) {
        const double z = slope * (level.x - at[0]);
        ln += binomial_part(level, surface.guess + height * rise(z, surface.shape),
                            at[2] + height * fall(z, surface.shape));
    }
    return ln;
}

Value value_at(const Surface& surface, const Point& at) {
    Value value;
    const double slope = std::exp(at[1]);
    const double height = 1.0 - surface.guess - at[2];
    for (const Level& level : surface.levels) {
        const double z = slope * (level.x - at[0]);
        const double up = rise(z, surface.shape);
        const double density = rise_density(z, surface.shape);
        const double bend = rise_bend(z, surface.shape);
        const double p = std::max(surface.guess + height * up, least_probability);
        const double q = std::max(at[2] + height * fall(z, surface.shape), least_probability);
        const double right = level.correct;
        const double wrong = level.presentations - level.correct;
        const double by_p = right / p - wrong / q;
        const double by_pp = right / (p * p) + wrong / (q * q);
        const double information = level.presentations / (p * q);
        // dz/dtheta = -slope, dz/d(ln slope) = z
        const Point first{-height * density * slope, height * density * z, -up};
        Matrix second{};
        second[0][0] = height * bend * slope * slope;
        second[0][1] = -height * (bend * z + density) * slope;
        second[1][1] = height * (bend * z * z + density * z);
        second[0][2] = density * slope;
        second[1][2] = -density * z;
        value.ln += binomial_part(level, p, q);
        for (std::size_t i = 0; i < 3; ++i) {
            value.gradient[i] += by_p * first[i];
            for (std::size_t j = 0; j < 3; ++j) {
                const double bent = i <= j ? second[i][j] : second[j][i];
                value.observed[i][j] += by_pp * first[i] * first[j] - by_p * bent;
                value.expected[i][j] += information * first[i] * first[j];
            }
        }
    }
    return value;
}

bool invert(const Matrix& matrix, const std::array<bool, 3>& free, Matrix& inverse) {
    // Gauss-Jordan without pivoting: a positive definite matrix needs none, and any other must fail.
    Matrix work = matrix;
    inverse = Matrix{};
    for (std::size_t i = 0; i < 3; ++i) {
        inverse[i][i] = 1.0;
        if (free[i]) continue;
        for (std::size_t j = 0; j < 3; ++j) work[i][j] = work[j][i] = i == j ? 1.0 : 0.0;
    }
    for (std::size_t i = 0; i < 3; ++i) {
        if (!(work[i][i] > 1e-12 * std::abs(matrix[i][i])) || !std::isfinite(work[i][i])) return false;
        const double pivot = work[i][i];
        for (std::size_t j = 0; j < 3; ++j) {
            work[i][j] /= pivot;
            inverse[i][j] /= pivot;
        }
        for (std::size_t k = 0; k < 3; ++k) {
            if (k == i) continue;
            const double factor = work[k][i];
            for (std::size_t j = 0; j < 3; ++j) {
                work[k][j] -= factor * work[i][j];
                inverse[k][j] -= factor * inverse[i][j];
            }
        }
    }
    for (std::size_t i = 0; i < 3; ++i)
        if (!free[i]) inverse[i][i] = 0.0;
    return true;
}

Point climb(const Surface& surface, Point at, std::array<bool, 3> free) {
    constexpr int most_steps = 200;
    at = bounded(surface, at);
    for (int step = 0; step < most_steps; ++step) {
        const Value value = value_at(surface, at);
        std::array<bool, 3> moving = free;
        if (!surface.lapse_is_free()) moving[2] = false;
        if (at[2] <= surface.least_lapse && value.gradient[2] <= 0.0) moving[2] = false;
        if (at[2] >= surface.most_lapse && value.gradient[2] >= 0.0) moving[2] = false;
        if (at[1] <= least_log_slope && value.gradient[1] <= 0.0) moving[1] = false;
        if (at[1] >= most_log_slope && value.gradient[1] >= 0.0) moving[1] = false;
        const Point towards = direction(value, moving);
        Point next = at;
        bool rose = false;
        for (double length = 1.0; length > 1e-10 && !rose; length *= 0.5) {
            for (std::size_t i = 0; i < 3; ++i) next[i] = moving[i] ? at[i] + length * towards[i] : at[i];
            next = bounded(surface, next);
            rose = log_likelihood(surface, next) > value.ln;
        }
        if (!rose) break;
        const double moved =
            std::abs(next[0] - at[0]) + std::abs(next[1] - at[1]) + std::abs(next[2] - at[2]);
        at = next;
        if (moved < 1e-13) break;
    }
    return at;
}

Point best_curve(const Surface& surface) {
    constexpr int thetas = 121;
    constexpr int slopes = 45;
    constexpr std::size_t hills = 6;
    struct Found {
        double ln{};
        Point at{};
    };
    std::vector<Found> scan;
    for (int t = 0; t < thetas; ++t)
        for (int s = 0; s < slopes; ++s) {
            const double theta = theta_reach * (2.0 * t / (thetas - 1) - 1.0);
            constexpr double steepest =
                7.0;  // e^7 per range; steeper is a step, which best_step knows exactly
            const double log_slope = least_log_slope + (steepest - least_log_slope) * s / (slopes - 1);
            const Point at{theta, log_slope, best_lapse(surface, theta, log_slope)};
            scan.push_back({log_likelihood(surface, at), at});
        }
    std::partial_sort(scan.begin(), scan.begin() + hills, scan.end(),
                      [](const Found& a, const Found& b) { return a.ln > b.ln; });
    Found best{-std::numeric_limits<double>::infinity(), {}};
    for (std::size_t i = 0; i < hills; ++i) {
        const Point at = climb(surface, scan[i].at, {true, true, true});
        const double ln = log_likelihood(surface, at);
        if (ln > best.ln) best = {ln, at};
    }
    return best.at;
}

double profile(const Surface& surface, double theta) {
    constexpr int slopes = 35;
    double best_ln = -std::numeric_limits<double>::infinity();
    Point best{};
    for (int s = 0; s < slopes; ++s) {
        const double log_slope = least_log_slope + (most_log_slope - least_log_slope) * s / (slopes - 1);
        const Point at{theta, log_slope, best_lapse(surface, theta, log_slope)};
        const double ln = log_likelihood(surface, at);
        if (ln > best_ln) {
            best_ln = ln;
            best = at;
        }
    }
    return log_likelihood(surface, climb(surface, best, {false, true, true}));
}

Step best_step(const Surface& surface) {
    const std::vector<Level>& levels = surface.levels;
    const auto share = [&](const Level& level, double lapse) {
        return std::clamp(level.correct / level.presentations, surface.guess, 1.0 - lapse);
    };
    const auto ln_of = [&](std::size_t at, double lapse) {
        double ln = 0.0;
        for (std::size_t i = 0; i < levels.size(); ++i) {
            const double p = i < at ? surface.guess : i > at ? 1.0 - lapse : share(levels[i], lapse);
            ln += binomial_part(levels[i], p, i > at ? lapse : 1.0 - p);
        }
        return ln;
    };
    Step best;
    best.ln = -std::numeric_limits<double>::infinity();
    for (std::size_t at = 0; at < levels.size(); ++at) {
        double low = surface.least_lapse;
        double high = surface.most_lapse;
        constexpr int thirds = 80;
        for (int i = 0; i < thirds && surface.lapse_is_free(); ++i) {
            const double a = low + (high - low) / 3.0;
            const double b = high - (high - low) / 3.0;
            (ln_of(at, a) < ln_of(at, b) ? low : high) = ln_of(at, a) < ln_of(at, b) ? a : b;
        }
        const double lapse = 0.5 * (low + high);
        const double ln = ln_of(at, lapse);
        if (ln <= best.ln + 1e-12) continue;
        const double p = share(levels[at], lapse);
        best = Step{ln, levels[at].x, lapse, false, false};
        if (p >= 1.0 - lapse) {
            best.is_below_all = at == 0;
            if (at > 0) best.theta = 0.5 * (levels[at - 1].x + levels[at].x);
        } else if (p <= surface.guess) {
            best.is_above_all = at + 1 == levels.size();
            if (at + 1 < levels.size()) best.theta = 0.5 * (levels[at].x + levels[at + 1].x);
        }
    }
    return best;
}

}  // namespace sipladder::threshold::likelihood
