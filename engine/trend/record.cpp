#include "engine/trend/record.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace sipladder::trend {

namespace {

using threshold::GridLikelihood;

void check(std::span<const Sitting> sittings, const threshold::Task& task, const Settings& settings) {
    std::vector<Problem> problems;
    if (sittings.empty()) problems.push_back({"sittings", "there are none", "at least one sitting"});
    for (std::size_t i = 0; i < sittings.size(); ++i) {
        const Sitting& sitting = sittings[i];
        if (!std::isfinite(sitting.week) || (i > 0 && sitting.week < sittings[i - 1].week))
            problems.push_back({"sitting of " + sitting.date, "is not after the one before it",
                                "sittings in the order of time"});
        if (!sitting.told.empty() && !(task == threshold::three_afc))
            problems.push_back({"sitting of " + sitting.date, "has certainty or grades beside another task",
                                "a threshold of 3-AFC, which is what these tell of"});
        if (sitting.counts.empty() && sitting.told.empty())
            problems.push_back({"sitting of " + sitting.date, "holds no answers", "at least one answer"});
        if (!(sitting.u_shared_log10 >= 0.0 && std::isfinite(sitting.u_shared_log10)))
            problems.push_back({"sitting of " + sitting.date,
                                "has a common mixing error of " + exact(sitting.u_shared_log10),
                                "0 or greater"});
    }
    const auto want = [&](double value, const char* where) {
        if (!(value > 0.0 && std::isfinite(value)))
            problems.push_back({where, "is " + exact(value), "above 0"});
    };
    want(settings.drift_sd_log10, "drift_sd_log10");
    want(settings.drift_most_log10, "drift_most_log10");
    want(settings.theta_step_log10, "theta_step_log10");
    if (!(settings.walk_log10 >= 0.0 && settings.jitter_log10 >= 0.0))
        problems.push_back({"walk or jitter", "is below 0", "0 or greater"});
    if (!(settings.false_alarms > 0.0 && settings.false_alarms < 0.5))
        problems.push_back({"false_alarms", "is " + exact(settings.false_alarms), "between 0 and 0.5"});
    if (!problems.empty()) throw Refused(problems);
}

/// Theta marginal of the answers times the prior: a sitting by itself.
std::vector<double> alone(const GridLikelihood& grid, const GridLikelihood::Cells& cells) {
    std::vector<double> sum(grid.thetas().size(), 0.0);
    const double* cell = cells.values.data();
    for (const double width : grid.width_weights())
        for (const double lapse : grid.lapse_weights())
            for (double& at : sum) at += width * lapse * *cell++;
    double total = 0.0;
    for (std::size_t t = 0; t < sum.size(); ++t) total += sum[t] *= grid.theta_weights()[t];
    for (double& at : sum) at /= total;
    return sum;
}

std::vector<double> prior_nodes(const GridLikelihood& grid) {
    std::vector<double> weights;
    for (const double width : grid.width_weights())
        for (const double lapse : grid.lapse_weights()) weights.push_back(width * lapse);
    return weights;
}

double variance_of(const GridLikelihood& grid, std::span<const double> probabilities) {
    return std::pow(threshold::estimate_of(grid.thetas(), grid.theta_step(), probabilities).sd_log10, 2);
}

Told told_of(const GridLikelihood& grid, threshold::HabitLikelihood& habits, const Sitting& sitting,
             GridLikelihood::Cells& cells) {
    Told told;
    for (const threshold::HabitAnswers& answers : sitting.told) {
        told.found.push_back(habits.of(answers));
        GridLikelihood::Cells& own = told.found.back().cells;
        told.information += std::max(
            1.0 / variance_of(grid, alone(grid, own)) - 1.0 / variance_of(grid, grid.theta_weights()), 0.0);
        threshold::multiply(cells, own);
        own = {};
    }
    return told;
}

}  // namespace

Typical typical(const GridLikelihood& grid, std::span<const double> node_weights) {
    double ln = 0.0;
    double lapse = 0.0;
    for (std::size_t node = 0; node < node_weights.size(); ++node) {
        ln += node_weights[node] * std::log(grid.widths()[node / grid.lapses().size()]);
        lapse += node_weights[node] * grid.lapses()[node % grid.lapses().size()];
    }
    return {std::exp(ln), lapse};
}

Record record_of(std::span<const Sitting> sittings, const threshold::Prior& prior,
                 const threshold::Task& task, const Settings& settings) {
    check(sittings, task, settings);
    const threshold::Grid fineness{2, settings.theta_step_log10, settings.widths};
    Record record{sittings,
                  settings,
                  prior.sd_log10,
                  GridLikelihood(threshold::Posterior(prior, task, fineness)),
                  {},
                  {},
                  {},
                  {}};
    threshold::HabitLikelihood habits(prior, fineness);
    const Typical person = typical(record.grid, prior_nodes(record.grid));
    for (const Sitting& sitting : sittings) {
        record.cells.push_back(record.grid.of(sitting.counts));
        record.told.push_back(told_of(record.grid, habits, sitting, record.cells.back()));
        const std::vector<double> thetas = alone(record.grid, record.cells.back());
        record.rung_errors.push_back(threshold::rung_error(
            threshold::rung_slopes(record.grid, thetas, sitting.counts, record.told.back().found,
                                   person.width_log10, person.lapse)));
        record.own.push_back(
            threshold::widened(threshold::estimate_of(record.grid.thetas(), record.grid.theta_step(), thetas),
                               std::hypot(sitting.u_shared_log10, record.rung_errors.back())));
    }
    return record;
}

// The likelihood's own SD will not do: with a dozen answers its far tails say more about the ladder than
// about the person.
double answers_sd(const Record& record, std::size_t sitting, std::span<const double> thetas,
                  const Typical& person) {
    const std::vector<double> information =
        record.grid.information(record.sittings[sitting].counts, person.width_log10, person.lapse);
    const double mean = std::inner_product(thetas.begin(), thetas.end(), information.begin(), 0.0) +
                        record.told[sitting].information;
    constexpr double least = 1e-3;  // an SD of 30 decades: nothing was learned
    return 1.0 / std::sqrt(std::max(mean, least));
}

}  // namespace sipladder::trend
