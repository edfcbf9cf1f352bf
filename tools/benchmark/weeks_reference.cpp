#include "tools/benchmark/weeks_reference.hpp"

#include "engine/threshold/posterior.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace sipladder::benchmark {

namespace {

constexpr double step = 0.04;
constexpr double walk_sd = 0.03;
constexpr double jitter_sd = 0.08;
constexpr double drift_step = 0.025;
constexpr int drifts_each_side = 6;
constexpr double drift_sd = 0.05;

PlainPrior weeks_prior() {
    PlainPrior prior = matched_prior(0.35, 5, 3);
    prior.thetas.clear();
    prior.weights.clear();
    constexpr int most = 45;  // ±1.8
    for (int i = -most; i <= most; ++i) {
        prior.thetas.push_back(step * i);
        prior.weights.push_back(std::exp(-0.5 * std::pow(step * i / 0.35, 2.0)));
    }
    return prior;
}

/// [from][to]: Normal(to; from + shift, sd) on the grid, each row summing to 1.
std::vector<double> transition(std::span<const double> thetas, double shift, double sd) {
    const std::size_t count = thetas.size();
    std::vector<double> matrix(count * count);
    for (std::size_t i = 0; i < count; ++i) {
        double total = 0.0;
        for (std::size_t j = 0; j < count; ++j) {
            const double z = (thetas[j] - thetas[i] - shift) / sd;
            matrix[i * count + j] = std::exp(-0.5 * z * z);
            total += matrix[i * count + j];
        }
        if (total > 0.0)
            for (std::size_t j = 0; j < count; ++j) matrix[i * count + j] /= total;
    }
    return matrix;
}

std::vector<double> forwards(const std::vector<double>& matrix, const std::vector<double>& from) {
    const std::size_t count = from.size();
    std::vector<double> to(count, 0.0);
    for (std::size_t i = 0; i < count; ++i) {
        if (from[i] < 1e-20) continue;
        for (std::size_t j = 0; j < count; ++j) to[j] += from[i] * matrix[i * count + j];
    }
    return to;
}

std::vector<double> backwards(const std::vector<double>& matrix, const std::vector<double>& to) {
    const std::size_t count = to.size();
    std::vector<double> from(count, 0.0);
    for (std::size_t i = 0; i < count; ++i)
        from[i] = std::inner_product(to.begin(), to.end(),
                                     matrix.begin() + static_cast<std::ptrdiff_t>(i * count), 0.0);
    return from;
}

simulate::Estimate estimate(std::span<const double> thetas, std::vector<double> weights) {
    const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
    simulate::Estimate found;
    double square = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        weights[i] /= total;
        found.value += weights[i] * thetas[i];
        square += weights[i] * thetas[i] * thetas[i];
    }
    found.sd = std::sqrt(std::max(square - found.value * found.value, 0.0));
    found.lower = threshold::cell_quantile(thetas, step, weights, 0.025);
    found.upper = threshold::cell_quantile(thetas, step, weights, 0.975);
    return found;
}

double scaled_to_one(std::vector<double>& values) {
    const double total = std::accumulate(values.begin(), values.end(), 0.0);
    for (double& value : values) value /= total;
    return total;
}

}  // namespace

WeeklyPerson weekly_person(const WeeklyRules& rules, Seed seed, std::size_t index) {
    const simulate::Person whole = simulate::person_of({}, seed, index, rules.sittings * rules.presentations);
    constexpr std::uint64_t days = 77;  // a stream of its own
    Random random{derived(derived(seed, index), days)};
    WeeklyPerson person;
    for (std::size_t k = 0; k < rules.sittings; ++k) {
        simulate::Person sitting = whole;
        const auto from = whole.luck.begin() + static_cast<std::ptrdiff_t>(k * rules.presentations);
        sitting.luck.assign(from, from + static_cast<std::ptrdiff_t>(rules.presentations));
        person.line_log10.push_back(whole.truth.theta_log10 + rules.drift_log10 * static_cast<double>(k));
        sitting.truth.theta_log10 = person.line_log10.back() + rules.jitter_log10 * random.normal();
        person.sittings.push_back(std::move(sitting));
    }
    return person;
}

WeeksReference::WeeksReference(std::vector<double> levels_log10, double walked_sd_log10)
    : levels_log10_(levels_log10),
      placing_(weeks_prior(), std::move(levels_log10)),
      nodes_(placing_.start().size() / placing_.thetas().size()),
      widening_(transition(placing_.thetas(), 0.0, walked_sd_log10)) {}

