#include "engine/threshold/certainty.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/threshold/estimate.hpp"
#include "engine/threshold/graded.hpp"
#include "engine/threshold/habit_likelihood.hpp"
#include "engine/threshold/habit_threshold.hpp"
#include "tests/support/within.hpp"
#include "tests/threshold/people.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <utility>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

Prior narrow_curves() {
    Prior prior;
    prior.kind = Prior::Kind::normal;
    prior.sd_log10 = 0.35;
    prior.width_ln_sd = 0.2;
    prior.lapses = {{0.0, 0.5}, {0.03, 0.5}};
    return prior;
}

/// Right or wrong by the curve, certainty by the lead of the strongest percept, or drawn at random.
Answered answer_of(const Curve& truth, double first, double spacing, bool is_empty, std::size_t level,
                   double x, Random& random) {
    const double clear = random.normal() + perceived_distance(truth, x);
    std::array<double, 3> percepts{clear, random.normal(), random.normal()};
    const bool correct = clear > std::max(percepts[1], percepts[2]);
    std::sort(percepts.begin(), percepts.end());
    const double lead = percepts[2] - percepts[1];
    const double word = random.uniform();
    const std::size_t sure = is_empty ? (word < 0.35 ? 2U : (word < 0.7 ? 1U : 0U))
                                      : (lead > first + spacing ? 2U : (lead > first ? 1U : 0U));
    return {level, correct, static_cast<Certainty>(sure)};
}

std::vector<Answered> answers_of(const solution::MixedLadder& ladder, const Curve& truth, bool is_empty,
                                 std::size_t rounds, Random& random) {
    std::vector<Answered> answers;
    const std::vector<double> levels = levels_log10(ladder);
    for (std::size_t i = 0; i < rounds; ++i)
        for (std::size_t level = 0; level < levels.size(); ++level)
            answers.push_back(answer_of(truth, 0.7, 1.0, is_empty, level, levels[level], random));
    return answers;
}

std::vector<Answered> without_certainty(std::vector<Answered> answers) {
    for (Answered& answer : answers) answer.certainty.reset();
    return answers;
}

}  // namespace

TEST_CASE("certainty of a Gaussian lead is foreseen as often as percepts drawn at random show it") {
    const auto model = certainty_model();
    Random random{Seed{3}};
    constexpr std::size_t distance = 60;  // d' = 1.2
    std::array<double, 6> counted{};
    constexpr int draws = 60'000;
    for (int i = 0; i < draws; ++i) {
        const double clear = random.normal() + 1.2;
        std::array<double, 3> percepts{clear, random.normal(), random.normal()};
        const bool correct = clear > std::max(percepts[1], percepts[2]);
        std::sort(percepts.begin(), percepts.end());
        const double lead = percepts[2] - percepts[1];
        const auto sure =
            lead > 1.67 ? Certainty::sure : (lead > 0.75 ? Certainty::leaning : Certainty::guessed);
        counted.at(outcome_of(correct, sure)) += 1.0 / draws;
    }
    constexpr std::size_t habit = 2 * 5 + 2;  // first cut 0.75, spacing 0.92
    double sum = 0.0;
    for (std::size_t o = 0; o < 6; ++o) {
        const double share = model->shares[(distance * model->habits + habit) * model->lanes + o];
        sum += share;
        CHECK(within(share, counted[o], 4.0 * std::sqrt(counted[o] / draws) + 1e-5));
    }
    CHECK(within(sum, 1.0, 1e-5));
}

