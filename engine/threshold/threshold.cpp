#include "engine/threshold/threshold.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>

// A rung that holds a little more than it says misleads all its answers alike, so its error is not averaged
// down by asking again. The posterior is made with the levels as mixed; then theta is moved by sensitivity
// times error, for each rung, and by the ladder's common error in full (GUM, JCGM 100:2008, 5.1.2 and 5.2.2).
// That is a convolution of the theta marginal with a normal.

namespace sipladder::threshold {

namespace {

/// Integral of the normal distribution function with this sd, from -infinity to u.
double integral_below(double u, double sd) {
    constexpr double far = 9.0;  // beyond it the normal adds less than rounding does
    if (std::abs(u) >= far * sd) return std::max(u, 0.0);
    return u * normal_below(u / sd) + sd * normal_density(u / sd);
}

/// Cells of equal width, each flat within, blurred by a normal.
struct Blurred {
    std::span<const double> centres;
    double step{};
    std::span<const double> probabilities;
    double blur_sd{};

    double below(double x) const {
        double sum = 0.0;
        for (std::size_t i = 0; i < centres.size(); ++i) {
            if (probabilities[i] <= 0.0) continue;
            const double from = x - centres[i] + 0.5 * step;
            sum += probabilities[i] * (integral_below(from, blur_sd) - integral_below(from - step, blur_sd)) /
                   step;
        }
        return sum;
    }

    double quantile(double p) const {
        if (blur_sd <= 0.0) return cell_quantile(centres, step, probabilities, p);
        constexpr double reach = 10.0;  // standard deviations
        double low = centres.front() - step - reach * blur_sd;
        double high = centres.back() + step + reach * blur_sd;
        constexpr int halvings = 50;
        for (int i = 0; i < halvings; ++i) {
            const double middle = 0.5 * (low + high);
            (below(middle) < p ? low : high) = middle;
        }
        return 0.5 * (low + high);
    }

    /// Probability per cell after the blur; what leaves the grid at an end is kept in the last cell.
    std::vector<double> cells() const {
        std::vector<double> result(centres.size(), 0.0);
        if (blur_sd <= 0.0) {
            result.assign(probabilities.begin(), probabilities.end());
            return result;
        }
        double before = 0.0;
        for (std::size_t i = 0; i < centres.size(); ++i) {
            const double through = i + 1 == centres.size() ? 1.0 : below(centres[i] + 0.5 * step);
            result[i] = std::max(through - before, 0.0);
            before = through;
        }
        return result;
    }
};

double mixing_sd(const Posterior& posterior, std::span<const Counts> counts, double u_shared_log10) {
    const auto is_exact = [](const Counts& at) { return at.u_own_log10 == 0.0; };
    if (std::all_of(counts.begin(), counts.end(), is_exact)) return u_shared_log10;
    const std::vector<double> slopes = sensitivities(posterior, counts);
    double square = u_shared_log10 * u_shared_log10;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        const double part = slopes[i] * counts[i].u_own_log10;
        square += part * part;
    }
    return std::sqrt(square);
}

double geometric_mean_width(const Posterior& posterior) {
    const std::vector<double> marginal = posterior.width_marginal();
    double ln = 0.0;
    for (std::size_t i = 0; i < marginal.size(); ++i) ln += marginal[i] * std::log(posterior.widths()[i]);
    return std::exp(ln);
}

void check_counts(std::span<const Counts> counts, double u_shared_log10) {
    for (const Counts& at : counts) {
        if (!std::isfinite(at.x_log10))
            throw Refused("level", "is not a finite number", "a concentration above 0");
        if (!(at.u_own_log10 >= 0.0 && std::isfinite(at.u_own_log10)))
            throw Refused("level uncertainty", "is " + exact(at.u_own_log10), "0 or greater");
    }
    if (!(u_shared_log10 >= 0.0 && std::isfinite(u_shared_log10)))
        throw Refused("common uncertainty", "is " + exact(u_shared_log10), "0 or greater");
}

}  // namespace

double Threshold::value() const {
    return std::pow(10.0, log10);
}
double Threshold::lower() const {
    return std::pow(10.0, lower_log10);
}
double Threshold::upper() const {
    return std::pow(10.0, upper_log10);
}

