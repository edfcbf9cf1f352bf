#include "drills/weight.hpp"

#include "drills/beforehand.hpp"

namespace sipladder::drills {

namespace {

constexpr const char* why_not_scored =
    "Alcohol is not scored: a cup with more of it is less dense, not more, its burn gives the order away, "
    "and "
    "water and alcohol take up less room mixed than apart, so strength by volume is no measure of weight.";

void check(const Plan& plan, Problems& problems) {
    beforehand::check(plan, problems);
    beforehand::check_set(plan, problems);
    const solution::Substance& substance = plan.substance;
    const bool makes_weight = substance.component == solution::Component::weight ||
                              substance.counts_as == solution::CountsAs::glycerol;
    problems.want(makes_weight || !weight::is_scored(plan), "substance", "is " + substance.name,
                  "a tasteless thickener or glycerol; ethanol is ordered without a score");
}

Question question(const Plan&) {
    return {.text =
                "Put the cups in order, from the lightest to the heaviest in the mouth. A guess is an "
                "answer too.",
            .choices = {},
            .asks_order = true};
}

Finding found(const State& drill) {
    Finding finding;
    const bool is_scored = weight::is_scored(drill.plan);
    if (!beforehand::done(drill).empty())
        finding = ranking::finding_of(drill, weight::result(drill), "lighter", "heavier");
    if (!is_scored) finding.sentences.insert(finding.sentences.begin(), why_not_scored);
    if (drill.plan.substance.counts_as == solution::CountsAs::glycerol)
        finding.sentences.push_back(
            "Glycerol is noticed as sweet before it is noticed as thick, so sweetness may have told the "
            "order.");
    return finding;
}

}  // namespace

const Rules& weight_rules() {
    static constexpr Rules rules{.name = "weight",
                                 .cups_together = 0,
                                 .is_fixed = true,
                                 .check = check,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace weight {

bool is_scored(const Plan& plan) {
    return plan.substance.component != solution::Component::alcohol;
}

ranking::Result result(const State& drill) {
    return ranking::result(drill, is_scored(drill.plan));
}

}  // namespace weight

}  // namespace sipladder::drills
