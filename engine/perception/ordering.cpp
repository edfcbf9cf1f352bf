// P(order) = P(percept of the first < percept of the second < …). With F_1(t) = P(first < t), and F_j(t) the
// integral up to t of the density of the j-th times F_{j-1}, the last F at infinity is it: one pass over a
// grid for each cup. The densities of the cups are tabulated once and serve every order.

#include "engine/perception/ordering.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sipladder::perception {

namespace {

constexpr double reach = 5.5;  // standard deviations beyond the outermost cups
constexpr double step = 0.1;   // of the grid, in standard deviations
constexpr double z_three_of_four = 0.674489750196082;

/// Densities of every cup on one grid.
std::vector<std::vector<double>> densities(const std::vector<double>& x, double noise) {
    const auto [least, most] = std::minmax_element(x.begin(), x.end());
    const auto cells =
        static_cast<std::size_t>(std::ceil((*most - *least) / noise / step + 2.0 * reach / step));
    std::vector<std::vector<double>> all;
    for (const double place : x) {
        std::vector<double> density(cells + 1);
        for (std::size_t i = 0; i <= cells; ++i) {
            const double z = (*least - place) / noise - reach + step * static_cast<double>(i);
            density[i] = std::exp(-0.5 * z * z) * std::numbers::inv_sqrtpi / std::numbers::sqrt2;
        }
        all.push_back(std::move(density));
    }
    return all;
}

double probability_of(const std::vector<std::vector<double>>& density, const Order& order) {
    std::vector<double> before(density.front().size(), 1.0);
    for (const std::size_t rung : order) {
        double sum = 0.0;
        double last = 0.0;
        for (std::size_t i = 0; i < before.size(); ++i) {
            const double now = before[i] * density[rung][i];
            sum += 0.5 * step * (last + now);
            last = now;
            before[i] = sum;
        }
    }
    return before.back();
}

void check(std::size_t rungs, const std::vector<Order>& orders) {
    if (rungs < 2) throw Refused("ranking", "has " + std::to_string(rungs) + " rungs", "two or more");
    if (orders.empty()) throw Refused("ranking", "has no order", "at least one");
    for (Order order : orders) {
        std::sort(order.begin(), order.end());
        bool is_whole = order.size() == rungs;
        for (std::size_t i = 0; is_whole && i < rungs; ++i) is_whole = order[i] == i;
        if (!is_whole) throw Refused("ranking", "has an order that misses or repeats a cup", "each cup once");
    }
}

}  // namespace

std::vector<std::size_t> adjacent_errors(const Order& order) {
    check(std::max<std::size_t>(order.size(), 2), {order});
    std::vector<std::size_t> place(order.size());
    for (std::size_t i = 0; i < order.size(); ++i) place[order[i]] = i;
    std::vector<std::size_t> errors;
    for (std::size_t rung = 0; rung + 1 < order.size(); ++rung)
        errors.push_back(place[rung] > place[rung + 1] ? 1 : 0);
    return errors;
}

double order_probability(const std::vector<double>& x_log10, double noise_log10, const Order& order) {
    SIPLADDER_EXPECT(noise_log10 > 0.0);
    check(x_log10.size(), {order});
    return probability_of(densities(x_log10, noise_log10), order);
}

double noise_of_step(double step_log10) {
    return step_log10 / (z_three_of_four * std::numbers::sqrt2);
}

Estimate difference_log10(const std::vector<double>& x_log10, const std::vector<double>& u_own_log10,
                          const std::vector<Order>& orders, const StepPrior& prior, Seed seed) {
    check(x_log10.size(), orders);
    SIPLADDER_EXPECT(u_own_log10.size() == x_log10.size());
    const std::size_t rungs = x_log10.size();
    double random_order = prior.lapse;
    for (std::size_t i = 2; i <= rungs; ++i) random_order /= static_cast<double>(i);
    constexpr double least_u = 1e-4;  // a rung without error still needs a spread for the search
    // The step, then what each rung is off by.
    const LogDensity log_density = [&](std::span<const double> at) {
        if (std::abs(at[0] - prior.ln_mean) > 12.0 * prior.ln_sd) return -1e300;
        double sum = log_normal(at[0], prior.ln_mean, prior.ln_sd);
        std::vector<double> x = x_log10;
        for (std::size_t i = 0; i < rungs; ++i) {
            const double u = std::max(u_own_log10[i], least_u);
            sum += log_normal(at[1 + i], 0.0, u);
            x[i] += at[1 + i];
        }
        const auto density = densities(x, noise_of_step(std::exp(at[0])));
        for (const Order& order : orders)
            sum += std::log(random_order + (1.0 - prior.lapse) * probability_of(density, order));
        return sum;
    };
    std::vector<double> start(1 + rungs, 0.0);
    std::vector<double> spread(1 + rungs, least_u);
    start[0] = prior.ln_mean;
    spread[0] = 0.3;
    for (std::size_t i = 0; i < rungs; ++i) spread[1 + i] = std::max(u_own_log10[i], least_u);
    return draws_of(log_density, std::move(start), spread, seed).of([](std::span<const double> at) {
        return std::log10(std::expm1(std::numbers::ln10 * std::exp(at[0])));
    });
}

}  // namespace sipladder::perception
