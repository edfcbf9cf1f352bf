// Several substances are measured at once, since a single one would be named right every time. Each has its
// own ladder and posterior; the cards say which is next, its own posterior which level.

#include "drills/recognition.hpp"

#include "drills/plans.hpp"
#include "drills/rules.hpp"
#include "engine/threshold/discrimination.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    problems.want(line_count(plan) >= 2 && line_count(plan) <= 8, "substances",
                  "are " + std::to_string(line_count(plan)), "2 to 8 to choose among");
    for (std::size_t one = 0; one < line_count(plan); ++one)
        for (std::size_t other = 0; other < one; ++other)
            problems.want(substance_of(plan, one).id != substance_of(plan, other).id, "substances",
                          "hold " + substance_of(plan, one).name + " twice", "each once");
    problems.want(plan.blinding == Blinding::served || plan.blinding == Blinding::sealed_key, "blinding",
                  "lets the taster know which bottle it is", "a helper pours, or a sealed key");
    problems.want(plan.order == Order::adaptive, "order", "is ascending",
                  "each substance where its answers lead, or the sealed key's own");
}

Question question(const Plan& plan) {
    Question asked{.text = "What is it?", .choices = {}, .about_places = false, .asks_certainty = true};
    for (std::size_t line = 0; line < line_count(plan); ++line)
        asked.choices.push_back(recognition::name_asked(plan, line));
    return asked;
}

std::optional<Wanted> choose(const State& drill) {
    const std::vector<std::size_t> order = recognition::drawn_order(drill.plan, drill.seed);
    const std::size_t most = recognition::most_of_each(drill.plan);
    std::vector<std::size_t> had(line_count(drill.plan), 0);
    for (const Trial& trial : drill.trials) ++had[trial.series];
    for (std::size_t i = 0; i < order.size(); ++i) {
        const std::size_t series = order[(drill.trials.size() + i) % order.size()];
        if (had[series] >= most) continue;
        if (const auto level = level_for(drill, series)) return Wanted{series, *level, false};
    }
    return std::nullopt;
}

Finding found(const State& drill) {
    Finding finding;
    for (recognition::Result& one : recognition::result(drill))
        finding.thresholds.push_back({"recognition of " + one.name, std::move(one.threshold)});
    if (const auto habit = recognition::naming_habit(drill))
        finding.sentences.push_back(
            std::to_string(habit->times) + " of " + std::to_string(habit->mistakes) + " wrong names were \"" +
            recognition::name_asked(drill.plan, habit->name) +
            "\": when in doubt this name comes first, so its threshold may look lower than it is, and the "
            "others higher.");
    return finding;
}

}  // namespace

const Rules& recognition_rules() {
    static constexpr Rules rules{.name = "recognition",
                                 .cups_together = 1,
                                 .check = check,
                                 .choose = choose,
                                 .believe = believe_right_or_wrong,
                                 .is_precise = all_series_precise,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace recognition {

std::string name_asked(const Plan& plan, std::size_t line) {
    const std::string& word = substance_of(plan, line).asked_for;
    for (std::size_t other = 0; other < line_count(plan); ++other)
        if (other != line && substance_of(plan, other).asked_for == word)
            return substance_of(plan, line).name;
    return word;
}

std::size_t most_of_each(const Plan& plan) {
    const std::size_t lines = line_count(plan);
    return (3 * plan.most_presentations + 2 * lines - 1) / (2 * lines);
}

std::vector<std::size_t> drawn_order(const Plan& plan, Seed seed) {
    constexpr std::uint64_t order_use = 6;  // away from the uses of drills/blinding
    std::vector<std::size_t> cards;
    for (std::size_t line = 0; line < line_count(plan); ++line)
        cards.insert(cards.end(), most_of_each(plan), line);
    Random random(derived(seed, order_use));
    random.shuffle(cards);
    return cards;
}

threshold::Prior assumed_prior(const solution::Substance& substance) {
    threshold::Prior prior = drills::assumed_prior(substance);
    prior.mean_log10 += std::log10(2.0);
    prior.name += ", doubled, since a taste is named later than it is noticed (judgement)";
    return prior;
}

std::vector<Result> result(const State& drill) {
    std::vector<Result> results;
    for (std::size_t series = 0; series < series_count(drill.plan); ++series) {
        const auto answers = answered(drill, series);
        const auto wrong = std::count_if(answers.begin(), answers.end(),
                                         [](const threshold::Answered& answer) { return !answer.correct; });
        results.push_back({name_asked(drill.plan, series), threshold_so_far(drill, series),
                           static_cast<std::size_t>(wrong)});
    }
    return results;
}

std::optional<NamingHabit> naming_habit(const State& drill) {
    constexpr double alpha = 0.01;  // over all names together: a false alarm in a hundred sittings
    const std::size_t names = line_count(drill.plan);
    std::vector<std::size_t> given(names, 0);
    std::size_t mistakes = 0;
    for (const Trial& trial : drill.trials) {
        if (!trial.is_done() || is_right(drill.plan, trial)) continue;
        ++given[trial.given->choice];
        ++mistakes;
    }
    // With two names a wrong one is always the other; and a wrong name is never the cup's own.
    if (mistakes == 0 || names < 3) return std::nullopt;
    const auto most = std::max_element(given.begin(), given.end());
    const double chance = 1.0 / static_cast<double>(names - 1);
    if (threshold::chance_p(*most, mistakes, chance) * static_cast<double>(names) > alpha)
        return std::nullopt;
    return NamingHabit{static_cast<std::size_t>(most - given.begin()), *most, mistakes};
}

}  // namespace recognition

}  // namespace sipladder::drills
