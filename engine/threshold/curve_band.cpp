#include "engine/threshold/curve_band.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>

// The distribution of psi(x) over the cells is collected in narrow bins between 0 and 1; quantiles are linear
// within a bin. Sorting the cells would be exact and a hundred times slower.

namespace sipladder::threshold {

namespace {

constexpr std::size_t bins = 2000;

double bin_quantile(const std::vector<double>& mass, double p) {
    double below = 0.0;
    for (std::size_t i = 0; i < mass.size(); ++i) {
        if (mass[i] > 0.0 && below + mass[i] >= p)
            return (static_cast<double>(i) + (p - below) / mass[i]) / static_cast<double>(bins);
        below += mass[i];
    }
    return 1.0;
}

}  // namespace

std::vector<CurvePoint> curve_band(const Posterior& posterior, std::span<const double> xs_log10) {
    SIPLADDER_EXPECT(!posterior.cells().empty());
    const std::span<const double> lapses = posterior.lapses();
    const std::span<const double> cells = posterior.cells();
    const double guess = posterior.task().guess;
    std::vector<CurvePoint> band;
    for (const double x_log10 : xs_log10) {
        const RiseTable table = rise_table(posterior, x_log10);
        std::vector<double> mass(bins, 0.0);
        double mean = 0.0;
        for (std::size_t i = 0; i < table.rise.size(); ++i)
            for (std::size_t l = 0; l < lapses.size(); ++l) {
                const double probability = cells[i * lapses.size() + l];
                const double psi = guess + (1.0 - guess - lapses[l]) * table.rise[i];
                mean += probability * psi;
                mass[std::min(static_cast<std::size_t>(psi * static_cast<double>(bins)), bins - 1)] +=
                    probability;
            }
        band.push_back({x_log10, mean, bin_quantile(mass, 0.025), bin_quantile(mass, 0.975)});
    }
    return band;
}

}  // namespace sipladder::threshold
