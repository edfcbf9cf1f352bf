#include "engine/threshold/next_level.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <array>
#include <cmath>

// Least expected entropy of the theta marginal. psi = g + (1 - g - l) F is linear in F for given lapse, so
// the lapse is summed out beforehand (`Posterior::reach`), and a level costs one multiplication per theta and
// width, plus two logarithms per theta. Levels are worked on in blocks, side by side, so that no sum waits
// for the one before it.

namespace sipladder::threshold {

namespace {

constexpr std::size_t block = 4;  // levels worked on at a time

/// - m ln m, with its limit 0 at 0.
double entropy_term(double m) {
    return m > 0.0 ? -m * std::log(m) : 0.0;
}

std::optional<std::size_t> least(std::span<const double> entropies, std::span<const int> portions_left,
                                 const std::vector<bool>& barred) {
    constexpr double tie = 1e-12;  // nats: differences below this are rounding
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < entropies.size(); ++i)
        if (portions_left[i] > 0 && !barred[i] && (!best || entropies[i] < entropies[*best] - tie)) best = i;
    return best;
}

}  // namespace

Chooser::Chooser(const Posterior& grid, std::span<const double> levels_log10) {
    for (const double x_log10 : levels_log10) tables_.push_back(rise_table(grid, x_log10));
    padded_ = (tables_.size() + block - 1) / block * block;
    const std::size_t places = grid.reach().size();
    rises_.assign(places * padded_, 0.0);
    for (std::size_t i = 0; i < places; ++i)
        for (std::size_t k = 0; k < tables_.size(); ++k) rises_[i * padded_ + k] = tables_[k].rise[i];
}

/// Probability of this theta and a right answer, [theta][level].
std::vector<double> Chooser::right_masses(const Posterior& posterior) const {
    const std::span<const double> reach = posterior.reach();
    SIPLADDER_EXPECT(!reach.empty() && reach.size() * padded_ == rises_.size());
    const std::size_t thetas = posterior.thetas().size();
    const std::size_t widths = posterior.widths().size();
    const std::span<const double> marginal = posterior.theta_marginals();
    std::vector<double> masses(thetas * padded_);
    for (std::size_t t = 0; t < thetas; ++t)
        for (std::size_t from = 0; from < padded_; from += block) {
            std::array<double, block> sums;
            sums.fill(posterior.task().guess * marginal[t]);
            const double* rise = rises_.data() + t * widths * padded_ + from;
            for (std::size_t w = 0; w < widths; ++w, rise += padded_) {
                const double height = reach[t * widths + w];
                for (std::size_t k = 0; k < block; ++k) sums[k] += height * rise[k];
            }
            std::copy(sums.begin(), sums.end(),
                      masses.begin() + static_cast<std::ptrdiff_t>(t * padded_ + from));
        }
    return masses;
}

std::vector<double> Chooser::expected_entropy(const Posterior& posterior) const {
    const std::vector<double> masses = right_masses(posterior);
    const std::span<const double> marginal = posterior.theta_marginals();
    constexpr double nothing = 1e-16;  // of theta; its entropy is below the rounding of the sum
    std::vector<double> result(levels(), 0.0);
    std::vector<double> right_total(levels(), 0.0);
    std::vector<double> wrong_total(levels(), 0.0);
    for (std::size_t t = 0; t < marginal.size(); ++t) {
        if (marginal[t] < nothing) continue;
        const double* mass = masses.data() + t * padded_;
        for (std::size_t k = 0; k < levels(); ++k) {
            const double wrong = std::max(marginal[t] - mass[k], 0.0);
            right_total[k] += mass[k];
            wrong_total[k] += wrong;
            result[k] += entropy_term(mass[k]) + entropy_term(wrong);
        }
    }
    // Σ P·H(m/P) = Σ(-m ln m) - Σ(-P ln P)
    for (std::size_t k = 0; k < levels(); ++k)
        result[k] -= entropy_term(right_total[k]) + entropy_term(wrong_total[k]);
    return result;
}

std::vector<double> Chooser::right_probability(const Posterior& posterior) const {
    const std::vector<double> masses = right_masses(posterior);
    std::vector<double> result(levels(), 0.0);
    for (std::size_t i = 0; i < masses.size(); ++i)
        if (i % padded_ < levels()) result[i % padded_] += masses[i];
    return result;
}

std::vector<double> expected_entropy(const Posterior& posterior, std::span<const double> levels_log10) {
    return Chooser{posterior, levels_log10}.expected_entropy(posterior);
}

std::optional<std::size_t> next_level(const Posterior& posterior, const Chooser& chooser,
                                      std::span<const int> portions_left) {
    SIPLADDER_EXPECT(chooser.levels() == portions_left.size());
    return least(chooser.expected_entropy(posterior), portions_left,
                 std::vector<bool>(chooser.levels(), false));
}

std::optional<std::size_t> next_level(const Posterior& posterior, std::span<const double> levels_log10,
                                      std::span<const int> portions_left) {
    return next_level(posterior, Chooser{posterior, levels_log10}, portions_left);
}

std::optional<std::size_t> least_varied(std::span<const double> entropies, std::span<const int> portions_left,
                                        std::span<const std::size_t> served,
                                        const std::vector<bool>& is_clear) {
    SIPLADDER_EXPECT(entropies.size() == portions_left.size() && entropies.size() == is_clear.size());
    constexpr std::size_t most_running = 4;  // judgement
    constexpr std::size_t clear_apart = 2;   // judgement
    const auto lately = served.last(std::min(served.size(), most_running));
    const bool was_clear =
        std::any_of(lately.end() - static_cast<std::ptrdiff_t>(std::min(lately.size(), clear_apart)),
                    lately.end(), [&](std::size_t level) { return is_clear[level]; });
    std::vector<bool> barred(entropies.size(), false);
    for (std::size_t i = 0; i < barred.size(); ++i) {
        const bool running = lately.size() == most_running &&
                             std::all_of(lately.begin(), lately.end(), [i](std::size_t s) { return s == i; });
        barred[i] = running || (was_clear && is_clear[i]);
    }
    if (const auto level = least(entropies, portions_left, barred)) return level;
    return least(entropies, portions_left, std::vector<bool>(entropies.size(), false));
}

std::vector<bool> clear_levels(std::span<const double> right_probabilities, double guess) {
    constexpr double clear_share = 0.85;  // judgement: of the way from chance to always right
    std::vector<bool> result;
    for (const double right : right_probabilities)
        result.push_back(right > guess + (1.0 - guess) * clear_share);
    return result;
}

std::optional<std::size_t> next_level_varied(const Posterior& posterior, const Chooser& chooser,
                                             std::span<const int> portions_left,
                                             std::span<const std::size_t> served) {
    SIPLADDER_EXPECT(chooser.levels() == portions_left.size());
    return least_varied(chooser.expected_entropy(posterior), portions_left, served,
                        clear_levels(chooser.right_probability(posterior), posterior.task().guess));
}

}  // namespace sipladder::threshold
