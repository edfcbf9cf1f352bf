#include "drills/difference.hpp"

#include "drills/rules.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    problems.want(plan.blinding == Blinding::served || plan.blinding == Blinding::shuffled_tray, "blinding",
                  "does not suit two cups that stand together", "a helper pours, or a shuffled tray");
    if (!plan.pedestal) return;
    problems.want(std::isfinite(plan.pedestal->mixed) && plan.pedestal->mixed > 0.0, "pedestal",
                  "holds " + exact(plan.pedestal->mixed), "more than nothing");
    const bool is_base = plan.pedestal->bottle.empty();
    const auto needed = static_cast<int>(plan.most_presentations) + 1;
    problems.want(is_base || plan.pedestal->portions >= needed, "pedestal",
                  "has " + std::to_string(plan.pedestal->portions) + " portions",
                  "one a presentation and a known one: " + std::to_string(needed));
}

Question question(const Plan& plan) {
    return {.text = "Which cup holds more " + plan.substance.asked_for + "?",
            .choices = place_words(cups_together(plan)),
            .about_places = true,
            .asks_certainty = true};
}

Finding found(const State& drill) {
    const difference::Result result = difference::result(drill);
    Finding finding;
    finding.thresholds.push_back({"difference", result.added});
    finding.measures.push_back({"Weber fraction", result.weber, result.weber_lower, result.weber_upper, ""});
    return finding;
}

/// The added amounts as parts of the pedestal: what their common stock is off by cancels.
solution::MixedLadder as_parts(const Plan& plan) {
    solution::MixedLadder parts = plan.ladder;
    for (solution::MixedLevel& level : parts.levels) {
        // A base that holds the pedestal is weighed apart from what is added to it.
        const double total_over_added = (level.mixed + plan.pedestal->mixed) / level.mixed;
        level.u_shared_rel = plan.pedestal->bottle.empty()
                                 ? std::hypot(level.u_shared_rel, plan.pedestal->u_own_rel)
                                 : total_over_added * plan.pedestal->u_own_rel;
    }
    return parts;
}

}  // namespace

const Rules& difference_rules() {
    static constexpr Rules rules{.name = "difference",
                                 .cups_together = 2,
                                 .check = check,
                                 .choose = choose_only_series,
                                 .believe = believe_right_or_wrong,
                                 .is_precise = all_series_precise,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace difference {

solution::MixedLadder added_ladder(const solution::MixedLadder& totals,
                                   const solution::MixedLevel& pedestal) {
    solution::MixedLadder added = totals;
    for (solution::MixedLevel& level : added.levels) {
        const double total = level.mixed;
        if (!(total > pedestal.mixed))
            throw Refused("ladder", "has a rung of " + significant(total, 3),
                          "more than the pedestal, which holds " + significant(pedestal.mixed, 3));
        level.mixed = total - pedestal.mixed;
        level.target = std::max(level.target - pedestal.target, level.mixed * 1e-3);
        level.u_own_rel *= total / level.mixed;
        level.u_shared_rel =
            std::hypot(level.u_shared_rel, pedestal.u_own_rel * pedestal.mixed / level.mixed);
    }
    return added;
}

threshold::Prior assumed_prior(double pedestal, Scale scale) {
    constexpr double part = 0.2;         // judgement: tastes commonly differ by 10 to 30 %
    constexpr double sd_log10 = 0.35;    // judgement
    constexpr double width_log10 = 1.1;  // 2 Phi(d'/sqrt 2) - 1 from 0.1 to 0.9 with d' in proportion
    threshold::Prior prior;
    prior.mean_log10 = std::log10(part * pedestal);
    prior.sd_log10 = sd_log10;
    prior.width_ln_mean = std::log(width_log10);
    prior.name = "assumed: a fifth of the pedestal, " + significant(part * pedestal, 2) + " " +
                 unit_text(scale) + ", factor " + significant(std::pow(10.0, sd_log10), 2) + " (judgement)";
    return prior;
}

Result result(const State& drill) {
    const double pedestal_log10 = std::log10(drill.plan.pedestal->mixed);
    const threshold::Threshold parts =
        threshold::threshold(as_parts(drill.plan), answered(drill), drill.plan.prior, task_of(drill.plan));
    return {threshold_so_far(drill), std::pow(10.0, parts.log10 - pedestal_log10),
            std::pow(10.0, parts.lower_log10 - pedestal_log10),
            std::pow(10.0, parts.upper_log10 - pedestal_log10)};
}

}  // namespace difference

}  // namespace sipladder::drills
