// Cups and intake of a drill, reckoned from its trials each time.

#include "drills/blinding/sealed_key.hpp"
#include "drills/drill_parts.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace sipladder::drills {

namespace {

safety::Intake trial_intake(const Plan& plan, const Held& held) {
    if (is_set(plan)) return set_intake(plan);
    if (held.is_blank) return blank_intake(plan);
    return presentation_intake(plan, held.level, line_of_series(plan, held.series));
}

/// What the cups of some trials can have given at most: those whose key is known as they are, the others as
/// strong as any that were poured. So a running sum tells nothing.
/// @param ahead  cups more, of which nothing is known
safety::Intake sealed_intake(const State& drill, const std::vector<bool>& counts, std::size_t ahead) {
    safety::Intake sum;
    std::vector<sealed_key::Identity> left = sealed_key::pour_list(drill.plan);
    std::size_t unknown = ahead;
    for (std::size_t i = 0; i < drill.trials.size(); ++i) {
        const Trial& trial = drill.trials[i];
        if (!trial.is_done()) {
            unknown += counts[i] ? 1U : 0U;
            continue;
        }
        if (counts[i]) sum += trial_intake(drill.plan, trial.single());
        for (auto& one : left)
            if (one.series == trial.series && one.level == trial.level && one.is_blank == trial.is_blank)
                --one.poured;
    }
    sum += strongest_of(drill.plan, std::move(left), unknown);
    return sum;
}

/// What some of the trials gave, the known cups with the first of all, and what a cup ahead may give.
safety::Intake intake_of(const State& drill, const std::vector<bool>& counts,
                         const std::optional<Wanted>& ahead = {}) {
    const bool is_first = drill.trials.empty() ? ahead.has_value() : counts.front();
    safety::Intake sum = is_first ? known_intake(drill.plan) : safety::Intake{};
    if (drill.plan.blinding == Blinding::sealed_key && !is_set(drill.plan)) {
        sum += sealed_intake(drill, counts, ahead ? 1 : 0);
        return sum;
    }
    for (std::size_t i = 0; i < drill.trials.size(); ++i)
        if (counts[i])
            sum += is_set(drill.plan) ? set_intake(drill.plan)
                                      : trial_intake(drill.plan, drill.trials[i].single());
    if (ahead) sum += trial_intake(drill.plan, {ahead->series, ahead->level, ahead->is_blank});
    return sum;
}

/// True for the trials from this one on.
std::vector<bool> from(const State& drill, std::size_t first) {
    std::vector<bool> counts(drill.trials.size(), false);
    for (std::size_t i = first; i < counts.size(); ++i) counts[i] = true;
    return counts;
}
std::vector<bool> of_day(const State& drill, const std::string& date) {
    std::vector<bool> counts;
    for (const Trial& trial : drill.trials) counts.push_back(trial.given && to_date(trial.given->at) == date);
    return counts;
}

}  // namespace

std::optional<std::string> parts::cap_before(const State& drill, const Wanted& wanted) {
    const bool was_left = !drill.gone_on.empty();
    const safety::Intake added =
        intake_of(drill, from(drill, was_left ? drill.gone_on.back().before : 0), wanted);
    safety::Intake sitting =
        was_left ? drill.gone_on.back().taken_this_sitting : drill.plan.taken_this_sitting;
    safety::Intake today = was_left ? drill.gone_on.back().taken_today : drill.plan.taken_today;
    sitting += added;
    today += added;
    const auto crossed = safety::crossed(drill.plan.caps, sitting, today);
    return crossed ? std::optional(crossed->text) : std::nullopt;
}

std::size_t cups(const State& drill) {
    // A tray that is not tasted from is filled once.
    const std::size_t fillings = rules_of(drill.plan.kind).tastes
                                     ? drill.trials.size()
                                     : std::min<std::size_t>(drill.trials.size(), 1);
    return cups_together(drill.plan) * fillings;
}

std::size_t cups_tasted(const State& drill) {
    return drill.trials.empty() ? 0 : cups(drill) + known_cups(drill.plan);
}

std::size_t cups_on(const State& drill, const std::string& date) {
    const std::vector<bool> counts = of_day(drill, date);
    const bool is_first = !counts.empty() && counts.front();
    const auto fillings = static_cast<std::size_t>(std::count(counts.begin(), counts.end(), true));
    if (!rules_of(drill.plan.kind).tastes) return is_first ? cups_together(drill.plan) : 0;
    return cups_together(drill.plan) * fillings + (is_first ? known_cups(drill.plan) : 0);
}

safety::Intake intake(const State& drill) {
    return intake_of(drill, from(drill, 0));
}

safety::Intake intake_on(const State& drill, const std::string& date) {
    return intake_of(drill, of_day(drill, date));
}

}  // namespace sipladder::drills
