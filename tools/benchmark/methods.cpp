#include "tools/benchmark/methods.hpp"

#include "engine/threshold/best_estimate.hpp"
#include "tools/benchmark/constant_stimuli.hpp"
#include "tools/benchmark/joint_entropy.hpp"
#include "tools/benchmark/quest.hpp"
#include "tools/benchmark/reference.hpp"
#include "tools/benchmark/staircase.hpp"
#include "tools/simulate/parallel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <memory>
#include <numeric>

namespace sipladder::benchmark {

namespace {

using simulate::Estimate;
using simulate::Person;
using Checkpoints = std::span<const std::size_t>;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr Estimate none{nan, nan, nan, nan};
constexpr double usual_width = 0.775;  // middle of the population, on a log scale
constexpr double usual_lapse = 0.03;   // its mean

std::vector<double> twelve() {
    return simulate::centred_ladder(12, 1.6);
}
std::vector<double> eight() {
    return simulate::centred_ladder(8, 2.0);
}

/// Asks `next(number)` for a level, tells `told(x, correct)`, and reports by `now()` at each checkpoint.
template <class Next, class Told, class Now>
std::vector<Estimate> served(const Person& person, Checkpoints checkpoints, Next next, Told told, Now now) {
    std::vector<Estimate> found;
    std::optional<double> before;
    for (std::size_t number = 0; number < checkpoints.back(); ++number) {
        const double x = next(number);
        const bool correct = simulate::response(person, number, x, before).correct;
        before = x;
        told(x, correct);
        if (number + 1 == checkpoints[found.size()]) found.push_back(now());
    }
    return found;
}

/// Ascending series, the best estimate of each run averaged; an interval by Student's t from two runs on.
Method ascending_series() {
    return {"ascending series, best estimate", false, [](const Person& person, Checkpoints checkpoints) {
                const std::vector<double> levels = eight();
                std::vector<bool> run;
                std::vector<double> estimates;
                std::size_t count = 0;
                return served(
                    person, checkpoints, [&](std::size_t number) { return levels[number % levels.size()]; },
                    [&](double, bool correct) {
                        run.push_back(correct);
                        ++count;
                        if (run.size() < levels.size()) return;
                        estimates.push_back(threshold::best_estimate(levels, run).log10);
                        run.clear();
                    },
                    [&]() -> Estimate {
                        if (count % levels.size() != 0) return none;
                        if (estimates.size() < 2) return {estimates.front(), nan, nan, nan};
                        const auto interval = mean_with_t_interval(estimates);
                        return {interval.value, *interval.lower, *interval.upper, nan};
                    });
            }};
}

Method staircase(const std::string& name, std::size_t right_for_down, double rungs_up, double offset) {
    const double rung = std::log10(1.6);
    StaircaseRule rule;
    rule.right_for_down = right_for_down;
    rule.step_up = rungs_up * rung;
    rule.step_down = rung;
    rule.first_up = 2.0 * rule.step_up;
    rule.first_down = 2.0 * rule.step_down;
    rule.start_log10 = twelve()[9];  // +0.71, well above the middle of the population
    rule.weakest_log10 = twelve().front();
    rule.strongest_log10 = twelve().back();
    return {name, false, [rule, offset](const Person& person, Checkpoints checkpoints) {
                Staircase stairs(rule);
                return served(
                    person, checkpoints, [&](std::size_t) { return stairs.level_log10(); },
                    [&](double, bool correct) { stairs.answer(correct); },
                    [&]() -> Estimate {
                        const MeanWithInterval found = estimate_of(stairs);
                        return {found.value - offset, found.lower.value_or(nan) - offset,
                                found.upper.value_or(nan) - offset, nan};
                    });
            }};
}

/// How far above the threshold a rule comes to rest, for the middle of the population.
double offset_of(std::size_t right_for_down) {
    const double risen = (target_share(right_for_down) - 1.0 / 3.0) / (2.0 / 3.0 - usual_lapse);
    return usual_width / threshold::width_in_s(threshold::Shape::logistic) * std::log(risen / (1.0 - risen));
}

Method constant_stimuli(const std::string& name, double lapse) {
    const auto likelihood = std::make_shared<GridLikelihood>(eight(), lapse);
    return {name, false, [likelihood](const Person& person, Checkpoints checkpoints) {
                constexpr std::array<std::size_t, 8> order{0, 2, 4, 6, 1, 3, 5, 7};
                const std::vector<double> levels = eight();
                std::vector<std::size_t> right(levels.size(), 0);
                std::vector<std::size_t> asked(levels.size(), 0);
                std::size_t level = 0;
                return served(
                    person, checkpoints,
                    [&](std::size_t number) {
                        level = order[number % order.size()];
                        return levels[level];
                    },
                    [&](double, bool correct) {
                        ++asked[level];
                        if (correct) ++right[level];
                    },
                    [&] { return likelihood->fit(right, asked); });
            }};
}

Method quest(const std::string& name, double prior_sd, bool ladder_only) {
    QuestParameters parameters;
    parameters.guess = 0.0;
    parameters.guess_sd = prior_sd;
    parameters.gamma = 1.0 / 3.0;
    parameters.delta = 0.02;
    // Steepness of a Weibull curve in log10 with the usual 10 to 90 % width; its middle is the threshold.
    parameters.beta = std::log10(std::log(0.1) / std::log(0.9)) / usual_width;
    parameters.p_threshold = parameters.delta * parameters.gamma +
                             (1.0 - parameters.delta) * (1.0 - (1.0 - parameters.gamma) * 0.5);
    parameters.grain = 0.02;
    parameters.range = 6.0;
    const auto start = std::make_shared<const Quest>(parameters);
    return {name, prior_sd < 0.5, [start, ladder_only](const Person& person, Checkpoints checkpoints) {
                Quest quest = *start;
                const std::vector<double> levels = twelve();
                return served(
                    person, checkpoints,
                    [&](std::size_t) {
                        const double wanted = quest.recommended();
                        if (!ladder_only) return wanted;
                        return *std::min_element(levels.begin(), levels.end(), [&](double a, double b) {
                            return std::abs(a - wanted) < std::abs(b - wanted);
                        });
                    },
                    [&](double x, bool correct) { quest.update(x, correct); },
                    [&]() -> Estimate {
                        return {quest.mean(), quest.quantile(0.025), quest.quantile(0.975), quest.sd()};
                    });
            }};
}

/// Posterior over thresholds of a grid whose blocks belong to one threshold each.
Estimate of_cells(std::span<const double> thetas, double step, std::span<const double> cells) {
    const std::size_t block = cells.size() / thetas.size();
    std::vector<double> marginal(thetas.size(), 0.0);
    for (std::size_t i = 0; i < cells.size(); ++i) marginal[i / block] += cells[i];
    double mean = 0.0;
    double square = 0.0;
    for (std::size_t t = 0; t < thetas.size(); ++t) {
        mean += marginal[t] * thetas[t];
        square += marginal[t] * thetas[t] * thetas[t];
    }
    return {mean, threshold::cell_quantile(thetas, step, marginal, 0.025),
            threshold::cell_quantile(thetas, step, marginal, 0.975),
            std::sqrt(std::max(square - mean * mean, 0.0))};
}

struct JointSetup {
    JointGrid grid;
    std::vector<std::vector<double>> right;
    JointChooser chooser;
};

Method joint_entropy(const std::string& name, bool flat) {
    const PlainPrior prior = matched_prior(0.35);
    JointGrid grid;
    grid.thetas = prior.thetas;
    // The nodes run width by width, each with every lapse.
    for (const Node& node : prior.nodes) {
        if (grid.widths.empty() || grid.widths.back() != node.width) grid.widths.push_back(node.width);
        if (grid.widths.size() == 1) grid.lapses.push_back(node.lapse);
    }
    double total = 0.0;
    for (const double weight : prior.weights)
        for (const Node& node : prior.nodes) {
            grid.cells.push_back(node.weight * (flat ? 1.0 : weight));
            total += grid.cells.back();
        }
    for (double& cell : grid.cells) cell /= total;
    const std::vector<double> levels = twelve();
    const auto setup = std::make_shared<const JointSetup>(
        JointSetup{grid, right_probabilities(grid, levels), JointChooser{grid, levels}});
    return {name, !flat, [setup, levels](const Person& person, Checkpoints checkpoints) {
                std::vector<double> cells = setup->grid.cells;
                std::size_t level = 0;
                const double step = setup->grid.thetas[1] - setup->grid.thetas[0];
                return served(
                    person, checkpoints,
                    [&](std::size_t) {
                        level = setup->chooser.choose(cells);
                        return levels[level];
                    },
                    [&](double, bool correct) { answer(cells, setup->right[level], correct); },
                    [&] { return of_cells(setup->grid.thetas, step, cells); });
            }};
}

/// Largest Fisher information of one 3-AFC answer about the threshold, over all levels.
double most_information(const threshold::Curve& curve) {
    double most = 0.0;
    const double s = curve.width_log10 / threshold::width_in_s(threshold::Shape::logistic);
    for (int i = -200; i <= 400; ++i) {
        const double z = 0.01 * i;
        const double slope =
            (2.0 / 3.0 - curve.lapse) * threshold::rise_density(z, threshold::Shape::logistic) / s;
        const double p = threshold::right_probability(curve, threshold::three_afc, curve.theta_log10 + z * s);
        most = std::max(most, slope * slope / (p * (1.0 - p)));
    }
    return most;
}

}  // namespace

threshold::Prior matched_engine_prior(double sd_log10) {
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::normal;
    prior.name = "the simulated population's own";
    prior.sd_log10 = sd_log10;
    prior.width_lower = 0.5;
    prior.width_upper = 1.2;
    prior.width_ln_sd = 1e6;  // log-uniform between the cuts
    constexpr std::size_t nodes = 6;
    prior.lapses = threshold::beta_lapses(1.5, 48.5, nodes);
    return prior;
}

threshold::Prior shipped_engine_prior() {
    threshold::Prior prior;
    prior.name = "as shipped";
    prior.sd_log10 = 0.35;
    return prior;
}

Method own_method(std::string name, const threshold::Prior& prior, const std::vector<double>& levels_log10,
                  const threshold::Grid& reporting, bool varied) {
    const auto method =
        std::make_shared<const simulate::Adaptive>(prior, levels_log10, threshold::coarse_grid, reporting);
    return {std::move(name), prior.kind == threshold::Prior::Kind::normal,
            [method, varied](const Person& person, Checkpoints checkpoints) {
                simulate::SittingRules rules;
                rules.checkpoints.assign(checkpoints.begin(), checkpoints.end());
                rules.varied = varied;
                return simulate::sitting(*method, person, rules).estimates;
            }};
}

namespace {

Method reference(std::string name, const PlainPrior& prior, const std::vector<double>& levels_log10,
                 bool matched) {
    const auto plain = std::make_shared<const PlainReference>(prior, levels_log10);
    return {std::move(name), matched, [plain](const Person& person, Checkpoints checkpoints) {
                return plain->run(person, checkpoints);
            }};
}

}  // namespace

Method matched_reference(const std::vector<double>& levels_log10) {
    return reference("plain reference, matched prior", matched_prior(0.35), levels_log10, true);
}

Method wide_reference(const std::vector<double>& levels_log10) {
    return reference("plain reference, wide prior", wide_prior(), levels_log10, false);
}

std::vector<Method> published_methods() {
    return {ascending_series(),
            staircase("1 up 2 down, mean of reversals", 2, 1.0, 0.0),
            staircase("  less its offset", 2, 1.0, offset_of(2)),
            staircase("1 up 3 down, mean of reversals", 3, 1.0, 0.0),
            staircase("  less its offset", 3, 1.0, offset_of(3)),
            staircase("weighted up-down, 2 rungs up, 1 down", 1, 2.0, 0.0),
            constant_stimuli("constant stimuli, likelihood fit, lapse 0", 0.0),
            constant_stimuli("constant stimuli, likelihood fit, lapse 0.02", 0.02),
            quest("QUEST, vague prior, any level", 1.0, false),
            quest("QUEST, vague prior, ladder", 1.0, true),
            quest("QUEST, population prior, any level", 0.35, false),
            quest("QUEST, population prior, ladder", 0.35, true),
            joint_entropy("expected joint entropy, flat prior", true),
            joint_entropy("expected joint entropy, population prior", false)};
}

Method floor_in_practice() {
    const PlainPrior prior = matched_prior(0.35);
    std::vector<double> anywhere;
    for (int i = -30; i <= 30; ++i) anywhere.push_back(0.06 * i);
    return {"floor in practice: own slope and lapse known, any level", true,
            [prior, anywhere](const Person& person, Checkpoints checkpoints) {
                PlainPrior own = prior;
                own.nodes = {{person.truth.width_log10, person.truth.lapse, 1.0}};
                return PlainReference(own, anywhere).run(person, checkpoints);
            }};
}

double bound(std::size_t presentations, double theta_sd) {
    constexpr std::size_t widths = 40;
    constexpr std::size_t lapses = 20;
    double variance = 0.0;
    for (const Node& node : matched_prior(theta_sd, widths, lapses).nodes) {
        const double information = most_information({0.0, node.width, node.lapse});
        variance += 1.0 / (static_cast<double>(presentations) * information + 1.0 / (theta_sd * theta_sd));
    }
    return std::sqrt(variance / static_cast<double>(widths * lapses));
}

std::vector<Outcome> outcomes(const std::string& what, const simulate::Population& population,
                              const std::vector<Method>& methods, Checkpoints checkpoints, const Run& run) {
    const Outcome blank{
        std::vector<std::vector<double>>(checkpoints.size(), std::vector<double>(run.people, nan)),
        std::vector<std::vector<char>>(checkpoints.size(), std::vector<char>(run.people, 2)),
        std::vector<std::vector<double>>(checkpoints.size(), std::vector<double>(run.people, nan))};
    std::vector<Outcome> result(methods.size(), blank);
    const auto ask = [&](std::size_t i) {
        const Person person = simulate::person_of(population, run.seed, i, checkpoints.back());
        for (std::size_t m = 0; m < methods.size(); ++m) {
            const std::vector<Estimate> found = methods[m].run(person, checkpoints);
            for (std::size_t k = 0; k < checkpoints.size(); ++k) {
                const double truth = simulate::target(person, checkpoints[k]);
                result[m].errors[k][i] = found[k].value - truth;
                result[m].sds[k][i] = found[k].sd;
                if (!std::isnan(found[k].lower))
                    result[m].hits[k][i] = found[k].lower <= truth && truth <= found[k].upper ? 1 : 0;
            }
        }
    };
    simulate::for_each_index(run.people, run.threads, ask, [&](std::size_t done) {
        if (run.progress) run.progress(what, done, run.people);
    });
    return result;
}

bool has_estimates(const Outcome& outcome, std::size_t checkpoint) {
    return std::none_of(outcome.errors[checkpoint].begin(), outcome.errors[checkpoint].end(),
                        [](double error) { return std::isnan(error); });
}

simulate::Figure coverage_of(const Outcome& outcome, std::size_t checkpoint) {
    std::vector<char> with_interval;
    for (const char hit : outcome.hits[checkpoint])
        if (hit != 2) with_interval.push_back(hit);
    if (with_interval.empty()) return {nan, nan};
    return simulate::share_of(with_interval);
}

}  // namespace sipladder::benchmark
