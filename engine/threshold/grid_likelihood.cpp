#include "engine/threshold/grid_likelihood.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

// A posterior multiplies its prior in at once and keeps theta outermost, for the choice of levels. Fits of
// many people or sittings want the likelihood alone with theta innermost, since they go on along theta. Few
// answers at a level are multiplied out, which is quicker than a logarithm and an exponential a cell.

namespace sipladder::threshold {

namespace {

constexpr std::size_t most_tables = 200;     // levels kept; beyond it they are made again when met again
constexpr std::size_t most_multiplied = 24;  // answers before the cells are scaled up again
constexpr double least_probability = 1e-12;  // its 24th power is still a number

double power(double base, std::size_t exponent) {
    double result = 1.0;
    for (; exponent > 0; exponent >>= 1U, base *= base)
        if ((exponent & 1U) != 0U) result *= base;
    return result;
}

/// values[i] *= (floor + height · side[i])^times
void multiply(std::span<double> values, const double* side, double floor, double height, std::size_t times) {
    if (times == 0) return;
    if (times == 1) {
        for (std::size_t i = 0; i < values.size(); ++i) values[i] *= floor + height * side[i];
        return;
    }
    for (std::size_t i = 0; i < values.size(); ++i) values[i] *= power(floor + height * side[i], times);
}

void check(const Counts& at) {
    if (!std::isfinite(at.x_log10))
        throw Refused("level", "is not a finite number", "a concentration above 0");
    if (at.correct > at.presentations)
        throw Refused("correct", std::to_string(at.correct) + " of " + std::to_string(at.presentations),
                      "no more right answers than presentations");
    if (!(at.u_own_log10 >= 0.0 && std::isfinite(at.u_own_log10)))
        throw Refused("level uncertainty", "is " + exact(at.u_own_log10), "0 or greater");
}

}  // namespace

GridLikelihood::GridLikelihood(const Posterior& grid)
    : grid_(grid),
      thetas_(grid.thetas().begin(), grid.thetas().end()),
      theta_step_(grid.theta_step()),
      theta_weights_(grid.theta_marginal()),
      widths_(grid.widths().begin(), grid.widths().end()),
      width_weights_(grid.width_marginal()),
      lapses_(grid.lapses().begin(), grid.lapses().end()),
      lapse_weights_(grid.lapse_marginal()) {}

const GridLikelihood::Level& GridLikelihood::level(double x_log10) {
    const auto known = levels_.find(x_log10);
    if (known != levels_.end()) return known->second;
    if (levels_.size() >= most_tables) levels_.clear();
    const RiseTable table = rise_table(grid_, x_log10);
    Level made{std::vector<double>(table.rise.size()), std::vector<double>(table.rise.size())};
    for (std::size_t w = 0; w < widths_.size(); ++w)
        for (std::size_t t = 0; t < thetas_.size(); ++t) {
            made.rise[w * thetas_.size() + t] = table.rise[t * widths_.size() + w];
            made.fall[w * thetas_.size() + t] = table.fall[t * widths_.size() + w];
        }
    return levels_.emplace(x_log10, std::move(made)).first->second;
}

GridLikelihood::Cells GridLikelihood::of(std::span<const Counts> counts) {
    const std::size_t thetas = thetas_.size();
    const double guess = grid_.task().guess;
    Cells found{std::vector<double>(widths_.size() * lapses_.size() * thetas, 1.0), 0.0};
    const auto multiply_all = [&](const Level& table, std::size_t right, std::size_t wrong) {
        double* cells = found.values.data();
        for (std::size_t w = 0; w < widths_.size(); ++w)
            for (const double lapse : lapses_) {
                const double height = 1.0 - guess - lapse;
                const std::span<double> row(cells, thetas);
                multiply(row, &table.rise[w * thetas], std::max(guess, least_probability), height, right);
                multiply(row, &table.fall[w * thetas], std::max(lapse, least_probability), height, wrong);
                cells += thetas;
            }
    };
    const auto rescale = [&] {
        const double most = *std::max_element(found.values.begin(), found.values.end());
        SIPLADDER_EXPECT(most > 0.0);
        const double scale = 1.0 / most;
        for (double& cell : found.values) cell *= scale;
        found.log_scale += std::log(most);
    };
    std::size_t since = 0;
    for (const Counts& at : counts) {
        check(at);
        std::size_t right = at.correct;
        std::size_t wrong = at.presentations - at.correct;
        const Level& table = level(at.x_log10);
        while (right + wrong > 0) {
            const std::size_t r = std::min(right, most_multiplied);
            const std::size_t w = std::min(wrong, most_multiplied - r);
            if (since + r + w > most_multiplied) {
                rescale();
                since = 0;
            }
            multiply_all(table, r, w);
            since += r + w;
            right -= r;
            wrong -= w;
        }
    }
    rescale();
    return found;
}

std::vector<double> GridLikelihood::score(const Counts& at, double width_log10, double lapse) const {
    const double s = width_log10 / width_in_s(grid_.shape());
    const double guess = grid_.task().guess;
    const auto right = static_cast<double>(at.correct);
    const auto wrong = static_cast<double>(at.presentations - at.correct);
    std::vector<double> slopes;
    slopes.reserve(thetas_.size());
    for (const double theta : thetas_) {
        const double z = (at.x_log10 - theta) / s;
        const double height = 1.0 - guess - lapse;
        const double p = std::max(guess + height * rise(z, grid_.shape()), least_probability);
        const double q = std::max(lapse + height * fall(z, grid_.shape()), least_probability);
        slopes.push_back(height * rise_density(z, grid_.shape()) / s * (right / p - wrong / q));
    }
    return slopes;
}

std::vector<double> GridLikelihood::information(std::span<const Counts> counts, double width_log10,
                                                double lapse) const {
    const double s = width_log10 / width_in_s(grid_.shape());
    const double guess = grid_.task().guess;
    const double height = 1.0 - guess - lapse;
    std::vector<double> found(thetas_.size(), 0.0);
    for (const Counts& at : counts)
        for (std::size_t t = 0; t < thetas_.size(); ++t) {
            const double z = (at.x_log10 - thetas_[t]) / s;
            const double p = std::max(guess + height * rise(z, grid_.shape()), least_probability);
            const double q = std::max(lapse + height * fall(z, grid_.shape()), least_probability);
            const double slope = height * rise_density(z, grid_.shape()) / s;
            found[t] += static_cast<double>(at.presentations) * slope * slope / (p * q);
        }
    return found;
}

std::vector<double> sensitivities(const GridLikelihood& likelihood,
                                  std::span<const double> theta_probabilities, std::span<const Counts> counts,
                                  double width_log10, double lapse) {
    const std::span<const double> thetas = likelihood.thetas();
    SIPLADDER_EXPECT(theta_probabilities.size() == thetas.size());
    std::vector<double> found;
    for (const Counts& at : counts) {
        const std::vector<double> slopes = likelihood.score(at, width_log10, lapse);
        double mean = 0.0;
        double slope = 0.0;
        double product = 0.0;
        for (std::size_t t = 0; t < thetas.size(); ++t) {
            mean += theta_probabilities[t] * thetas[t];
            slope += theta_probabilities[t] * slopes[t];
            product += theta_probabilities[t] * thetas[t] * slopes[t];
        }
        found.push_back(product - mean * slope);
    }
    return found;
}

}  // namespace sipladder::threshold
