// Grades are believed in the order of tasting, since the way of grading wanders from cup to cup. With a
// sealed key that order is known at the end only, and nothing is chosen on the way, so nothing is believed
// before.

#include "drills/quick_look.hpp"

#include "drills/rules.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    problems.want(plan.blinding == Blinding::served || plan.blinding == Blinding::sealed_key, "blinding",
                  "lets the taster know what the single cup holds", "a helper pours, or a sealed key");
    problems.want(plan.order == Order::adaptive, "order", "is ascending",
                  "cups whose order cannot be guessed: adaptive, or the sealed key's own");
    problems.want(plan.most_presentations >= 3, "cups", "are " + std::to_string(plan.most_presentations),
                  "at least 3, a third of them blanks");
}

Question question(const Plan& plan) {
    return {.text = "Is there " + plan.substance.asked_for + " in it?",
            .choices = {"nothing", "perhaps", "yes", "clearly"},
            .about_places = false,
            .asks_certainty = false};
}

threshold::HabitPosterior fresh(const Plan& plan) {
    return threshold::graded_posterior(plan.prior, threshold::Fineness::coarse);
}

std::optional<Wanted> choose(const State& drill) {
    constexpr std::uint64_t first_draw_use = 40'000;  // away from the uses of drills/blinding
    Random random(derived(drill.seed, first_draw_use + drill.trials.size()));
    const HabitsLearned& learned = drill.habits();
    const auto next = threshold::next_graded_cup(
        learned ? *learned : fresh(drill.plan), threshold::levels_log10(drill.plan.ladder),
        portions_left(drill, 0), quick_look::graded_cups(drill), random.uniform());
    if (!next) return std::nullopt;
    return Wanted{0, next->level.value_or(0), !next->level.has_value()};
}

HabitsLearned heed(const Plan& plan, const Trial& trial, const HabitsLearned& before) {
    if (plan.blinding == Blinding::sealed_key) return before;
    threshold::HabitPosterior posterior = before ? *before : fresh(plan);
    const std::vector<double> levels = threshold::levels_log10(plan.ladder);
    posterior.update(trial.is_blank ? std::nullopt : std::optional(Log10Level{levels[trial.level]}),
                     trial.given->choice);
    return std::make_shared<const threshold::HabitPosterior>(std::move(posterior));
}

bool is_precise(const State& drill, double wanted_sd_log10) {
    if (!drill.habits() || drill.habits()->sd() > wanted_sd_log10) return false;
    return quick_look::can_be_fitted(drill) &&
           quick_look::result(drill).threshold.sd_log10 <= wanted_sd_log10;
}

Finding found(const State& drill) {
    Finding finding;
    if (quick_look::can_be_fitted(drill))
        finding.thresholds.push_back({"detection, quick look", quick_look::result(drill).threshold});
    else
        finding.sentences.push_back("Too few cups for a threshold: a blank and a level are needed at least.");
    return finding;
}

}  // namespace

const Rules& quick_look_rules() {
    static constexpr Rules rules{.name = "quick_look",
                                 .cups_together = 1,
                                 .has_blanks = true,
                                 .check = check,
                                 .choose = choose,
                                 .heed = heed,
                                 .is_precise = is_precise,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace quick_look {

bool can_be_fitted(const State& drill) {
    const std::vector<threshold::GradedCup> cups = graded_cups(drill);
    const auto is_blank = [](const threshold::GradedCup& cup) { return !cup.level.has_value(); };
    return std::any_of(cups.begin(), cups.end(), is_blank) &&
           !std::all_of(cups.begin(), cups.end(), is_blank);
}

std::vector<threshold::GradedCup> graded_cups(const State& drill) {
    std::vector<threshold::GradedCup> cups;
    for (const Trial& trial : drill.trials)
        if (trial.is_done())
            cups.push_back({trial.is_blank ? std::nullopt : std::optional(trial.level), trial.given->choice});
    return cups;
}

threshold::QuickLook result(const State& drill) {
    return threshold::quick_look(drill.plan.ladder, graded_cups(drill), drill.plan.prior);
}

std::optional<threshold::QuickLookCheck> check(const State& drill, std::span<const State> sitting) {
    SIPLADDER_EXPECT(drill.plan.kind == Kind::quick_look);
    const std::vector<threshold::GradedCup> cups = graded_cups(drill);
    if (!can_be_fitted(drill)) return std::nullopt;
    const std::vector<double> levels = threshold::levels_log10(drill.plan.ladder);
    std::vector<threshold::CheckAnswer> answers;
    for (const State& other : sitting) {
        if (other.plan.kind != Kind::detection || other.plan.ladder.scale != drill.plan.ladder.scale ||
            other.plan.substance.id != drill.plan.substance.id ||
            threshold::levels_log10(other.plan.ladder) != levels)
            continue;
        for (const threshold::Answered& answer : answered(other))
            answers.push_back({answer.level, answer.correct});
    }
    if (answers.empty()) return std::nullopt;
    threshold::HabitPosterior posterior = fresh(drill.plan);
    for (const threshold::GradedCup& cup : cups)
        posterior.update(cup.level ? std::optional(Log10Level{levels[*cup.level]}) : std::nullopt, cup.grade);
    return threshold::quick_look_check(posterior, levels, answers);
}

}  // namespace quick_look

}  // namespace sipladder::drills
