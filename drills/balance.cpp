#include "drills/balance.hpp"

#include "drills/beforehand.hpp"
#include "drills/scaling.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    beforehand::check(plan, problems);
    beforehand::check_condition(plan, problems);
    problems.want(plan.ladder.levels.size() >= 2, "ladder", "has one rung", "two or more");
}

Question question(const Plan& plan) {
    const std::string noun = noun_of(plan.substance.component);
    const std::string adjective = adjective_of(plan.substance.component);
    Question asked{.text = "Is there just about enough " + noun + "?", .choices = balance::words()};
    asked.mark = MarkLine{"How " + adjective + " is it?", "not at all " + adjective,
                          "as " + adjective + " as anything you can think of"};
    return asked;
}

struct Ratio {
    double value{};
    double lower{};
    double upper{};
    std::string text() const { return with_interval(value, lower, upper); }
};
Ratio ratio_of(const perception::Estimate& log10) {
    return {std::pow(10.0, log10.value), std::pow(10.0, log10.lower), std::pow(10.0, log10.upper)};
}

void tell_hidden(const Plan& plan, const perception::Estimate& hidden_log10, Finding& finding) {
    const std::string& condition = plan.others.front().condition;
    const Ratio hidden = ratio_of(hidden_log10);
    finding.measures.push_back(
        {"times as much " + condition, hidden.value, hidden.lower, hidden.upper, "", true, true});
    const std::string felt = " to be felt as " + adjective_of(plan.substance.component) + " as without";
    std::string what = "Whether it is hidden cannot be told yet: ";
    if (hidden_log10.lower > 0.0) what = "It is hidden from you: ";
    if (hidden_log10.upper < 0.0) what = "It stands out to you: ";
    finding.sentences.push_back(what + condition + " it takes " + hidden.text() + " times as much " +
                                plan.substance.asked_for + felt + ".");
}

Finding found(const State& drill) {
    Finding finding;
    if (beforehand::done(drill).empty()) return finding;
    const Plan& plan = drill.plan;
    const balance::Result result = balance::result(drill);
    const std::string unit = unit_text(plan.ladder.scale);
    const auto tell_right = [&](const perception::Estimate& log10, const std::string& where) {
        const Ratio level = ratio_of(log10);
        finding.measures.push_back(
            {"just about right" + where, level.value, level.lower, level.upper, unit, true, true});
        finding.sentences.push_back("Just about right for you" + where + ": " + level.text() + " " + unit +
                                    " " + plan.substance.name + ".");
    };
    if (result.hidden_log10) tell_hidden(plan, *result.hidden_log10, finding);
    tell_right(result.right_log10, " in " + plan.base_name);
    if (result.right_in_other_log10)
        tell_right(*result.right_in_other_log10, " " + plan.others.front().condition);
    const perception::Estimate& slope = result.growth.slope;
    finding.measures.push_back({"exponent of the marks", slope.value, slope.lower, slope.upper, ""});
    return finding;
}

}  // namespace

const Rules& balance_rules() {
    static constexpr Rules rules{.name = "balance",
                                 .cups_together = 1,
                                 .is_fixed = true,
                                 .check = check,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace balance {

std::vector<std::string> words() {
    return {"far too little", "too little", "just about right", "too much", "far too much"};
}

perception::GrowthPrior assumed_growth() {
    perception::GrowthPrior prior = scaling::assumed_growth();
    prior.shift = {0.0, 0.25};  // half or twice as much for two of three people and mixtures (judgement)
    prior.shift_is_of_level = true;
    prior.pull.reset();
    return prior;
}

perception::WordsPrior assumed_words() {
    return {};
}

Result result(const State& drill) {
    constexpr std::uint64_t marks_use = 60'004;  // away from the uses of drills
    constexpr std::uint64_t words_use = 60'005;
    const Plan& plan = drill.plan;
    std::vector<perception::Felt> felt;
    std::vector<perception::Said> said;
    Result result;
    result.said.assign(words().size(), 0);
    for (const Trial& trial : beforehand::done(drill)) {
        const std::size_t rung = beforehand::rung_of(plan, trial.single());
        felt.push_back(scaling::felt_of(rung, *trial.given->mark));
        said.push_back({rung, trial.given->choice});
        ++result.said[trial.given->choice];
    }
    const perception::Levels levels = beforehand::levels_of(plan);
    result.growth = perception::growth(levels, felt, assumed_growth(), derived(drill.seed, marks_use));
    result.hidden_log10 = result.growth.shift;
    const perception::WordLimits limits = perception::word_limits(
        levels, words().size(), said, assumed_words(), derived(drill.seed, words_use), just_right);
    result.right_log10 = *limits.middle_log10;
    result.right_in_other_log10 = limits.middle_of_other_log10;
    return result;
}

}  // namespace balance

}  // namespace sipladder::drills
