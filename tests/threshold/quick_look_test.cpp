#include "engine/threshold/quick_look.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/threshold/graded.hpp"
#include "engine/threshold/habit_threshold.hpp"
#include "tests/support/within.hpp"
#include "tests/threshold/people.hpp"

#include <doctest/doctest.h>

#include <numeric>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

Prior population() {
    Prior prior;
    prior.kind = Prior::Kind::normal;
    prior.sd_log10 = 0.35;
    prior.width_ln_sd = 0.25;
    prior.lapses = {{0.0, 0.5}, {0.03, 0.5}};
    return prior;
}

struct Taster {
    Curve truth{0.1, 0.8, 0.02};
    double first = 0.4;
    double spacing = 0.7;
    double walk = 0.0;
    double ratio = 1.0;

    std::size_t grade(std::optional<double> x, Random& random) {
        const double distance = x ? perceived_distance(truth, *x) : 0.0;
        const double noise = 1.0 + (ratio - 1.0) * std::min(1.0, 0.5 * distance);
        const double percept = distance + noise * random.normal();
        std::size_t grade = 0;
        while (grade < 3 && percept > first + spacing * static_cast<double>(grade)) ++grade;
        first += walk * random.normal();
        return grade;
    }
};

/// A drill that chooses, this many cups.
std::vector<GradedCup> sitting(Taster taster, const solution::MixedLadder& ladder, std::size_t cups,
                               Random& random) {
    const std::vector<double> levels = levels_log10(ladder);
    HabitPosterior posterior = graded_posterior(population(), Fineness::coarse);
    const std::vector<int> portions(levels.size(), 100);
    std::vector<GradedCup> served;
    while (served.size() < cups) {
        const auto next = next_graded_cup(posterior, levels, portions, served, random.uniform());
        const auto x = next->level ? std::optional(levels[*next->level]) : std::nullopt;
        served.push_back({next->level, taster.grade(x, random)});
        posterior.update(x ? std::optional(Log10Level{*x}) : std::nullopt, served.back().grade);
    }
    return served;
}

}  // namespace

TEST_CASE(
    "what a posterior tells of its parts agrees: each part alone with the whole, before answers with the "
    "prior") {
    HabitPosterior posterior = graded_posterior(population(), Fineness::coarse);
    const HabitModel& model = posterior.model();
    const std::size_t paces = model.hops.size();
    REQUIRE(paces > 1);
    std::vector<double> habits(model.habits, 0.0);
    std::vector<double> by_pace(paces, 0.0);
    for (std::size_t i = 0; i < model.prior.size(); ++i) {
        habits[i % model.habits] += static_cast<double>(model.prior[i]);
        by_pace[i / model.habits] += static_cast<double>(model.prior[i]);
    }
    static constexpr double single = 1e-5;  // of a sum of a million cells in single precision
    const auto check_same = [](const std::vector<double>& found, const std::vector<double>& wanted) {
        REQUIRE(found.size() == wanted.size());
        for (std::size_t i = 0; i < found.size(); ++i) CHECK(within(found[i], wanted[i], single));
    };
    check_same(posterior.habit_marginal(), habits);
    check_same(posterior.pace_marginal(), by_pace);
    for (const std::size_t outcome : {0U, 2U, 1U, 0U}) {
        posterior.update(Log10Level{0.4}, outcome);
        const std::vector<double> curves = posterior.curve_marginal();
        const std::size_t widths = posterior.widths().size();
        std::vector<double> thetas(posterior.thetas().size(), 0.0);
        for (std::size_t i = 0; i < curves.size(); ++i) thetas[i / widths] += curves[i];
        const auto marginals = posterior.theta_marginals();
        check_same(thetas, {marginals.begin(), marginals.end()});
        std::vector<double> claimed_curves(curves.size(), 0.0);
        std::vector<double> claimed_lapses(posterior.lapses().size(), 0.0);
        const std::vector<double> cells = posterior.claimed_cells();
        for (std::size_t i = 0; i < cells.size(); ++i) {
            claimed_curves[i / claimed_lapses.size()] += cells[i];
            claimed_lapses[i % claimed_lapses.size()] += cells[i];
        }
        REQUIRE(model.guard.empty());  // so that what is claimed is what is likely
        check_same(claimed_curves, curves);
        check_same(claimed_lapses, posterior.lapse_marginal());
        for (const auto& part : {posterior.habit_marginal(), posterior.pace_marginal()})
            CHECK(within(std::accumulate(part.begin(), part.end(), 0.0), 1.0, single));
    }
}

