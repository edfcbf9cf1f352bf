#include "tests/support/published.hpp"
#include "tools/benchmark/quest.hpp"
#include "tools/benchmark/staircase.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <string>
#include <vector>

// The published methods that the benchmark measures against are checked step by step, so that the comparison
// is with the methods and not with a likeness of them.

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::benchmark;

namespace {

Quest quest_of(const PublishedCase& c) {
    const PublishedValue p = c.data("parameters");
    return Quest({.guess = p.at("tGuess").number(),
                  .guess_sd = p.at("tGuessSd").number(),
                  .p_threshold = p.at("pThreshold").number(),
                  .beta = p.at("beta").number(),
                  .delta = p.at("delta").number(),
                  .gamma = p.at("gamma").number(),
                  .grain = p.at("grain").number(),
                  .range = p.at("range").number()});
}

std::vector<double> after_each_trial(const PublishedCase& c,
                                     const std::function<double(const Quest&)>& figure) {
    Quest quest = quest_of(c);
    const std::vector<double> intensity = c.data("intensity").numbers();
    const std::vector<double> right = c.data("right").numbers();
    std::vector<double> figures;
    for (std::size_t i = 0; i < intensity.size(); ++i) {
        quest.update(intensity[i], right[i] > 0.5);
        figures.push_back(figure(quest));
    }
    return figures;
}

std::vector<double> as_numbers(std::span<const std::size_t> trials) {
    std::vector<double> numbers;
    for (const std::size_t trial : trials) numbers.push_back(static_cast<double>(trial));
    return numbers;
}

}  // namespace

TEST_CASE("QUEST is the published program, trial by trial") {
    for (const char* id : {"quest_trace_2afc", "quest_trace_3afc"}) {
        const PublishedCase c = published("adaptive_methods.json", id);
        CAPTURE(c.source_text());
        const Quest fresh = quest_of(c);
        CHECK(within(fresh.x_threshold(), c.expected("xThreshold")));
        CHECK(within(fresh.quantile_order(), c.expected("quantileOrder")));
        CHECK(within(static_cast<double>(fresh.grid_points()), c.expected("grid_points")));
        CHECK(within({fresh.mean(), fresh.sd()}, c.expected("prior_mean_sd")));
        std::vector<double> curve;
        for (const double x : c.data("curve_at").numbers()) curve.push_back(fresh.share_right(x));
        CHECK(within(curve, c.expected("curve")));
        const auto each = [&](const char* name, const std::function<double(const Quest&)>& figure) {
            CAPTURE(name);
            CHECK(within(after_each_trial(c, figure), c.expected(std::string("after_each_trial_") + name)));
        };
        each("mean", [](const Quest& q) { return q.mean(); });
        each("sd", [](const Quest& q) { return q.sd(); });
        each("mode", [](const Quest& q) { return q.mode(); });
        each("quantile_default_order", [](const Quest& q) { return q.recommended(); });
        each("quantile_05", [](const Quest& q) { return q.quantile(0.05); });
        each("quantile_25", [](const Quest& q) { return q.quantile(0.25); });
        each("quantile_50", [](const Quest& q) { return q.quantile(0.50); });
        each("quantile_75", [](const Quest& q) { return q.quantile(0.75); });
        each("quantile_95", [](const Quest& q) { return q.quantile(0.95); });
    }
}

TEST_CASE("QUEST ends with the published posterior") {
    for (const char* id : {"quest_trace_2afc", "quest_trace_3afc"}) {
        const PublishedCase c = published("adaptive_methods.json", id);
        CAPTURE(c.source_text());
        Quest quest = quest_of(c);
        const std::vector<double> right = c.data("right").numbers();
        for (std::size_t i = 0; i < right.size(); ++i)
            quest.update(c.data("intensity").numbers()[i], right[i] > 0.5);
        const PublishedValue p = c.data("parameters");
        std::vector<double> pdf;
        for (const double t : c.data("pdf_at").numbers()) {
            const double first = p.at("tGuess").number() - p.at("range").number() / 2.0;
            pdf.push_back(
                quest.pdf(static_cast<std::size_t>(std::lround((t - first) / p.at("grain").number()))));
        }
        CHECK(within(pdf, c.expected("final_pdf")));
    }
}

