#include "engine/threshold/next_level.hpp"

#include "engine/problem.hpp"

#include <cmath>

// Least expected entropy of the theta marginal. psi = g + (1 - g - l) F is linear in F for given lapse, so
// the lapse is summed out once (`reach`), and a level costs one multiplication per theta and width, plus two
// logarithms per theta. Nothing is cached between calls: the tables of a level cost less than keeping them in
// step would.

namespace sipladder::threshold {

namespace {

/// - m ln m, with its limit 0 at 0.
double entropy_term(double m) {
    return m > 0.0 ? -m * std::log(m) : 0.0;
}

}  // namespace

std::vector<double> expected_entropy(const Posterior& posterior, std::span<const double> levels_log10) {
    SIPLADDER_EXPECT(!posterior.cells().empty());
    const std::size_t thetas = posterior.thetas().size();
    const std::size_t widths = posterior.widths().size();
    const std::span<const double> lapses = posterior.lapses();
    const double guess = posterior.task().guess;
    std::vector<double> marginal(thetas, 0.0);
    std::vector<double> reach(thetas * widths, 0.0);
    for (std::size_t i = 0; i < reach.size(); ++i)
        for (std::size_t l = 0; l < lapses.size(); ++l) {
            const double cell = posterior.cells()[i * lapses.size() + l];
            marginal[i / widths] += cell;
            reach[i] += cell * (1.0 - guess - lapses[l]);
        }
    std::vector<double> result;
    for (const double x_log10 : levels_log10) {
        const RiseTable table = rise_table(posterior, x_log10);
        double right_total = 0.0;
        double wrong_total = 0.0;
        double entropy = 0.0;  // of the two outcomes' unnormalised marginals
        for (std::size_t t = 0; t < thetas; ++t) {
            double right = guess * marginal[t];
            for (std::size_t w = 0; w < widths; ++w)
                right += reach[t * widths + w] * table.rise[t * widths + w];
            const double wrong = std::max(marginal[t] - right, 0.0);
            right_total += right;
            wrong_total += wrong;
            entropy += entropy_term(right) + entropy_term(wrong);
        }
        // Σ P·H(m/P) = Σ(-m ln m) - Σ(-P ln P)
        result.push_back(entropy - entropy_term(right_total) - entropy_term(wrong_total));
    }
    return result;
}

std::optional<std::size_t> next_level(const Posterior& posterior, std::span<const double> levels_log10,
                                      std::span<const int> portions_left) {
    SIPLADDER_EXPECT(levels_log10.size() == portions_left.size());
    constexpr double tie = 1e-12;  // nats: differences below this are rounding
    const std::vector<double> entropies = expected_entropy(posterior, levels_log10);
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < entropies.size(); ++i)
        if (portions_left[i] > 0 && (!best || entropies[i] < entropies[*best] - tie)) best = i;
    return best;
}

}  // namespace sipladder::threshold