TEST_CASE("a quick look finds the threshold, and says how the grades were used") {
    Random random{Seed{5}};
    const solution::MixedLadder ladder = exact_ladder(12, 1.6);
    const auto cups = sitting({}, ladder, 72, random);
    const QuickLook look = quick_look(ladder, cups, population());
    CHECK(within(look.threshold.log10, 0.1, 0.25));
    CHECK(look.threshold.sd_log10 < 0.13);
    CHECK(look.threshold.lower_log10 < look.threshold.log10);
    CHECK(look.threshold.upper_log10 > look.threshold.log10);
    REQUIRE(look.cut_points.size() == 3);
    CHECK(within(look.spacing, 0.7, 0.3));
    CHECK(within(look.cut_points[1] - look.cut_points[0], look.spacing, 1e-9));
    CHECK(within(look.cut_points[0], 0.4, 0.6));
    CHECK(look.threshold.warnings.empty());
    std::size_t blanks = 0;
    for (const GradedCup& cup : cups) blanks += cup.level ? 0U : 1U;
    CHECK(blanks >= 12);
    CHECK(blanks <= 36);
}

TEST_CASE("fixed habits in order give what counts without order give") {
    Random random{Seed{9}};
    const solution::MixedLadder ladder = exact_ladder(8, 2.0);
    const std::vector<double> levels = levels_log10(ladder);
    Taster taster;
    std::vector<GradedCup> cups;
    std::vector<GradedCounts> counts{{std::nullopt, {0, 0, 0, 0}}};
    for (const double x : levels) counts.push_back({x, {0, 0, 0, 0}});
    for (int round = 0; round < 4; ++round)
        for (std::size_t i = 0; i < 12; ++i) {
            const auto level = i < 8 ? std::optional(i) : std::nullopt;
            const std::size_t grade = taster.grade(level ? std::optional(levels[i]) : std::nullopt, random);
            cups.push_back({level, grade});
            ++counts[level ? i + 1 : 0].grades[grade];
        }
    const QuickLook look = quick_look(ladder, cups, population());
    const GradedFit pooled = graded_threshold(counts, population(), Scale::g_per_L);
    CHECK(within(look.threshold.log10, pooled.threshold.log10, 0.05));
    CHECK(look.threshold.sd_log10 > 0.95 * pooled.threshold.sd_log10);
    CHECK(look.threshold.sd_log10 < 1.3 * pooled.threshold.sd_log10);
}

TEST_CASE("cuts that wander are noticed, and cuts that stay are not called wandering") {
    Random random{Seed{2}};
    const solution::MixedLadder ladder = exact_ladder(12, 1.6);
    Taster wandering;
    wandering.walk = 0.2;
    const auto pace_of = [&](const Taster& taster) {
        HabitPosterior posterior = graded_posterior(population(), Fineness::coarse);
        const std::vector<double> levels = levels_log10(ladder);
        const HabitChooser tables(posterior, levels);
        double quick = 0.0;
        for (int i = 0; i < 4; ++i) {
            HabitPosterior after = posterior;
            Taster now = taster;
            for (std::size_t cup = 0; cup < 80; ++cup) {
                const std::size_t level = 3 + cup % 8;
                if (cup % 3 == 0)
                    after.update(std::nullopt, now.grade(std::nullopt, random));
                else
                    after.update(tables.table(level), now.grade(levels[level], random));
            }
            quick += 0.25 * after.pace_marginal()[1];
        }
        return quick;
    };
    CHECK(pace_of(wandering) > 0.65);
    CHECK(pace_of({}) < 0.4);
}

