#include "engine/threshold/habit_threshold.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/percepts.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

// A rung's own error is carried by sensitivity, as in threshold.cpp. The score of an answer is taken with the
// habit at its posterior shares: exact would be the score of each habit, for a second-order gain.

namespace sipladder::threshold {

std::vector<double> mean_shares(const HabitPosterior& posterior) {
    const HabitModel& model = posterior.model();
    const std::vector<double> habits = posterior.habit_marginal();
    const std::vector<double> by_lapse = posterior.lapse_marginal();
    double blind = 0.0;
    for (std::size_t l = 0; l < by_lapse.size(); ++l)
        blind += by_lapse[l] * percepts::blank_share(posterior.lapses()[l]);
    std::vector<double> means(HabitModel::distances * model.lanes, 0.0);
    for (std::size_t d = 0; d < HabitModel::distances; ++d)
        for (std::size_t j = 0; j < model.habits; ++j)
            for (std::size_t o = 0; o < model.outcomes; ++o)
                means[d * model.lanes + o] +=
                    habits[j] * static_cast<double>(model.shares[(d * model.habits + j) * model.lanes + o]);
    const std::vector<double> blank(means.begin(), means.begin() + static_cast<std::ptrdiff_t>(model.lanes));
    for (std::size_t i = 0; i < means.size(); ++i)
        means[i] = (1.0 - blind) * means[i] + blind * blank[i % model.lanes];
    return means;
}

std::vector<double> sensitivities(const HabitPosterior& posterior, std::span<const double> levels_log10,
                                  std::span<const OutcomeCounts> counts) {
    constexpr double apart = 0.05;  // log10 units each way: well above the steps of the table of distances
    constexpr double least = 1e-12;
    const std::vector<double> shares = mean_shares(posterior);
    const std::vector<double> curves = posterior.curve_marginal();
    const std::size_t widths = posterior.widths().size();
    const std::size_t lanes = posterior.model().lanes;
    std::vector<double> result;
    for (const OutcomeCounts& at : counts) {
        const DistanceTable weaker = posterior.table(levels_log10[at.level] - apart);
        const DistanceTable stronger = posterior.table(levels_log10[at.level] + apart);
        double theta_sum = 0.0;
        double score_sum = 0.0;
        double product_sum = 0.0;
        for (std::size_t i = 0; i < curves.size(); ++i) {
            double score = 0.0;
            for (std::size_t o = 0; o < at.outcomes.size(); ++o)
                if (at.outcomes[o] > 0)
                    score += static_cast<double>(at.outcomes[o]) *
                             std::log(std::max(shares[stronger[i] * lanes + o], least) /
                                      std::max(shares[weaker[i] * lanes + o], least));
            score /= 2.0 * apart;
            const double theta = posterior.thetas()[i / widths];
            theta_sum += curves[i] * theta;
            score_sum += curves[i] * score;
            product_sum += curves[i] * theta * score;
        }
        result.push_back(product_sum - theta_sum * score_sum);
    }
    return result;
}

Threshold threshold_of(const HabitPosterior& posterior, const solution::MixedLadder& ladder,
                       std::span<const OutcomeCounts> counts) {
    double square = 0.0;
    double shared = 0.0;
    double answers = 0.0;
    for (const OutcomeCounts& at : counts) {
        SIPLADDER_EXPECT(at.level < ladder.levels.size());
        const auto here =
            static_cast<double>(std::accumulate(at.outcomes.begin(), at.outcomes.end(), std::size_t{0}));
        answers += here;
        shared += here * ladder.levels[at.level].u_shared_rel;
    }
    const auto is_exact = [&](const OutcomeCounts& at) { return ladder.levels[at.level].u_own_rel == 0.0; };
    if (!std::all_of(counts.begin(), counts.end(), is_exact)) {
        const std::vector<double> slopes = sensitivities(posterior, levels_log10(ladder), counts);
        for (std::size_t i = 0; i < counts.size(); ++i)
            square += std::pow(slopes[i] * ladder.levels[counts[i].level].u_own_rel, 2);
    }
    if (answers > 0.0) square += std::pow(shared / answers, 2);
    Threshold result;
    const double mixing_sd = std::sqrt(square) / std::numbers::ln10;
    locate(result, posterior.thetas(), posterior.theta_step(), posterior.claimed_marginals(), mixing_sd);
    // The value is that of the likely habits; what is claimed about it, that of the guard.
    result.log10 = posterior.mean();
    result.sd_log10 = std::hypot(posterior.sd(), mixing_sd);
    result.lower_log10 = std::min(result.lower_log10, result.log10);
    result.upper_log10 = std::max(result.upper_log10, result.log10);
    const std::vector<double> curves = posterior.curve_marginal();
    const std::size_t widths = posterior.widths().size();
    double ln_width = 0.0;
    for (std::size_t i = 0; i < curves.size(); ++i)
        ln_width += curves[i] * std::log(posterior.widths()[i % widths]);
    result.width_log10 = std::exp(ln_width);
    const std::vector<double> lapses = posterior.lapse_marginal();
    result.lapse = std::inner_product(lapses.begin(), lapses.end(), posterior.lapses().begin(), 0.0);
    result.log_evidence = posterior.log_evidence();
    result.scale = ladder.scale;
    result.prior = posterior.prior().name;
    return result;
}

}  // namespace sipladder::threshold