std::vector<double> sensitivities(const Posterior& posterior, std::span<const Counts> counts) {
    const double guess = posterior.task().guess;
    const double factor = width_in_s(posterior.shape());
    const std::span<const double> widths = posterior.widths();
    const std::span<const double> lapses = posterior.lapses();
    const std::span<const double> cells = posterior.cells();
    constexpr double least = 1e-300;
    std::vector<double> result;
    for (const Counts& at : counts) {
        const double right = static_cast<double>(at.correct);
        const double wrong = static_cast<double>(at.presentations - at.correct);
        double mean_theta = 0.0;
        double mean_score = 0.0;
        double mean_product = 0.0;
        std::size_t cell = 0;
        for (const double theta : posterior.thetas())
            for (const double width : widths) {
                const double s = width / factor;
                const double z = (at.x_log10 - theta) / s;
                const double up = rise(z, posterior.shape());
                const double down = fall(z, posterior.shape());
                const double density = rise_density(z, posterior.shape()) / s;
                for (const double lapse : lapses) {
                    const double probability = cells[cell++];
                    if (probability <= 0.0) continue;
                    const double height = 1.0 - guess - lapse;
                    const double score = height * density *
                                         (right / std::max(guess + height * up, least) -
                                          wrong / std::max(lapse + height * down, least));
                    mean_theta += probability * theta;
                    mean_score += probability * score;
                    mean_product += probability * theta * score;
                }
            }
        result.push_back(mean_product - mean_theta * mean_score);
    }
    return result;
}

std::vector<double> levels_log10(const solution::MixedLadder& ladder) {
    std::vector<double> result;
    for (const solution::MixedLevel& level : ladder.levels) result.push_back(std::log10(level.mixed));
    return result;
}

std::vector<Counts> counts_of(const solution::MixedLadder& ladder, const std::vector<Answered>& answers) {
    std::map<std::size_t, Counts> by_level;
    for (const Answered& answer : answers) {
        SIPLADDER_EXPECT(answer.level < ladder.levels.size());
        const solution::MixedLevel& level = ladder.levels[answer.level];
        Counts& at = by_level[answer.level];
        at.x_log10 = std::log10(level.mixed);
        at.u_own_log10 = level.u_own_rel / std::numbers::ln10;
        ++at.presentations;
        if (answer.correct) ++at.correct;
    }
    std::vector<Counts> result;
    result.reserve(by_level.size());
    for (const auto& [level, at] : by_level) result.push_back(at);
    return result;
}

void locate(Threshold& result, std::span<const double> thetas, double step, std::span<const double> marginal,
            double mixing_sd_log10) {
    SIPLADDER_EXPECT(thetas.size() == marginal.size());
    const Blurred blurred{thetas, step, marginal, mixing_sd_log10};
    const double mean = std::inner_product(marginal.begin(), marginal.end(), thetas.begin(), 0.0);
    double square = 0.0;
    for (std::size_t t = 0; t < thetas.size(); ++t)
        square += marginal[t] * (thetas[t] - mean) * (thetas[t] - mean);
    result.log10 = mean;
    result.lower_log10 = blurred.quantile(0.025);
    result.upper_log10 = blurred.quantile(0.975);
    result.sd_log10 = std::hypot(std::sqrt(square), mixing_sd_log10);
    result.mixing_sd_log10 = mixing_sd_log10;
    result.theta_grid_log10.assign(thetas.begin(), thetas.end());
    result.theta_density = blurred.cells();
}

Threshold threshold(const solution::MixedLadder& ladder, const std::vector<Answered>& answers,
                    const Prior& prior, const Task& task) {
    FitSettings settings;
    settings.scale = ladder.scale;
    // Levels made from one stock have nearly the same common part; where they differ, each answer counts
    // once.
    double sum = 0.0;
    for (const Answered& answer : answers) {
        SIPLADDER_EXPECT(answer.level < ladder.levels.size());
        sum += ladder.levels[answer.level].u_shared_rel;
    }
    if (!answers.empty())
        settings.u_shared_log10 = sum / static_cast<double>(answers.size()) / std::numbers::ln10;
    return threshold(counts_of(ladder, answers), prior, task, settings);
}

Threshold threshold(std::span<const Counts> counts, const Prior& prior, const Task& task,
                    const FitSettings& settings) {
    check_counts(counts, settings.u_shared_log10);
    Posterior posterior{prior, task, settings.grid, settings.shape};
    for (const Counts& at : counts) posterior.update(at);

    Threshold result;
    locate(result, posterior.thetas(), posterior.theta_step(), posterior.theta_marginals(),
           mixing_sd(posterior, counts, settings.u_shared_log10));
    result.width_log10 = geometric_mean_width(posterior);
    const std::vector<double> lapse_marginal = posterior.lapse_marginal();
    result.lapse =
        std::inner_product(lapse_marginal.begin(), lapse_marginal.end(), posterior.lapses().begin(), 0.0);
    result.log_evidence = posterior.log_evidence();
    result.scale = settings.scale;
    result.prior = prior.name;
    result.warnings = warnings_for(posterior, counts, settings.scale);
    return result;
}

}  // namespace sipladder::threshold
