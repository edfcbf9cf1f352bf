#include "drills/ranking.hpp"

#include "drills/beforehand.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    beforehand::check(plan, problems);
    beforehand::check_set(plan, problems);
}

Question question(const Plan& plan) {
    return {.text = "Put the cups in order, from the least to the most " + plan.substance.asked_for +
                    ". A guess is an answer too.",
            .choices = {},
            .asks_order = true};
}

Finding found(const State& drill) {
    if (beforehand::done(drill).empty()) return {};
    return ranking::finding_of(drill, ranking::result(drill), "weaker", "stronger");
}

/// "K and R 2 of 4 times".
std::string swapped_text(const solution::MixedLadder& ladder, const ranking::Result& result) {
    std::string text;
    for (std::size_t i = 0; i < result.swapped.size(); ++i) {
        if (result.swapped[i] == 0) continue;
        text += (text.empty() ? "" : "; ") + significant(ladder.levels[i].mixed, 3) + " and " +
                significant(ladder.levels[i + 1].mixed, 3) + " " + unit_text(ladder.scale) + " " +
                std::to_string(result.swapped[i]) + " of " + std::to_string(result.orders.size()) + " times";
    }
    return text;
}

}  // namespace

const Rules& ranking_rules() {
    static constexpr Rules rules{.name = "ranking",
                                 .cups_together = 0,
                                 .is_fixed = true,
                                 .check = check,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace ranking {

Result result(const State& drill, bool is_scored) {
    constexpr std::uint64_t step_use = 60'001;  // away from the uses of drills
    const auto& levels = drill.plan.ladder.levels;
    const std::size_t rungs = levels.size();
    Result result;
    threshold::Rankings rankings;
    std::vector<double> true_ranks(rungs);
    std::iota(true_ranks.begin(), true_ranks.end(), 1.0);
    result.swapped.assign(rungs - 1, 0);
    for (const Trial& trial : beforehand::done(drill)) {
        perception::Order order;
        std::vector<double> ranks(rungs);
        for (std::size_t i = 0; i < rungs; ++i) {
            order.push_back(trial.held[trial.given->order[i]]->level);
            ranks[order.back()] = static_cast<double>(i + 1);
        }
        if (rungs >= 3) {
            result.spearman.push_back(threshold::spearman_rho(true_ranks, ranks).value);
            result.kendall.push_back(threshold::kendall_tau(true_ranks, ranks).value);
            result.mean_spearman += result.spearman.back();
        }
        const auto errors = perception::adjacent_errors(order);
        for (std::size_t i = 0; i < errors.size(); ++i) result.swapped[i] += errors[i];
        rankings.push_back(std::move(ranks));
        result.orders.push_back(std::move(order));
    }
    SIPLADDER_EXPECT(!result.orders.empty());
    result.mean_spearman /= static_cast<double>(result.orders.size());
    result.page = threshold::page(rankings);
    result.friedman = threshold::friedman(rankings);
    if (!is_scored) return result;
    std::vector<double> u_own_log10;
    u_own_log10.reserve(levels.size());
    for (const auto& level : levels) u_own_log10.push_back(level.u_own_rel * std::numbers::log10e);
    result.difference_log10 =
        perception::difference_log10(threshold::levels_log10(drill.plan.ladder), u_own_log10, result.orders,
                                     {}, derived(drill.seed, step_use));
    return result;
}

Finding finding_of(const State& drill, const Result& result, const std::string& less,
                   const std::string& more) {
    Finding finding;
    const std::size_t sets = result.orders.size();
    const std::string orders = std::to_string(sets) + (sets == 1 ? " order" : " orders");
    if (!result.difference_log10) {
        if (sets > 1)
            finding.sentences.push_back("The " + orders + " agree among themselves with Kendall's W = " +
                                        fixed(result.friedman.kendall_w, 2) +
                                        " (1: all alike, 0: not at all).");
        return finding;
    }
    const auto part = [](double log10) { return std::pow(10.0, log10); };
    const double weber = part(result.difference_log10->value);
    finding.measures.push_back({"difference threshold, as a part of the level", weber,
                                part(result.difference_log10->lower), part(result.difference_log10->upper),
                                "", true});
    finding.sentences.push_back(
        "A cup has to be about " + percent(weber) + " (" + percent(part(result.difference_log10->lower)) +
        " to " + percent(part(result.difference_log10->upper)) + ") " + more + " to be put above the " +
        less + " one three times of four, by the way you ordered " + orders + ".");
    finding.sentences.push_back(
        std::string(result.page.p < 0.05 ? "Your order follows the strength"
                                         : "No order that follows the strength shows") +
        " (Page's L = " + fixed(result.page.statistic, 0) + ", p = " + significant(result.page.p, 2) +
        (result.spearman.empty() ? std::string()
                                 : "; rank correlation " + fixed(result.mean_spearman, 2) + " on average") +
        ").");
    const std::string swapped = swapped_text(drill.plan.ladder, result);
    finding.sentences.push_back(
        swapped.empty() ? "No two neighbours were swapped: steps smaller than those of this ladder "
                          "would tell more."
                        : "Neighbours swapped: " + swapped + ".");
    return finding;
}

}  // namespace ranking

}  // namespace sipladder::drills
