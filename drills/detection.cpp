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

/// Whether certainty has a say in what is served next, and when it is enough.
bool listens(const Plan& plan) {
    return detection::certainty_counts(plan) && plan.order == Order::adaptive && plan.rule_version >= 3;
}

threshold::HabitPosterior fresh(const Plan& plan) {
    return threshold::certainty_posterior(plan.prior, threshold::Fineness::coarse);
}

std::optional<Wanted> choose(const State& drill) {
    if (!listens(drill.plan)) return choose_only_series(drill);
    std::vector<std::size_t> served;
    for (const Trial& trial : drill.trials) served.push_back(trial.level);
    const HabitsLearned& learned = drill.habits();
    const threshold::HabitPosterior posterior = learned ? *learned : fresh(drill.plan);
    const threshold::HabitChooser chooser(posterior, threshold::levels_log10(drill.plan.ladder));
    const auto level = threshold::next_level_varied(posterior, chooser, portions_left(drill, 0), served);
    return level ? std::optional(Wanted{0, *level, false}) : std::nullopt;
}

HabitsLearned heed(const Plan& plan, const Trial& trial, const HabitsLearned& before) {
    if (!listens(plan)) return before;
    threshold::HabitPosterior posterior = before ? *before : fresh(plan);
    posterior.update(Log10Level{threshold::levels_log10(plan.ladder)[trial.level]},
                     threshold::outcome_of(is_right(plan, trial), trial.given->certainty));
    return std::make_shared<const threshold::HabitPosterior>(std::move(posterior));
}

/// The fine fit is asked only when the coarse SD and the least that mixing adds to it are small enough.
bool is_precise(const State& drill, double wanted_sd_log10) {
    if (!listens(drill.plan)) return all_series_precise(drill, wanted_sd_log10);
    const HabitsLearned& learned = drill.habits();
    if (!learned || std::hypot(learned->sd(), least_shared_log10(drill.plan, 0)) > wanted_sd_log10)
        return false;
    return detection::result(drill).sd_log10 <= wanted_sd_log10;
}

Finding found(const State& drill) {
    Finding finding;
    if (const auto fit = detection::with_certainty(drill)) {
        finding.thresholds.push_back({"detection", with_warnings_in_order(drill, 0, fit->threshold)});
        if (!fit->text.empty()) finding.sentences.push_back(fit->text);
    } else
        finding = finding_of_thresholds(drill, {"detection"});
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
                                 .choose = choose,
                                 .believe = believe_right_or_wrong,
                                 .heed = heed,
                                 .is_precise = is_precise,
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
