#include "drills/tray_check.hpp"

#include "drills/rules.hpp"
#include "engine/text.hpp"
#include "engine/threshold/discrimination.hpp"

namespace sipladder::drills {

namespace {

constexpr double alpha = 0.05;

void check(const Plan& plan, Problems& problems) {
    problems.want(plan.blinding == Blinding::shuffled_tray, "blinding", "is no shuffled tray",
                  "the tray that is to be checked");
    // Fewer could not tell: not even all right would be below 0.05.
    problems.want(plan.most_presentations >= 3, "rounds", "are " + std::to_string(plan.most_presentations),
                  "at least 3, usually " + std::to_string(tray_check::usual_rounds));
}

Question question(const Plan& plan) {
    return {.text = "Without tasting: which cup holds the " + plan.substance.asked_for + "?",
            .choices = place_words(cups_together(plan)),
            .about_places = true,
            .asks_certainty = false};
}

std::optional<Wanted> choose(const State& drill) {
    const auto& levels = drill.plan.ladder.levels;
    for (std::size_t i = levels.size(); i-- > 0;)
        if (levels[i].portions > 0) return Wanted{0, i, false};
    return std::nullopt;
}

bool never_precise(const State&, double) {
    return false;
}

Finding found(const State& drill) {
    const tray_check::Result result = tray_check::result(drill);
    Finding finding;
    const std::string counted = std::to_string(result.right) + " of " + std::to_string(result.rounds) +
                                " right by look and sniff alone (p = " + significant(result.p_value, 2) + ")";
    finding.sentences.push_back(
        result.is_seen_through
            ? counted + ": this tray can be seen through, so what is tasted on it is not blind."
            : counted +
                  ": no more than guessing makes likely. That does not prove it cannot be seen through.");
    finding.sentences.insert(finding.sentences.end(), result.advice.begin(), result.advice.end());
    return finding;
}

}  // namespace

const Rules& tray_check_rules() {
    static constexpr Rules rules{.name = "tray_check",
                                 .cups_together = places,
                                 .tastes = false,
                                 .check = check,
                                 .choose = choose,
                                 .is_precise = never_precise,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace tray_check {

Result result(const State& drill) {
    Result result;
    for (const threshold::Answered& answer : answered(drill)) {
        ++result.rounds;
        result.right += answer.correct ? 1U : 0U;
    }
    result.p_value = result.rounds == 0
                         ? 1.0
                         : threshold::chance_p(result.right, result.rounds, task_of(drill.plan).guess);
    result.is_seen_through = result.p_value < alpha;
    if (result.is_seen_through)
        result.advice = {
            "Colour: opaque cups with lids and a straw, or dim red light.",
            "Foam and cloud: do not shake tannin; let all bottles stand until they are clear and still.",
            "Fill: the same volume to the drop, from a syringe; wipe the rims.",
            "Temperature: let all bottles stand together for 2 hours.",
            "Smell: fresh cups and lids, the nose closed, and for vinegar or alcohol a helper who pours.",
            "Then check the tray again before you taste from it."};
    return result;
}

}  // namespace tray_check

}  // namespace sipladder::drills
