#include "drills/scaling.hpp"

#include "drills/beforehand.hpp"
#include "engine/solution/sweetness_term.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    beforehand::check(plan, problems);
    const std::set<std::string> different(plan.words.begin(), plan.words.end());
    problems.want(plan.words.size() >= 2 && plan.words.size() <= 12 &&
                      different.size() == plan.words.size() && !different.contains(""),
                  "words", "are " + std::to_string(plan.words.size()) + ", or some of them alike",
                  "2 to 12 different ones, weakest first");
    problems.want(plan.ladder.levels.size() >= 2, "ladder", "has one rung", "two or more");
}

Question question(const Plan& plan) {
    const std::string adjective = adjective_of(plan.substance.component);
    Question asked{.text = "Which of your words fits best?", .choices = plan.words};
    asked.mark = MarkLine{"How " + adjective + " is it?", "not at all " + adjective,
                          "as " + adjective + " as anything you can think of"};
    return asked;
}

/// Words of the law beside one's own; they bind a label, and say nothing about a palate.
std::string law_text() {
    const auto plain = solution::sweetness_limits(GramsPerLitre{0.0});
    const auto clause = solution::sweetness_limits(GramsPerLitre{20.0});
    return "On a label in the European Union a still wine is dry up to " + exact(plain.dry.value) +
           " g/L of sugar (up to " + exact(clause.dry.value) +
           " where the acidity is high enough), medium dry up to " + exact(plain.medium_dry.value) + " (" +
           exact(clause.medium_dry.value) + "), medium below " + exact(plain.medium.value) +
           ", and sweet from there: words for a label, not for what is tasted.";
}

void tell_limits(const State& drill, const scaling::Result& result, Finding& finding) {
    const Plan& plan = drill.plan;
    const std::string unit = unit_text(plan.ladder.scale);
    const double weakest = plan.ladder.levels.front().mixed;
    const double strongest = plan.ladder.levels.back().mixed;
    std::string text;
    for (std::size_t i = 0; i < result.limits.log10.size(); ++i) {
        const perception::Estimate& limit = result.limits.log10[i];
        const double value = std::pow(10.0, limit.value);
        const double lower = std::pow(10.0, limit.lower);
        const double upper = std::pow(10.0, limit.upper);
        finding.measures.push_back({"from \"" + plan.words[i] + "\" to \"" + plan.words[i + 1] + "\"", value,
                                    lower, upper, unit, true, true});
        text += (i == 0 ? "Your \"" : "; \"") + plan.words[i + 1] + "\" begins ";
        // Beyond the cups that were tasted the fit tells no more than that.
        if (value > strongest)
            text += "above the strongest cup (" + significant(strongest, 2) + " " + unit + ")";
        else if (value < weakest)
            text += "below the weakest cup (" + significant(weakest, 2) + " " + unit + ")";
        else
            text += "at " + with_interval(value, lower, upper) + " " + unit;
    }
    finding.sentences.push_back(text + ".");
    if (scaling::has_label_terms(plan)) finding.sentences.push_back(law_text());
}

void tell_marks(const scaling::Result& result, Finding& finding) {
    const perception::Estimate& slope = result.growth.slope;
    finding.measures.push_back({"exponent of the marks", slope.value, slope.lower, slope.upper, ""});
    const double factor = std::pow(2.0, slope.value);
    finding.sentences.push_back("Twice as much gets a mark " + significant(factor, 2) +
                                " times as high (exponent " +
                                with_interval(slope.value, slope.lower, slope.upper) + ").");
    const auto as_factor = [](double log10) { return std::pow(10.0, log10); };
    const perception::Estimate& noise = result.growth.noise;
    finding.measures.push_back({"scatter of a mark, as a factor", as_factor(noise.value),
                                as_factor(noise.lower), as_factor(noise.upper), "", true});
    if (const auto& pull = result.growth.pull) {
        finding.measures.push_back({"pull of the cup before", as_factor(pull->value), as_factor(pull->lower),
                                    as_factor(pull->upper), "for ten times as much in it", true});
        if (pull->lower > 0.0 || pull->upper < 0.0)
            finding.sentences.push_back(std::string("After a strong cup you mark the next one ") +
                                        (pull->value > 0.0 ? "higher" : "lower") + " than after a weak one.");
    }
    if (!result.blank_marks.empty()) {
        const auto [least, most] = std::minmax_element(result.blank_marks.begin(), result.blank_marks.end());
        finding.sentences.push_back("The base alone got marks of " + significant(*least, 2) + " to " +
                                    significant(*most, 2) + ".");
    }
    if (result.repeats)
        finding.sentences.push_back(
            "Two cups of the same, not known as such, got marks that differ by less than " +
            significant(result.repeats->coefficient, 2) +
            " in 95 of 100 cases, and words more than one apart " + std::to_string(result.words_moved) +
            " of " + std::to_string(result.pairs) + " times.");
}

