#include "tools/benchmark/reference.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/psychometric.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sipladder::benchmark {

namespace {

constexpr double step = 0.04;

void add_thetas(PlainPrior& prior, double reach, double (*density)(double, double), double sd) {
    const int most = static_cast<int>(std::lround(reach / step));
    for (int i = -most; i <= most; ++i) {
        prior.thetas.push_back(step * i);
        prior.weights.push_back(density(step * i, sd));
    }
}

double normal(double theta, double sd) {
    return std::exp(-0.5 * theta * theta / (sd * sd)) / sd;
}

double heavy(double theta, double) {
    return 0.85 * normal(theta, 0.35) + 0.15 * normal(theta, 0.8);
}

/// Quantiles (k + 1/2) / count of Beta(1.5, 48.5), by summing its density.
std::vector<double> lapse_quantiles(std::size_t count) {
    constexpr int pieces = 200'000;
    std::vector<double> sums;
    double total = 0.0;
    for (int i = 0; i < pieces; ++i) {
        const double l = (i + 0.5) / pieces;
        total += std::sqrt(l) * std::pow(1.0 - l, 47.5);
        sums.push_back(total);
    }
    std::vector<double> quantiles;
    for (std::size_t k = 0; k < count; ++k) {
        const double wanted = total * (static_cast<double>(k) + 0.5) / static_cast<double>(count);
        const auto at = std::lower_bound(sums.begin(), sums.end(), wanted) - sums.begin();
        quantiles.push_back((static_cast<double>(at) + 0.5) / pieces);
    }
    return quantiles;
}

double share(std::size_t k, std::size_t count) {
    return (static_cast<double>(k) + 0.5) / static_cast<double>(count);
}

/// - m ln m
double term(double m) {
    return m > 0.0 ? -m * std::log(m) : 0.0;
}

}  // namespace

PlainPrior matched_prior(double sd, std::size_t widths, std::size_t lapses) {
    PlainPrior prior;
    constexpr double reach_in_sd = 4.35;
    add_thetas(prior, reach_in_sd * sd, normal, sd);
    for (std::size_t w = 0; w < widths; ++w)
        for (const double lapse : lapse_quantiles(lapses))
            prior.nodes.push_back({0.5 * std::pow(1.2 / 0.5, share(w, widths)), lapse, 1.0});
    return prior;
}

PlainPrior wide_prior() {
    PlainPrior prior;
    add_thetas(prior, 1.8, heavy, 0.0);
    struct Lapse {
        double lapse;
        double weight;
    };
    constexpr Lapse lapses[] = {{0.0, 0.20},  {0.01, 0.25}, {0.03, 0.25},
                                {0.06, 0.15}, {0.12, 0.10}, {0.22, 0.05}};
    constexpr std::size_t widths = 8;
    for (std::size_t w = 0; w < widths; ++w) {
        const double width = 0.3 * std::pow(2.2 / 0.3, share(w, widths));
        const double z = std::log(width / 0.775) / 0.45;
        for (const auto& [lapse, weight] : lapses)
            prior.nodes.push_back({width, lapse, weight * std::exp(-0.5 * z * z)});
    }
    return prior;
}

PlainReference::PlainReference(const PlainPrior& prior, std::vector<double> levels_log10)
    : levels_log10_(std::move(levels_log10)), thetas_(prior.thetas), nodes_(prior.nodes.size()) {
    double total = 0.0;
    for (const double weight : prior.weights)
        for (const Node& node : prior.nodes) {
            start_.push_back(weight * node.weight);
            total += start_.back();
        }
    for (double& cell : start_) cell /= total;
    for (const double x : levels_log10_) {
        std::vector<double>& right = right_.emplace_back();
        for (const double theta : thetas_)
            for (const Node& node : prior.nodes)
                right.push_back(
                    threshold::right_probability({theta, node.width, node.lapse}, threshold::three_afc, x));
    }
}

std::size_t PlainReference::choose(std::span<const double> cells, std::span<const int> portions) const {
    std::vector<double> marginal(thetas_.size(), 0.0);
    for (std::size_t i = 0; i < cells.size(); ++i) marginal[i / nodes_] += cells[i];
    std::size_t best = levels_log10_.size();
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t level = 0; level < levels_log10_.size(); ++level) {
        if (portions[level] <= 0) continue;
        double all = 0.0;
        double entropy = 0.0;
        for (std::size_t t = 0; t < thetas_.size(); ++t) {
            double right = 0.0;
            for (std::size_t i = t * nodes_; i < (t + 1) * nodes_; ++i) right += cells[i] * right_[level][i];
            entropy += term(right) + term(marginal[t] - right);
            all += right;
        }
        entropy -= term(all) + term(1.0 - all);
        constexpr double tie = 1e-12;
        if (entropy < least - tie) {
            least = entropy;
            best = level;
        }
    }
    return best;
}

void PlainReference::answer(std::vector<double>& cells, std::size_t level, bool correct) const {
    double total = 0.0;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        cells[i] *= correct ? right_[level][i] : 1.0 - right_[level][i];
        total += cells[i];
    }
    for (double& cell : cells) cell /= total;
}

simulate::Estimate PlainReference::estimate(std::span<const double> cells) const {
    std::vector<double> marginal(thetas_.size(), 0.0);
    for (std::size_t i = 0; i < cells.size(); ++i) marginal[i / nodes_] += cells[i];
    simulate::Estimate found;
    double square = 0.0;
    for (std::size_t t = 0; t < thetas_.size(); ++t) {
        found.value += marginal[t] * thetas_[t];
        square += marginal[t] * thetas_[t] * thetas_[t];
    }
    found.sd = std::sqrt(std::max(square - found.value * found.value, 0.0));
    found.lower = threshold::cell_quantile(thetas_, step, marginal, 0.025);
    found.upper = threshold::cell_quantile(thetas_, step, marginal, 0.975);
    return found;
}

std::vector<simulate::Estimate> PlainReference::run(const simulate::Person& person,
                                                    std::span<const std::size_t> checkpoints,
                                                    std::vector<int> portions) const {
    SIPLADDER_EXPECT(!checkpoints.empty());
    constexpr int endless = 1'000'000;
    if (portions.empty()) portions.assign(levels_log10_.size(), endless);
    std::vector<double> cells = start_;
    std::vector<simulate::Estimate> found;
    std::optional<double> before;
    for (std::size_t number = 0; number < checkpoints.back(); ++number) {
        const std::size_t level = choose(cells, portions);
        if (level == levels_log10_.size()) break;
        --portions[level];
        const double x = levels_log10_[level];
        const bool correct = simulate::response(person, number, x, before).correct;
        before = x;
        answer(cells, level, correct);
        if (number + 1 == checkpoints[found.size()]) found.push_back(estimate(cells));
    }
    while (found.size() < checkpoints.size()) found.push_back(estimate(cells));
    return found;
}

}  // namespace sipladder::benchmark
