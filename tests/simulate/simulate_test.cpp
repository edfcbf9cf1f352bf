#include "engine/problem.hpp"
#include "tests/drills/people.hpp"
#include "tests/support/within.hpp"
#include "tools/benchmark/joint_entropy.hpp"
#include "tools/benchmark/methods.hpp"
#include "tools/benchmark/reference.hpp"
#include "tools/simulate/adaptive.hpp"
#include "tools/simulate/crowd.hpp"
#include "tools/simulate/drill_run.hpp"
#include "tools/simulate/figures.hpp"
#include "tools/simulate/parallel.hpp"

#include <doctest/doctest.h>

#include <array>
#include <atomic>
#include <cmath>
#include <stdexcept>
#include <vector>

using namespace sipladder;
using namespace sipladder::simulate;
using sipladder::tests::within;

TEST_CASE("simulated people are spread as asked, and the same whoever asks") {
    const Population population;
    std::vector<double> thetas;
    std::vector<double> ln_widths;
    std::vector<double> lapses;
    for (std::size_t i = 0; i < 4000; ++i) {
        const Person person = person_of(population, Seed{5}, i, 3);
        thetas.push_back(person.truth.theta_log10);
        ln_widths.push_back(std::log(person.truth.width_log10));
        lapses.push_back(person.truth.lapse);
        const Person again = person_of(population, Seed{5}, i, 7);
        CHECK(again.truth.theta_log10 == person.truth.theta_log10);
        CHECK(again.luck[2].answer == person.luck[2].answer);
    }
    CHECK(std::abs(mean_of(thetas).value) < 4.0 * 0.35 / std::sqrt(4000.0));
    CHECK(within(rmse_of(thetas).value, 0.35, 0.0, 0.05));
    CHECK(within(mean_of(ln_widths).value, 0.5 * std::log(0.5 * 1.2), 0.02));
    CHECK(within(mean_of(lapses).value, 0.03, 0.002));  // Beta(1.5, 48.5)
    std::vector<double> off;
    for (const double lapse : lapses) off.push_back(lapse - 0.03);
    CHECK(within(rmse_of(off).value, 0.0239, 0.002));
}

TEST_CASE("a picked place is right as often as the curve says, whatever habit there is none of") {
    const threshold::Curve curve{0.1, 0.8, 0.06};
    for (const double x : {-0.8, 0.0, 0.1, 0.5, 1.5}) {
        const auto shares = drills::pick_probabilities(curve, {}, x, 1);
        CHECK(within(shares[1], threshold::right_probability(curve, threshold::three_afc, x), 1e-12));
        CHECK(within(shares[0] + shares[1] + shares[2], 1.0, 1e-12));
        drills::Habits none;
        none.place_bias = std::make_shared<const drills::PlaceBias>(0.0);
        CHECK(within(drills::pick_probabilities(curve, none, x, 1)[1], shares[1], 1e-4));
    }
}

TEST_CASE("a leaning towards a place is what signal detection says") {
    // Blanks only: the favoured cup is picked with the integral of phi(z - 1) Phi(z)^2, which is the share
    // right of a three-alternative choice at d' = 1, 0.634 in print.
    drills::Habits habits;
    habits.place_bias = std::make_shared<const drills::PlaceBias>(1.0);
    habits.favoured_place = 2;
    const auto shares = drills::pick_probabilities({0.0, 0.8, 0.0}, habits, -20.0, 0);
    CHECK(within(shares[2], 0.634, 0.001));
    CHECK(within(shares[0], shares[1], 1e-3));
    CHECK(within(shares[0] + shares[1] + shares[2], 1.0, 1e-6));
}