TEST_CASE("staircases take the published steps and reversals") {
    for (const char* id : {"staircase_trace_A_1up2down_equal", "staircase_trace_B_1up3down_big_first",
                           "staircase_trace_C_weighted_1up1down"}) {
        const PublishedCase c = published("adaptive_methods.json", id);
        CAPTURE(c.source_text());
        StaircaseRule rule;
        rule.start_log10 = c.data("start_log10").number();
        rule.step_up = c.data("step_up").number();
        rule.step_down = c.data("step_down").number();
        rule.right_for_down = static_cast<std::size_t>(c.data("right_in_a_row_for_down").integer());
        if (c.data().has("step_until_first_reversal"))
            rule.first_up = rule.first_down = c.data("step_until_first_reversal").number();
        Staircase stairs(rule);
        std::vector<double> levels;
        for (const double answer : c.data("responses").numbers()) {
            levels.push_back(stairs.level_log10());
            stairs.answer(answer > 0.5);
        }
        CHECK(within(levels, c.expected("levels")));
        CHECK(within(stairs.level_log10(), c.expected("final_level")));
        CHECK(within(as_numbers(stairs.reversal_trials()), c.expected("reversal_trials")));
        const std::vector<double> reversals(stairs.reversal_levels().begin(), stairs.reversal_levels().end());
        CHECK(within(reversals, c.expected("reversal_levels")));
        CHECK(within(mean_of_last_reversals(reversals), c.expected("mean_of_last_even_number_of_reversals")));
        CHECK(within(mean_of_last_reversals(reversals, 6), c.expected("mean_of_last_6_reversals")));
    }
}

TEST_CASE("two real staircases moved as the rule says") {
    for (const char* id : {"staircase_real_S1", "staircase_real_S2"}) {
        const PublishedCase c = published("adaptive_methods.json", id);
        CAPTURE(c.source_text());
        const std::vector<double> contrast = c.data("contrast").numbers();
        const std::vector<double> right = c.data("right").numbers();
        Staircase stairs({.start_log10 = 0.0,
                          .step_up = std::log10(1.26),
                          .step_down = std::log10(1.26),
                          .right_for_down = 3,
                          .first_up = std::log10(2.0),
                          .first_down = std::log10(2.0)});
        std::vector<double> moves;
        for (std::size_t i = 0; i < right.size(); ++i) {
            const double before = stairs.level_log10();
            stairs.answer(right[i] > 0.5);
            const double moved = stairs.level_log10() - before;
            if (i + 1 < right.size()) moves.push_back(moved > 0.0 ? 1.0 : moved < 0.0 ? -1.0 : 0.0);
        }
        CHECK(within(moves, c.expected("move_after_trial_1_to_47")));
        CHECK(within(as_numbers(stairs.reversal_trials()), c.expected("reversal_trials")));
        std::vector<double> log_contrasts;
        std::vector<double> contrasts;
        for (const std::size_t trial : stairs.reversal_trials()) {
            contrasts.push_back(contrast[trial - 1]);
            log_contrasts.push_back(std::log10(contrast[trial - 1]));
        }
        CHECK(within(contrasts, c.expected("reversal_contrasts")));
        CHECK(within(std::pow(10.0, mean_of_last_reversals(log_contrasts, 6)),
                     c.expected("geometric_mean_last_6_reversals")));
    }
}

TEST_CASE("up-down rules come to rest at the published shares") {
    const PublishedCase c = published("adaptive_methods.json", "staircase_targets");
    CAPTURE(c.source_text());
    CHECK(within({target_share(2), target_share(3), target_share(4)}, c.expected("levitt_2_3_4_down")));
    CHECK(within({target_share(1), target_share(2), target_share(3), target_share(4), target_share(5)},
                 c.expected("one_up_k_down_1_to_5")));
    std::vector<double> weighted;
    for (const double ratio : c.data("up_over_down").numbers()) weighted.push_back(target_share(1, ratio));
    CHECK(within(weighted, c.expected("weighted_one_down")));
    const std::vector<double> down = c.data("garcia_perez_down").numbers();
    const std::vector<double> ratio = c.data("garcia_perez_ratio_down_over_up").numbers();
    std::vector<double> unequal;
    for (std::size_t i = 0; i < down.size(); ++i)
        unequal.push_back(target_share(static_cast<std::size_t>(down[i]), 1.0 / ratio[i]));
    CHECK(within(unequal, c.expected("garcia_perez")));
    CHECK(within(unequal, c.expected("garcia_perez_formula")));
}
