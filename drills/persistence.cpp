#include "drills/persistence.hpp"

#include "drills/beforehand.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <cmath>
#include <set>

namespace sipladder::drills {

namespace {

constexpr const char* own_wine_id = "own_wine";
constexpr double z_quarter = 0.674489750196082;

void check(const Plan& plan, Problems& problems) {
    beforehand::check(plan, problems);
    beforehand::check_condition(plan, problems);
    problems.want(plan.most_seconds >= 1 && plan.most_seconds <= 600, "stop-watch",
                  "runs for " + std::to_string(plan.most_seconds) + " s", "1 to 600 s");
    const std::set<std::string> different(plan.words.begin(), plan.words.end());
    problems.want(plan.words.size() <= 60 && different.size() == plan.words.size() && !different.contains(""),
                  "words", "are " + std::to_string(plan.words.size()) + ", or some of them alike",
                  "up to 60 different ones");
}

Question question(const Plan& plan) {
    const bool is_wine = persistence::is_own_wine(plan);
    Question asked{.text = "Spit and start the watch; stop it when the " + persistence::sensation_of(plan) +
                           " is gone" + (is_wine ? ". Its sweetness, acid and burn do not count." : ".") +
                           (plan.words.empty() ? "" : " What was it like?"),
                   .choices = {}};
    asked.most_seconds = plan.most_seconds;
    asked.words = plan.words;
    return asked;
}

std::string seconds_text(double log10, double lower, double upper) {
    return with_interval(std::pow(10.0, log10), std::pow(10.0, lower), std::pow(10.0, upper)) + " s";
}

void tell_stretched(const Plan& plan, const perception::Estimate& log10, Finding& finding) {
    const std::string& condition = plan.others.front().condition;
    const double value = std::pow(10.0, log10.value);
    const double lower = std::pow(10.0, log10.lower);
    const double upper = std::pow(10.0, log10.upper);
    finding.measures.push_back({"times as long " + condition, value, lower, upper, "", true, true});
    std::string what = "Whether it stretches the finish cannot be told yet: ";
    if (log10.lower > 0.0) what = "It stretches what you call the finish: ";
    if (log10.upper < 0.0) what = "It cuts short what you call the finish: ";
    finding.sentences.push_back(what + condition + " it lasts " + with_interval(value, lower, upper) +
                                " times as long.");
}

void tell_words(const Plan& plan, const persistence::Result& result, Finding& finding) {
    const std::vector<std::string> lengths = persistence::length_words();
    std::string text;
    for (std::size_t i = 0; i < lengths.size(); ++i)
        if (result.lengths[i] > 0)
            text += (text.empty() ? "" : ", ") + lengths[i] + " " + std::to_string(result.lengths[i]) +
                    (result.lengths[i] == 1 ? " time" : " times");
    finding.sentences.push_back(
        "In words with limits at 2, 5 and 10 s (common practice, no source): " + text + ".");
    std::string like;
    for (std::size_t i = 0; i < result.was_like.size(); ++i)
        if (result.was_like[i] > 0)
            like += (like.empty() ? "" : ", ") + plan.words[i] + " " + std::to_string(result.was_like[i]);
    if (!like.empty()) finding.sentences.push_back("What it was like: " + like + ".");
    if (result.cut_off > 0)
        finding.sentences.push_back(std::to_string(result.cut_off) + " outlasted the " +
                                    std::to_string(plan.most_seconds) +
                                    " s of the stop-watch and count as longer than that.");
}

Finding found(const State& drill) {
    Finding finding;
    if (beforehand::done(drill).empty()) return finding;
    const Plan& plan = drill.plan;
    const persistence::Result result = persistence::result(drill);
    const auto add = [&](const std::string& name, const perception::Estimate& log10) {
        finding.measures.push_back({name, std::pow(10.0, log10.value), std::pow(10.0, log10.lower),
                                    std::pow(10.0, log10.upper), "s", true});
    };
    const perception::Estimate& centre = result.growth.centre;
    add("seconds", centre);
    add("a quarter is shorter than", result.quartiles_log10[0]);
    add("a quarter is longer than", result.quartiles_log10[1]);
    finding.sentences.push_back("The " + persistence::sensation_of(plan) + " lasts " +
                                seconds_text(centre.value, centre.lower, centre.upper) +
                                " for you; half of the times between " +
                                significant(std::pow(10.0, result.quartiles_log10[0].value), 2) + " and " +
                                significant(std::pow(10.0, result.quartiles_log10[1].value), 2) + " s.");
    if (result.stretched_log10) tell_stretched(plan, *result.stretched_log10, finding);
    tell_words(plan, result, finding);
    return finding;
}

}  // namespace

const Rules& persistence_rules() {
    static constexpr Rules rules{.name = "persistence",
                                 .cups_together = 1,
                                 .is_fixed = true,
                                 .knows_first = false,
                                 .check = check,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace persistence {

solution::Substance own_wine(const std::string& name, PercentVol strength) {
    constexpr double strongest = 18.0;  // as for every cup with alcohol
    if (!(strength.value >= 0.1 && strength.value <= strongest))
        throw Refused("own wine", "is " + exact(strength.value) + " % vol", "0.1 to 18 % vol");
    solution::Substance wine;
    wine.id = own_wine_id;
    wine.name = name.empty() ? "your own wine" : name;
    wine.asked_for = "flavour";
    wine.component = solution::Component::alcohol;
    wine.scale = Scale::pct_vol;
    wine.strongest_cup = wine.strongest_stock = strongest;
    wine.rest_s = wine.rest_strong_s = 120;  // judgement: as after a strong cup of alcohol
    wine.prior = {strength.value, 0.5, "no threshold is asked for", "judgement"};
    return wine;
}

bool is_own_wine(const Plan& plan) {
    return plan.substance.id == own_wine_id;
}

std::string sensation_of(const Plan& plan) {
    if (!plan.sensation.empty()) return plan.sensation;
    return is_own_wine(plan) ? "flavour" : noun_of(plan.substance.component);
}

std::vector<std::string> usual_words() {
    return {"fruit", "flowers", "spice", "wood", "earth", "clean", "bitter", "drying"};
}

std::vector<std::string> length_words() {
    return {"very short", "short", "medium", "long"};
}

std::size_t length_word(double seconds) {
    constexpr double limits_s[] = {2.0, 5.0, 10.0};  // common practice, no source
    std::size_t word = 0;
    for (const double limit : limits_s)
        if (seconds >= limit) ++word;
    return word;
}

perception::GrowthPrior assumed_growth() {
    perception::GrowthPrior prior;
    prior.centre = {0.9, 0.35};    // 8 s in the middle of the ladder (judgement)
    prior.slope = {0.2, 0.2};      // a stronger cup lasts a little longer (judgement)
    prior.shift = {0.0, 0.25};     // judgement
    prior.ln_noise = {-1.9, 0.5};  // a factor of 1.4 from cup to cup (judgement)
    return prior;
}

Result result(const State& drill) {
    constexpr std::uint64_t times_use = 60'020;  // away from the uses of drills
    const Plan& plan = drill.plan;
    Result result;
    result.lengths.assign(length_words().size(), 0);
    result.was_like.assign(plan.words.size(), 0);
    std::vector<perception::Felt> felt;
    for (const Trial& trial : beforehand::done(drill)) {
        const double seconds = *trial.given->seconds;
        const bool outlasts = seconds >= plan.most_seconds;
        felt.push_back({beforehand::rung_of(plan, trial.single()), std::log10(seconds),
                        outlasts ? perception::Felt::Side::above : perception::Felt::Side::inside});
        if (trial.series == 0) ++result.lengths[length_word(seconds)];
        result.cut_off += outlasts ? 1U : 0U;
        for (const std::size_t word : trial.given->words) ++result.was_like[word];
    }
    result.growth = perception::growth(beforehand::levels_of(plan), felt, assumed_growth(),
                                       derived(drill.seed, times_use));
    const auto quartile = [&](double z) {
        return result.growth.draws.of(
            [z](std::span<const double> at) { return at[0] + z * std::exp(at[2]); });
    };
    result.quartiles_log10[0] = quartile(-z_quarter);
    result.quartiles_log10[1] = quartile(z_quarter);
    result.middle_s = std::pow(10.0, result.growth.centre.value);
    result.stretched_log10 = result.growth.shift;
    return result;
}

}  // namespace persistence

}  // namespace sipladder::drills