TEST_CASE("fatigue moves the threshold and its target, carry-over follows a clear cup only") {
    Population population;
    population.habits.fatigue_log10 = 0.02;
    population.habits.carry_over_log10 = 0.15;
    const Person person = person_of(population, Seed{9}, 0, 4);
    CHECK(within(target(person, 5), person.truth.theta_log10 + 0.04, 1e-12));
    const double theta = person.truth.theta_log10;
    CHECK(within(drills::theta_now(person.truth, person.habits, 0, std::nullopt), theta, 1e-12));
    CHECK(within(drills::theta_now(person.truth, person.habits, 3, theta + 0.1), theta + 0.06, 1e-12));
    CHECK(within(drills::theta_now(person.truth, person.habits, 3, theta + 0.3), theta + 0.21, 1e-12));
}

TEST_CASE("figures and their standard errors are those of the textbook") {
    const std::array<double, 4> errors{1.0, -1.0, 3.0, -3.0};
    CHECK(within(rmse_of(errors).value, std::sqrt(5.0), 1e-12));
    // Squares 1, 1, 9, 9: SD 4.6188, SE of their mean 2.3094, over 2 RMSE.
    CHECK(within(rmse_of(errors).standard_error, 2.309401 / (2.0 * std::sqrt(5.0)), 1e-6));
    CHECK(within(rmse_ratio(errors, errors).value, 1.0, 1e-12));
    CHECK(
        within(rmse_ratio(errors, errors).standard_error, 0.0, 1e-12));  // paired: nothing is left to chance
    std::vector<double> doubled;
    for (const double error : errors) doubled.push_back(2.0 * error);
    CHECK(within(rmse_ratio(doubled, errors).value, 2.0, 1e-12));
    CHECK(within(rmse_difference(doubled, errors).value, std::sqrt(5.0), 1e-12));
    const std::array<char, 4> hits{1, 1, 1, 0};
    CHECK(within(share_of(hits).value, 0.75, 1e-12));
    CHECK(within(share_of(hits).standard_error, std::sqrt(0.25 * 0.75 / 3.0), 1e-12));
}

TEST_CASE("work shared between threads gives the same for any number of them") {
    const auto sums = [](std::size_t threads) {
        std::vector<double> found(50);
        for_each_index(found.size(), threads, [&](std::size_t i) {
            const Person person = person_of({}, Seed{3}, i, 6);
            found[i] = person.truth.theta_log10 + person.luck[5].answer;
        });
        return found;
    };
    CHECK(sums(1) == sums(4));
    std::atomic<int> done{0};
    CHECK_THROWS_WITH_AS(for_each_index(20, 3,
                                        [&](std::size_t i) {
                                            ++done;
                                            if (i == 7) throw std::runtime_error("seven");
                                        }),
                         "seven", std::runtime_error);
    CHECK(done <= 20);
    for_each_index(0, 3, [](std::size_t) { throw std::runtime_error("never"); });
}

TEST_CASE("drills fitted on several threads at once give what one thread gives") {
    DrillRun run;
    run.plan = tests::plan_of(4, 3.0, 4, 4, drills::Blinding::served);
    run.assessors = 6;
    run.threads = 3;
    const DrillFigures three = run_drill(run);
    run.threads = 1;
    CHECK(three.rmse_log10.value == run_drill(run).rmse_log10.value);
}

TEST_CASE("the quick choice by joint entropy is the textbook's") {
    benchmark::JointGrid grid;
    for (int i = -15; i <= 15; ++i) grid.thetas.push_back(0.1 * i);
    grid.widths = {0.5, 0.8, 1.2};
    grid.lapses = {0.0, 0.03, 0.1};
    for (const double theta : grid.thetas)
        for (int i = 0; i < 9; ++i) grid.cells.push_back(std::exp(-4.0 * theta * theta));
    double total = 0.0;
    for (const double cell : grid.cells) total += cell;
    for (double& cell : grid.cells) cell /= total;
    const std::vector<double> levels = centred_ladder(8, 2.0);
    const auto right = benchmark::right_probabilities(grid, levels);
    const benchmark::JointChooser chooser(grid, levels);
    Random random{Seed{4}};
    for (int step = 0; step < 30; ++step) {
        const std::size_t level = chooser.choose(grid.cells);
        CHECK(level == benchmark::textbook_choice(grid, right));
        benchmark::answer(grid.cells, right[level], random.uniform() < 0.65);
    }
}