TEST_CASE("answers without certainty give the threshold of right and wrong alone") {
    Random random{Seed{8}};
    const solution::MixedLadder ladder = exact_ladder(8, 2.0, 0.05, 0.03);
    const auto answers = without_certainty(answers_of(ladder, {0.1, 0.8, 0.02}, false, 3, random));
    const Threshold plain = threshold::threshold(ladder, answers, narrow_curves(), three_afc);
    const CertaintyFit fit = certainty_threshold(ladder, answers, narrow_curves());
    CHECK(fit.with_certainty == 0);
    CHECK(fit.text.empty());
    CHECK(within(fit.threshold.log10, plain.log10, 0.004));
    CHECK(within(fit.threshold.sd_log10, plain.sd_log10, 0.003));
    CHECK(within(fit.threshold.lower_log10, plain.lower_log10, 0.01));
    CHECK(within(fit.threshold.upper_log10, plain.upper_log10, 0.01));
    CHECK(within(fit.threshold.mixing_sd_log10, plain.mixing_sd_log10, 0.002));
    CHECK(within(fit.threshold.log_evidence, plain.log_evidence, 0.02));
    CHECK(fit.threshold.warnings.size() == plain.warnings.size());
}

TEST_CASE("certainty that follows the percept narrows the interval, and empty certainty is found out") {
    Random random{Seed{12}};
    const solution::MixedLadder ladder = exact_ladder(8, 2.0);
    double gained = 0.0;
    double lost = 0.0;
    double informative = 0.0;
    double hollow_informative = 0.0;
    constexpr int people = 10;
    for (int i = 0; i < people; ++i) {
        const Curve truth{0.3 * random.normal(), 0.8, 0.02};
        const auto meant = answers_of(ladder, truth, false, 5, random);
        const auto empty = answers_of(ladder, truth, true, 5, random);
        const CertaintyFit with = certainty_threshold(ladder, meant, narrow_curves());
        const CertaintyFit hollow = certainty_threshold(ladder, empty, narrow_curves());
        informative += with.informative / people;
        hollow_informative += hollow.informative / people;
        gained += with.threshold.sd_log10 /
                  certainty_threshold(ladder, without_certainty(meant), narrow_curves()).threshold.sd_log10;
        lost += hollow.threshold.sd_log10 /
                certainty_threshold(ladder, without_certainty(empty), narrow_curves()).threshold.sd_log10;
    }
    CHECK(informative > 0.8);
    CHECK(hollow_informative < 0.5);
    CHECK(gained / people < 0.9);
    CHECK(lost / people < 1.08);
    CHECK(lost / people > 0.92);
}

namespace {

HabitAnswers as_told(const solution::MixedLadder& ladder, const std::vector<Answered>& answers) {
    HabitAnswers told{HabitAnswers::By::certainty, {}};
    for (const Answered& answer : answers)
        told.answers.push_back(
            {levels_log10(ladder)[answer.level], outcome_of(answer.correct, answer.certainty), 0.02});
    return told;
}

/// Theta probabilities of a likelihood under the grid's own prior.
std::vector<double> with_prior(const GridLikelihood& grid, const GridLikelihood::Cells& cells) {
    std::vector<double> thetas(grid.thetas().size(), 0.0);
    const double* cell = cells.values.data();
    for (const double width : grid.width_weights())
        for (const double lapse : grid.lapse_weights())
            for (double& at : thetas) at += width * lapse * *cell++;
    double total = 0.0;
    for (std::size_t t = 0; t < thetas.size(); ++t) total += thetas[t] *= grid.theta_weights()[t];
    for (double& at : thetas) at /= total;
    return thetas;
}

}  // namespace

