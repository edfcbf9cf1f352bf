#include "drills/detection.hpp"

#include "drills/rules.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    problems.want(plan.blinding != Blinding::sealed_key, "blinding", "is the sealed key",
                  "cups that stand together cannot be shuffled one by one: a helper, a tray or a class");
}

Question question(const Plan& plan) {
    return {.text = "Which cup holds the " + plan.substance.asked_for + "?",
            .choices = place_words(cups_together(plan)),
            .about_places = true,
            .asks_certainty = true};
}

Finding found(const State& drill) {
    Finding finding = finding_of_thresholds(drill, {"detection"});
    if (const auto best = detection::best_estimate(drill)) {
        const double value = std::pow(10.0, best->log10);
        finding.sentences.push_back("By the best estimate of the ascending series: " + significant(value, 2) +
                                    " " + unit_text(drill.plan.ladder.scale) + ".");
    }
    return finding;
}

}  // namespace

const Rules& detection_rules() {
    static constexpr Rules rules{.name = "detection",
                                 .cups_together = places,
                                 .check = check,
                                 .choose = choose_only_series,
                                 .believe = believe_right_or_wrong,
                                 .is_precise = all_series_precise,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace detection {

threshold::Threshold result(const State& drill) {
    return threshold_so_far(drill);
}

bool certainty_counts(const Plan& plan) {
    return plan.kind == Kind::detection && plan.blinding != Blinding::shuffled_tray;
}

std::optional<threshold::CertaintyFit> with_certainty(const State& drill) {
    if (!certainty_counts(drill.plan)) return std::nullopt;
    const std::vector<threshold::Answered> answers = answered(drill);
    if (answers.empty()) return std::nullopt;
    return threshold::certainty_threshold(drill.plan.ladder, answers, drill.plan.prior);
}

std::optional<threshold::GroupEstimate> best_estimate(const State& drill) {
    const std::size_t rungs = drill.plan.ladder.levels.size();
    if (drill.plan.order != Order::ascending || rungs < 2) return std::nullopt;
    const std::vector<threshold::Answered> answers = answered(drill);
    const std::vector<double> levels = threshold::levels_log10(drill.plan.ladder);
    std::vector<threshold::BestEstimate> series;
    for (std::size_t first = 0; first + rungs <= answers.size(); first += rungs) {
        std::vector<bool> right;
        for (std::size_t i = 0; i < rungs; ++i) right.push_back(answers[first + i].correct);
        series.push_back(threshold::best_estimate(levels, right));
    }
    if (series.empty()) return std::nullopt;
    return threshold::group_estimate(series);
}

}  // namespace detection

}  // namespace sipladder::drills