WeeksReference::Likelihoods WeeksReference::taste(const WeeklyPerson& person, bool carried) const {
    const std::size_t thetas = placing_.thetas().size();
    constexpr int endless = 1'000'000;
    const std::vector<int> portions(levels_log10_.size(), endless);
    std::vector<double> cells = placing_.start();
    Likelihoods seen;
    for (std::size_t k = 0; k < person.sittings.size(); ++k) {
        if (k > 0 && !carried) cells = placing_.start();
        if (k > 0 && carried)
            for (std::size_t n = 0; n < nodes_; ++n) {
                std::vector<double> row(thetas);
                for (std::size_t t = 0; t < thetas; ++t) row[t] = cells[t * nodes_ + n];
                row = forwards(widening_, row);
                for (std::size_t t = 0; t < thetas; ++t) cells[t * nodes_ + n] = row[t];
            }
        const simulate::Person& today = person.sittings[k];
        std::vector<double>& likelihood = seen.emplace_back(cells.size(), 1.0);
        for (std::size_t number = 0; number < today.luck.size(); ++number) {
            const std::size_t level = placing_.choose(cells, portions);
            const bool correct =
                simulate::response(today, number, levels_log10_[level], std::nullopt).correct;
            placing_.answer(cells, level, correct);
            const std::span<const double> right = placing_.right(level);
            for (std::size_t t = 0; t < thetas; ++t)
                for (std::size_t n = 0; n < nodes_; ++n) {
                    const double p = right[t * nodes_ + n];
                    likelihood[n * thetas + t] *= correct ? p : 1.0 - p;
                }
        }
    }
    return seen;
}

WeeklyFound WeeksReference::fit(const Likelihoods& seen) const {
    const std::span<const double> thetas = placing_.thetas();
    const std::size_t count = thetas.size();
    const std::size_t sittings = seen.size();
    const std::vector<double> jitter = transition(thetas, 0.0, jitter_sd);
    std::vector<double> start(count);
    for (std::size_t t = 0; t < count; ++t)
        for (std::size_t n = 0; n < nodes_; ++n) start[t] += placing_.start()[t * nodes_ + n];
    std::vector<std::vector<double>> line(sittings, std::vector<double>(count, 0.0));
    std::vector<std::vector<double>> own = line;
    double below = 0.0;
    double all = 0.0;
    for (int d = -drifts_each_side; d <= drifts_each_side; ++d) {
        const double drift = drift_step * d;
        const std::vector<double> walk = transition(thetas, drift, walk_sd);
        for (std::size_t n = 0; n < nodes_; ++n) {
            std::vector<std::vector<double>> blurred;
            for (const auto& likelihood : seen) {
                const auto from = likelihood.begin() + static_cast<std::ptrdiff_t>(n * count);
                blurred.push_back(backwards(jitter, {from, from + static_cast<std::ptrdiff_t>(count)}));
            }
            std::vector<std::vector<double>> before;
            std::vector<double> now = start;
            double weight = std::exp(-0.5 * drift * drift / (drift_sd * drift_sd));
            for (std::size_t k = 0; k < sittings; ++k) {
                if (k > 0) now = forwards(walk, now);
                before.push_back(now);
                for (std::size_t t = 0; t < count; ++t) now[t] *= blurred[k][t];
                weight *= scaled_to_one(now);
            }
            all += weight;
            below += weight * (d < 0 ? 1.0 : d == 0 ? 0.5 : 0.0);
            std::vector<double> later(count, 1.0);
            for (std::size_t k = sittings; k-- > 0;) {
                std::vector<double> others(count);
                for (std::size_t t = 0; t < count; ++t) others[t] = before[k][t] * later[t];
                const double total =
                    std::inner_product(others.begin(), others.end(), blurred[k].begin(), 0.0);
                for (double& value : others) value /= total;
                const std::vector<double> spread = forwards(jitter, others);
                for (std::size_t t = 0; t < count; ++t) {
                    line[k][t] += weight * others[t] * blurred[k][t];
                    own[k][t] += weight * spread[t] * seen[k][n * count + t];
                    later[t] *= blurred[k][t];
                }
                later = backwards(walk, later);
                scaled_to_one(later);
            }
        }
    }
    WeeklyFound found;
    for (std::size_t k = 0; k < sittings; ++k) {
        found.sittings.push_back(estimate(thetas, own[k]));
        found.line.push_back(estimate(thetas, line[k]));
    }
    found.statistic = below / all;
    return found;
}

WeeklyFound WeeksReference::run(const WeeklyPerson& person, bool carried) const {
    return fit(taste(person, carried));
}

}  // namespace sipladder::benchmark