TEST_CASE("3-AFC picks that fit the grades agree, and picks by chance at clear levels do not") {
    Random random{Seed{7}};
    const solution::MixedLadder ladder = exact_ladder(12, 1.6);
    const std::vector<double> levels = levels_log10(ladder);
    HabitPosterior posterior = graded_posterior(population(), Fineness::coarse);
    for (const GradedCup& cup : sitting({}, ladder, 48, random))
        posterior.update(cup.level ? std::optional(Log10Level{levels[*cup.level]}) : std::nullopt, cup.grade);
    const std::vector<int> portions(levels.size(), 8);
    const auto level = check_level(posterior, levels, portions);
    REQUIRE(level);
    const double right = right_probability({posterior.mean(), 0.8, 0.02}, three_afc, levels[*level]);
    CHECK(right > 0.65);
    CHECK(right < 0.87);
    const auto check_with = [&](std::size_t correct, std::size_t at) {
        std::vector<CheckAnswer> answers;
        for (std::size_t i = 0; i < 8; ++i) answers.push_back({at, i < correct});
        return quick_look_check(posterior, levels, answers);
    };
    CHECK(!check_with(6, *level).disagrees);
    CHECK(check_with(6, *level).p_value > 0.3);
    const QuickLookCheck chance = check_with(2, levels.size() - 1);
    CHECK(chance.disagrees);
    CHECK(chance.text.find("disagree") != std::string::npos);
    CHECK(chance.text.find("The grades claim more") != std::string::npos);
    const QuickLookCheck better = check_with(8, 0);
    CHECK(better.disagrees);
    CHECK(better.text.find("picks out more") != std::string::npos);
    CHECK(!quick_look_check(posterior, levels, {}).disagrees);
    CHECK(check_level(posterior, levels, std::vector<int>(levels.size(), 0)) == std::nullopt);
}

TEST_CASE("a third of the cups of a fixed tray are blanks, and every level is there") {
    const GradedTray tray = graded_tray(8, 36);
    CHECK(tray.blanks == 12);
    CHECK(tray.of_level == std::vector<int>(8, 3));
    const GradedTray uneven = graded_tray(6, 14);
    CHECK(uneven.blanks == 5);
    CHECK(uneven.of_level == std::vector<int>{1, 2, 2, 2, 1, 1});
}

TEST_CASE("the next cup obeys stock, runs and the share of blanks") {
    const HabitPosterior posterior = graded_posterior(population(), Fineness::coarse);
    const std::vector<double> levels{-0.4, 0.0, 0.4};
    const std::vector<int> some{2, 2, 2};
    CHECK(!next_graded_cup(posterior, levels, some, {}, 0.2)->level);
    const auto free_choice = next_graded_cup(posterior, levels, some, {}, 0.5)->level;
    REQUIRE(free_choice);
    const std::vector<GradedCup> running(4, GradedCup{*free_choice, 1});
    CHECK(next_graded_cup(posterior, levels, some, running, 0.5)->level != free_choice);
    std::vector<int> only{0, 0, 0};
    CHECK(!next_graded_cup(posterior, levels, only, {}, 0.5));
    only[2] = 1;
    CHECK(next_graded_cup(posterior, levels, only, {}, 0.5)->level == std::optional<std::size_t>(2));
}

TEST_CASE("what a quick look cannot use is refused") {
    const solution::MixedLadder ladder = exact_ladder(4, 2.0);
    const Prior prior = population();
    CHECK_THROWS_AS(quick_look(ladder, std::vector<GradedCup>{{std::nullopt, 0}}, prior), Refused);
    CHECK_THROWS_AS(quick_look(ladder, std::vector<GradedCup>{{2, 1}, {1, 0}}, prior), Refused);
    CHECK_THROWS_AS(quick_look(ladder, std::vector<GradedCup>{{2, 4}, {std::nullopt, 0}}, prior), Refused);
    CHECK_THROWS_AS(quick_look(ladder, std::vector<GradedCup>{{9, 1}, {std::nullopt, 0}}, prior), Refused);
    CHECK_THROWS_AS(graded_model(1), Refused);
    CHECK_THROWS_AS(graded_model(11), Refused);
}