TEST_CASE("the likelihood of answers with habits is their posterior, as claimed, less its prior") {
    Random random{Seed{31}};
    const solution::MixedLadder ladder = exact_ladder(8, 2.0);
    const auto answers = answers_of(ladder, {0.1, 0.8, 0.02}, false, 2, random);
    const Grid fineness{2, 0.04, 6};
    const GridLikelihood grid(Posterior(narrow_curves(), three_afc, fineness));
    HabitLikelihood habits(narrow_curves(), fineness);
    const HabitLikelihood::Found found = habits.of(as_told(ladder, answers));
    HabitPosterior posterior(certainty_model(), narrow_curves(), fineness);
    for (const Answered& answer : answers)
        posterior.update(Log10Level{levels_log10(ladder)[answer.level]},
                         outcome_of(answer.correct, answer.certainty));
    const std::vector<double> claimed = posterior.claimed_marginals();
    const std::vector<double> thetas = with_prior(grid, found.cells);
    double apart = 0.0;
    for (std::size_t t = 0; t < claimed.size(); ++t)
        apart = std::max(apart, std::abs(thetas[t] - claimed[t]));
    CHECK(apart < 1e-6);
    CHECK(*std::max_element(found.cells.values.begin(), found.cells.values.end()) == 1.0);
    // A second set of answers multiplies as if it had been asked with the first, but for a habit of its own.
    GridLikelihood::Cells twice = found.cells;
    multiply(twice, found.cells);
    CHECK(within(twice.log_scale, 2.0 * found.cells.log_scale, 1e-9));
    CHECK(estimate_of(grid.thetas(), grid.theta_step(), with_prior(grid, twice)).sd_log10 <
          0.85 * estimate_of(grid.thetas(), grid.theta_step(), thetas).sd_log10);
}

TEST_CASE("answers with habits that say no more than right or wrong are those counts, rung errors too") {
    Random random{Seed{32}};
    const solution::MixedLadder ladder = exact_ladder(8, 2.0, 0.05, 0.03);
    const auto answers = without_certainty(answers_of(ladder, {0.1, 0.8, 0.02}, false, 3, random));
    const Grid fineness{2, 0.03, 10};
    GridLikelihood grid(Posterior(narrow_curves(), three_afc, fineness));
    HabitLikelihood habits(narrow_curves(), fineness);
    const std::vector<Counts> counts = counts_of(ladder, answers);
    const GridLikelihood::Cells plain = grid.of(counts);
    HabitAnswers told = as_told(ladder, answers);
    for (HabitAnswer& answer : told.answers) answer.u_own_log10 = counts.front().u_own_log10;
    const std::vector<HabitLikelihood::Found> found{habits.of(told)};
    const std::vector<double> thetas = with_prior(grid, plain);
    const Estimate by_counts = estimate_of(grid.thetas(), grid.theta_step(), thetas);
    const Estimate by_habits =
        estimate_of(grid.thetas(), grid.theta_step(), with_prior(grid, found.front().cells));
    CHECK(within(by_habits.log10, by_counts.log10, 0.004));
    CHECK(within(by_habits.sd_log10, by_counts.sd_log10, 0.003));
    CHECK(within(found.front().cells.log_scale, plain.log_scale, 0.05));
    const double one_way = rung_error(rung_slopes(grid, thetas, counts, {}, 0.8, 0.015));
    const double other_way = rung_error(rung_slopes(grid, thetas, {}, found, 0.8, 0.015));
    CHECK(one_way > 0.005);
    CHECK(within(other_way, one_way, 0.05 * one_way));
    // The same rung in both kinds of answers errs once: its parts add before they are squared.
    const auto both = rung_slopes(grid, thetas, counts, found, 0.8, 0.015);
    CHECK(within(rung_error(both), one_way + other_way, 0.01 * one_way));
}

TEST_CASE("answers with habits that cannot be are refused") {
    HabitLikelihood habits(narrow_curves(), Grid{2, 0.1, 4});
    using By = HabitAnswers::By;
    CHECK_THROWS_WITH_AS(habits.of({By::grades, {}}), "answers: there are none; at least one answer",
                         Refused);
    CHECK_THROWS_WITH_AS(habits.of({By::certainty, {{std::nullopt, 0}}}),
                         "level: is a blank; blanks stand beside graded cups only", Refused);
    CHECK_THROWS_AS(habits.of({By::grades, {{std::nullopt, 4}}}), Refused);
    CHECK_THROWS_AS(habits.of({By::certainty, {{0.0, 8}}}), Refused);
    CHECK_THROWS_AS(habits.of({By::certainty, {{std::nan(""), 0}}}), Refused);
    CHECK_THROWS_AS(habits.of({By::certainty, {{0.0, 0, -0.1}}}), Refused);
    CHECK(habits.of({By::grades, {{std::nullopt, 3}, {0.0, 3}}}).rungs.size() == 1);
}