TEST_CASE("the plain reference and the engine, written apart, agree on the same answers") {
    const std::vector<double> levels = centred_ladder(12, 1.6);
    const benchmark::PlainReference reference(benchmark::matched_prior(0.35), levels);
    const Adaptive method(benchmark::matched_engine_prior(), levels, threshold::coarse_grid,
                          threshold::fine_grid);
    std::vector<double> apart;
    for (std::size_t i = 0; i < 30; ++i) {
        const Person person = person_of({}, Seed{12}, i, 16);
        SittingRules rules{.checkpoints = {16}};
        rules.varied = false;
        const Estimate plain = reference.run(person, rules.checkpoints).front();
        const Estimate own = sitting(method, person, rules).estimates.front();
        apart.push_back(own.value - plain.value);
        CHECK(within(own.sd, plain.sd, 0.0, 0.25));
    }
    CHECK(rmse_of(apart).value < 0.06);  // a choice may fall the other way where two levels tell as much
    CHECK(std::abs(mean_of(apart).value) < 0.03);
}

TEST_CASE("a sitting keeps to its stock, its rules and its stop") {
    const std::vector<double> levels = centred_ladder(6, 3.0);
    const Adaptive method(benchmark::shipped_engine_prior(), levels, threshold::coarse_grid, {101, 0.05, 8});
    const Person person = person_of({}, Seed{31}, 0, 96);
    const Sitting short_of = sitting(method, person, {.checkpoints = {24}, .portions = {0, 2, 2, 2, 2, 0}});
    CHECK(short_of.tasted.size() == 8);
    CHECK(short_of.estimates.size() == 1);
    const Sitting stopped = sitting(method, person, {.checkpoints = {96}, .stop_sd = 0.15});
    CHECK(stopped.tasted.size() < 96);
    CHECK(stopped.estimates.front().sd <= 0.15);
}

TEST_CASE(
    "assessors through the real drill: the same for any number of threads, and each part of the truth "
    "shows") {
    DrillRun run;
    run.plan = tests::plan_of(6, 3.0, 8, 12, drills::Blinding::served);
    run.assessors = 24;
    run.seed = Seed{8};
    run.threads = 1;
    const DrillFigures one = run_drill(run);
    run.threads = 3;
    const DrillFigures three = run_drill(run);
    CHECK(one.rmse_log10.value == three.rmse_log10.value);
    CHECK(one.claimed_sd_log10.value == three.claimed_sd_log10.value);
    CHECK(one.warned.size() == three.warned.size());
    CHECK(one.presentations.value == 12.0);
    CHECK(one.cups.value == 36.0);
    CHECK(one.ended.at("all presentations done").value == 1.0);
    CHECK(one.rmse_log10.value < 0.5);

    DrillRun precise = run;
    precise.plan.stop_sd_log10 = 0.3;
    CHECK(run_drill(precise).presentations.value < 12.0);
    DrillRun hurried = run;
    hurried.plan.most_minutes = 10;  // 90 s to taste and 60 s of rest each
    const DrillFigures late = run_drill(hurried);
    CHECK(late.ended.at("time is over").value == 1.0);
    CHECK(late.presentations.value == 5.0);
    DrillRun scarce = run;
    for (auto& level : scarce.plan.ladder.levels) level.portions = 1;
    CHECK(run_drill(scarce).ended.at("stock is over").value == 1.0);
    DrillRun far = run;
    far.truth.theta_mean_log10 = 4.0;  // cannot taste any of it
    far.truth.theta_sd_log10 = 0.0;
    CHECK(run_drill(far).warned.at("guessing").value > 0.5);
    DrillRun wrong_bottles = run;
    wrong_bottles.truth.shared_error_rel = 0.9;
    CHECK(run_drill(wrong_bottles).rmse_log10.value > one.rmse_log10.value);
    run.plan.ladder.levels.clear();
    CHECK_THROWS_AS(run_drill(run), Refused);
}