Finding found(const State& drill) {
    Finding finding;
    const auto trials = beforehand::done(drill);
    if (std::all_of(trials.begin(), trials.end(), [](const Trial& trial) { return trial.is_blank; })) {
        finding.sentences.push_back("Too few cups: at least one that holds something is needed.");
        return finding;
    }
    const scaling::Result result = scaling::result(drill);
    tell_limits(drill, result, finding);
    tell_marks(result, finding);
    return finding;
}

}  // namespace

const Rules& scaling_rules() {
    static constexpr Rules rules{.name = "scaling",
                                 .cups_together = 1,
                                 .has_blanks = true,
                                 .is_fixed = true,
                                 .check = check,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace scaling {

std::vector<std::string> usual_words(solution::Component component) {
    if (component == solution::Component::sweet)
        return {"dry", "a trace of sweetness", "off-dry", "sweet", "very sweet"};
    const std::string adjective = adjective_of(component);
    return {"not " + adjective, "a little " + adjective, "clearly " + adjective, "very " + adjective};
}

bool has_label_terms(const Plan& plan) {
    return plan.substance.component == solution::Component::sweet && plan.ladder.scale == Scale::g_per_L &&
           plan.substance.counts_as == solution::CountsAs::component;
}

perception::GrowthPrior assumed_growth() {
    perception::GrowthPrior prior;
    prior.centre = {1.5, 0.25};    // a mark of 32 in the middle of the ladder (judgement)
    prior.slope = {1.0, 0.35};     // exponents of tastes run from 0.5 to 1.5 (from memory)
    prior.ln_noise = {-1.9, 0.5};  // a factor of 1.4 from cup to cup (judgement)
    prior.pull = perception::GrowthPrior::Normal{0.0, 0.08};  // judgement
    return prior;
}

perception::WordsPrior assumed_words() {
    return {};
}

perception::Felt felt_of(std::size_t rung, double mark) {
    constexpr double end_width = 0.5;  // of the line: nobody can hit its end more closely
    constexpr double line = 100.0;
    if (mark <= end_width) return {rung, std::log10(end_width), perception::Felt::Side::below};
    if (mark >= line - end_width) return {rung, std::log10(line - end_width), perception::Felt::Side::above};
    return {rung, std::log10(mark)};
}

Result result(const State& drill) {
    constexpr std::uint64_t marks_use = 60'002;  // away from the uses of drills
    constexpr std::uint64_t words_use = 60'003;
    const Plan& plan = drill.plan;
    const perception::Levels levels = beforehand::levels_of(plan);
    std::vector<perception::Felt> felt;
    std::vector<perception::Said> said;
    Result result;
    std::map<std::size_t, std::vector<const Trial*>> of_rung;
    std::optional<double> before;
    const std::vector<Trial> trials = beforehand::done(drill);
    for (const Trial& trial : trials) {
        if (trial.is_blank) {
            result.blank_marks.push_back(*trial.given->mark);
            before.reset();
            continue;
        }
        const std::size_t rung = beforehand::rung_of(plan, trial.single());
        felt.push_back(felt_of(rung, *trial.given->mark));
        felt.back().before_log10 = before;
        said.push_back({rung, trial.given->choice});
        of_rung[rung].push_back(&trial);
        before = levels.rungs[rung].x_log10;
    }
    result.growth = perception::growth(levels, felt, assumed_growth(), derived(drill.seed, marks_use));
    result.limits = perception::word_limits(levels, plan.words.size(), said, assumed_words(),
                                            derived(drill.seed, words_use));
    std::vector<double> first;
    std::vector<double> second;
    for (const auto& [rung, cups] : of_rung)
        for (std::size_t i = 0; i + 1 < cups.size(); i += 2) {
            first.push_back(*cups[i]->given->mark);
            second.push_back(*cups[i + 1]->given->mark);
            const std::size_t a = cups[i]->given->choice;
            const std::size_t b = cups[i + 1]->given->choice;
            result.words_moved += (a > b ? a - b : b - a) > 1 ? 1U : 0U;
        }
    result.pairs = first.size();
    if (!first.empty()) result.repeats = threshold::repeatability(first, second);
    return result;
}

}  // namespace scaling

}  // namespace sipladder::drills