TEST_CASE("posterior with habits sums to 1, and order of answers does not matter where no habit wanders") {
    const Prior prior = narrow_curves();
    HabitPosterior forth = certainty_posterior(prior, Fineness::coarse);
    HabitPosterior back = forth;
    const std::vector<std::pair<double, std::size_t>> answers{
        {-0.5, 3}, {0.1, 0}, {0.4, 2}, {0.1, 6}, {0.0, 5}};
    for (const auto& [x, outcome] : answers) forth.update(Log10Level{x}, outcome);
    for (auto it = answers.rbegin(); it != answers.rend(); ++it)
        back.update(Log10Level{it->first}, it->second);
    double sum = 0.0;
    for (const double mass : forth.theta_marginals()) sum += mass;
    CHECK(within(sum, 1.0, 1e-9));
    CHECK(within(forth.mean(), back.mean(), 1e-5));
    CHECK(within(forth.log_evidence(), back.log_evidence(), 1e-4));
    const HabitChooser chooser(forth, std::vector<double>{-0.6, -0.1, 0.4});
    for (const Foreseen& ahead : chooser.foresee(forth)) {
        double all = 0.0;
        for (const double share : ahead.shares) all += share;
        CHECK(within(all, 1.0, 1e-4));
        CHECK(ahead.entropy > 0.0);
    }
}

TEST_CASE("what is foreseen of a level is what its answers then bring") {
    HabitPosterior posterior = certainty_posterior(narrow_curves(), Fineness::coarse);
    for (const std::size_t outcome : {0U, 4U, 2U, 5U}) posterior.update(Log10Level{0.1}, outcome);
    const HabitChooser chooser(posterior, std::vector<double>{0.2});
    const Foreseen ahead = chooser.foresee(posterior).front();
    double entropy = 0.0;
    for (std::size_t o = 0; o < 6; ++o) {
        HabitPosterior after = posterior;
        after.update(Log10Level{0.2}, o);
        CHECK(within(std::exp(after.log_evidence() - posterior.log_evidence()), ahead.shares[o], 1e-5));
        for (const double mass : after.theta_marginals())
            if (mass > 0.0) entropy -= ahead.shares[o] * mass * std::log(mass);
    }
    CHECK(within(ahead.entropy, entropy, 1e-4));
}

TEST_CASE("what is claimed is what the guard would have found from the same answers") {
    const Prior prior = narrow_curves();
    HabitPosterior likely = certainty_posterior(prior, Fineness::coarse);
    auto as_guard = std::make_shared<HabitModel>(likely.model());
    as_guard->prior = as_guard->guard;
    as_guard->guard.clear();
    HabitPosterior guarded(as_guard, prior, coarse_habit_grid);
    CHECK(guarded.claimed_marginals() ==
          std::vector<double>(guarded.theta_marginals().begin(), guarded.theta_marginals().end()));
    for (const auto& [x, outcome] : std::vector<std::pair<double, std::size_t>>{
             {-0.5, 3}, {0.1, 0}, {0.4, 2}, {0.1, 1}, {0.0, 5}, {0.3, 4}, {0.2, 2}}) {
        likely.update(Log10Level{x}, outcome);
        guarded.update(Log10Level{x}, outcome);
    }
    const std::vector<double> claimed = likely.claimed_marginals();
    double sum = 0.0;
    double apart = 0.0;
    for (std::size_t t = 0; t < claimed.size(); ++t) {
        sum += claimed[t];
        apart = std::max(apart, std::abs(claimed[t] - guarded.theta_marginals()[t]));
    }
    CHECK(within(sum, 1.0, 1e-9));
    CHECK(apart < 1e-5);
    CHECK(within(likely.quantile(0.975), guarded.quantile(0.975), 1e-4));
    CHECK(likely.mean() != guarded.mean());  // the value is that of the likely habits
    const double off = likely.mean() - guarded.mean();
    CHECK(within(likely.sd(), std::hypot(guarded.sd(), off), 1e-4));
}
