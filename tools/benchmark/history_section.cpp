#include "engine/threshold/posterior.hpp"
#include "tools/benchmark/crossing.hpp"
#include "tools/benchmark/habit_sections.hpp"
#include "tools/benchmark/reference.hpp"
#include "tools/simulate/adaptive.hpp"

#include <array>
#include <cmath>
#include <string>

// A person who comes back: an estimate from earlier, m = theta + 0.15 z, is multiplied into the prior.

namespace sipladder::benchmark {

namespace {

using simulate::Estimate;
using simulate::Person;
using Checkpoints = std::span<const std::size_t>;

constexpr double spread = 0.35;
constexpr double error_sd = 0.15;
constexpr std::array<std::size_t, 4> checkpoints{8, 12, 16, 24};

double earlier_estimate(const Person& person) {
    return person.truth.theta_log10 + error_sd * Random{derived(person.bottles, 31)}.normal();
}

std::vector<Estimate> own_run(const Person& person, Checkpoints at, const std::vector<double>& levels) {
    const double weight = spread * spread / (spread * spread + error_sd * error_sd);
    threshold::Prior prior = matched_engine_prior();
    prior.mean_log10 = weight * earlier_estimate(person);
    prior.sd_log10 = std::sqrt(weight) * error_sd;
    const simulate::Adaptive method(prior, levels, threshold::coarse_grid, threshold::Grid{151, 0.02, 12});
    return simulate::sitting(method, person, {.checkpoints = {at.begin(), at.end()}}).estimates;
}

std::vector<Estimate> plain_run(const Person& person, Checkpoints at, PlainPrior prior,
                                const std::vector<double>& levels) {
    const double m = earlier_estimate(person);
    for (std::size_t i = 0; i < prior.thetas.size(); ++i)
        prior.weights[i] *= std::exp(-0.5 * std::pow((prior.thetas[i] - m) / error_sd, 2));
    return PlainReference(prior, levels).run(person, at);
}

}  // namespace

void add_history(Report& report, const Run& run) {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    const PlainPrior population = matched_prior(spread, 5, 3);
    const std::vector<Method> methods{
        {"Sipladder", true,
         [&](const Person& person, Checkpoints at) { return own_run(person, at, levels); }},
        {"plain reference", true,
         [&](const Person& person, Checkpoints at) { return plain_run(person, at, population, levels); }}};
    const auto found = outcomes("own history", {}, methods, checkpoints, run);
    Table table{"history",
                "A person who comes back, known from before with an SD of 0.15: after so many presentations",
                "",
                {},
                {}};
    for (const char* what : {"RMSE ", "coverage "})
        for (const std::size_t n : checkpoints) table.columns.push_back(what + std::to_string(n));
    for (std::size_t m = 0; m < methods.size(); ++m) {
        Row row{methods[m].name, {}};
        for (std::size_t k = 0; k < checkpoints.size(); ++k)
            row.cells.push_back(simulate::rmse_of(found[m].errors[k]));
        for (std::size_t k = 0; k < checkpoints.size(); ++k) row.cells.push_back(coverage_of(found[m], k));
        table.rows.push_back(std::move(row));
    }
    report.tables.push_back(std::move(table));
    report.goals.push_back(at_most("own history, RMSE after 8 presentations over the plain reference's",
                                   simulate::rmse_ratio(found[0].errors[0], found[1].errors[0]), 1.02));
    for (std::size_t k = 0; k < checkpoints.size(); ++k)
        report.goals.push_back(at_least("own history, coverage at " + std::to_string(checkpoints[k]),
                                        coverage_of(found[0], k), 0.93));
}

}  // namespace sipladder::benchmark
