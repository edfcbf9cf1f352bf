#include "tools/simulate/drill_run.hpp"

#include "engine/problem.hpp"
#include "tools/simulate/parallel.hpp"

#include <cmath>
#include <memory>
#include <set>
#include <vector>

// Every assessor has streams of its own for who it is, for its bottles and for its luck, so that a change of
// one part of the truth leaves the others as they were, and so that the figures do not depend on the number
// of threads.

namespace sipladder::simulate {

namespace {

struct Found {
    double error{};      // mean over the thresholds of this person
    double rms_error{};  // root of the mean square
    double sd{};
    double held{};  // share of them
    double ratio_error{};
    bool ratio_held{};
    std::size_t presentations{};
    std::size_t cups{};
    std::set<threshold::Warning::Kind> warned;
    std::string ended;
    struct Measure {
        double error{};
        bool held{};
        bool by_ratio{};
    };
    std::map<std::string, Measure> measures;
};

solution::MixedLadder as_really_off(solution::MixedLadder ladder, const Truth& truth) {
    for (solution::MixedLevel& level : ladder.levels) {
        level.u_own_rel = truth.own_error_rel.value_or(level.u_own_rel);
        level.u_shared_rel = truth.shared_error_rel.value_or(level.u_shared_rel);
    }
    return ladder;
}

drills::Assessor assessor_of(const DrillRun& run, const drills::Habits& habits, Seed own) {
    const Truth& truth = run.truth;
    Random traits{derived(own, 0)};
    drills::Assessor assessor = drills::drawn_assessor(run.plan, traits);
    if (!truth.mixing_errors) assessor.bottles.clear();
    Random spread{derived(own, 1)};
    const double z = spread.normal();
    const double share = spread.uniform();
    if (truth.theta_mean_log10)
        assessor.truth.theta_log10 = *truth.theta_mean_log10 + truth.theta_sd_log10 * z;
    if (truth.width_log10)
        assessor.truth.width_log10 =
            truth.width_log10->from * std::pow(truth.width_log10->to / truth.width_log10->from, share);
    if (truth.lapse) assessor.truth.lapse = *truth.lapse;
    for (drills::Traits& other : assessor.others) {
        if (truth.width_log10) other.truth.width_log10 = assessor.truth.width_log10;
        if (truth.lapse) other.truth.lapse = *truth.lapse;
        if (!truth.mixing_errors) other = {other.truth, 0.0, {}};
    }
    assessor.habits = habits;
    assessor.habits.favoured_place = spread.below(drills::places);
    assessor.mixing_error_shared_log10 = 0.0;
    assessor.mixing_error_own_log10.clear();
    if (!truth.mixing_errors) return assessor;
    Random bottles{derived(own, 2)};
    assessor =
        drills::with_drawn_mixing_errors(std::move(assessor), as_really_off(run.plan.ladder, truth), bottles);
    for (std::size_t i = 0; i < assessor.others.size(); ++i)
        if (drills::line_of_series(run.plan, i + 1) == 0)  // the same bottles
            assessor.others[i] = {assessor.others[i].truth, assessor.mixing_error_shared_log10,
                                  assessor.mixing_error_own_log10};
    return assessor;
}

/// Why it ended, without the figures that differ from person to person.
std::string kind_of_end(const std::string& why) {
    if (why.starts_with("precise enough")) return "precise enough";
    if (why.ends_with("presentations done") || why.ends_with("cups done")) return "all presentations done";
    if (why.ends_with("minutes are over")) return "time is over";
    if (why.starts_with("no portions left")) return "stock is over";
    return "intake";
}

/// What the thresholds of a finding should have been, in their order.
std::vector<double> targets_of(const DrillRun& run, const drills::Assessor& assessor,
                               const drills::State& drill) {
    if (drills::is_fixed(run.plan)) return {};
    const auto after_first = static_cast<double>(drill.trials.empty() ? 0 : drill.trials.size() - 1);
    const double tired = 0.5 * run.truth.fatigue_log10 * after_first;
    std::vector<double> targets{assessor.truth.theta_log10 + tired};
    for (const drills::Traits& other : assessor.others) targets.push_back(other.truth.theta_log10 + tired);
    return targets;
}

void compare(const drills::Finding& finding, const std::vector<double>& targets, Found& found) {
    const auto count = static_cast<double>(finding.thresholds.size());
    double square = 0.0;
    for (std::size_t i = 0; i < finding.thresholds.size(); ++i) {
        const threshold::Threshold& result = finding.thresholds[i].threshold;
        const double error = result.log10 - targets.at(i);
        found.error += error / count;
        square += error * error / count;
        found.sd += result.sd_log10 / count;
        if (result.lower_log10 <= targets[i] && targets[i] <= result.upper_log10) found.held += 1.0 / count;
        for (const threshold::Warning& warning : result.warnings) found.warned.insert(warning.kind);
    }
    found.rms_error = std::sqrt(square);
}

void compare_measures(const drills::Finding& finding, const std::map<std::string, double>& truths,
                      Found& found) {
    for (const drills::Finding::Measure& one : finding.measures) {
        const auto truth = truths.find(one.name);
        if (truth == truths.end()) continue;
        const double error = one.by_ratio ? std::log10(one.value / truth->second) : one.value - truth->second;
        found.measures[one.name] = {error, one.lower <= truth->second && truth->second <= one.upper,
                                    one.by_ratio};
    }
}

drills::State tasted(const DrillRun& run, const drills::Assessor& assessor, Seed own) {
    Random luck{derived(own, 3)};
    constexpr std::int64_t ms_per_second = 1000;
    constexpr std::int64_t tasting_s = 90;  // judgement: three cups and the answer
    drills::State drill = drills::begin(run.plan, derived(own, 4));
    while (!drills::is_finished(drill)) {
        const auto number = static_cast<std::int64_t>(drill.trials.size());
        const std::int64_t ms = number * (tasting_s + run.plan.rest_s) * ms_per_second;
        drill = drills::taste(std::move(drill), assessor, luck, Instant{ms, 0, ms});
    }
    return drill;
}

Found one_drill(const DrillRun& run, const drills::Habits& habits, std::size_t index) {
    const Seed own = derived(run.seed, index);
    const drills::Assessor assessor = assessor_of(run, habits, own);
    const drills::State drill = tasted(run, assessor, own);
    const drills::Finding finding = drills::finding(drill);
    Found found;
    const std::vector<double> targets = targets_of(run, assessor, drill);
    if (drills::is_fixed(run.plan))
        compare_measures(finding, drills::truths_of(run.plan, assessor.senses), found);
    else
        compare(finding, targets, found);
    if (run.plan.kind == drills::Kind::nose) {
        const drills::Finding::Measure& ratio = finding.measures.front();
        const double truth = targets[1] - targets[0];
        found.ratio_error = std::log10(ratio.value) - truth;
        found.ratio_held = std::log10(ratio.lower) <= truth && truth <= std::log10(ratio.upper);
    }
    found.presentations = drill.trials.size();
    found.cups = drills::cups(drill);
    found.ended = kind_of_end(std::get<drills::Finished>(drills::next(drill)).why);
    return found;
}

template <class Of>
Figure mean_over(const std::vector<Found>& all, Of of) {
    std::vector<double> values;
    for (const Found& one : all) values.push_back(static_cast<double>(of(one)));
    return mean_of(values);
}

}  // namespace

std::string name_of(threshold::Warning::Kind kind) {
    using Kind = threshold::Warning::Kind;
    switch (kind) {
        case Kind::too_few:
            return "too few";
        case Kind::guessing:
            return "guessing";
        case Kind::all_correct:
            return "all correct";
        case Kind::against_prior:
            return "against the prior";
        case Kind::grid_edge:
            return "edge of the range";
        case Kind::separable:
            return "separable";
        case Kind::lapses:
            return "lapses";
        case Kind::position_habit:
            return "position habit";
        case Kind::shallow:
            return "slow rise";
        case Kind::fatigue:
            return "fatigue";
        case Kind::carry_over:
            return "carry-over";
    }
    SIPLADDER_EXPECT(false);
    return {};
}

DrillFigures run_drill(const DrillRun& run) {
    SIPLADDER_EXPECT(run.assessors > 0);
    if (run.plan.kind == drills::Kind::tray_check)
        throw Refused("drill", "is the tray check, which gives no threshold", "another drill");
    drills::begin(run.plan, run.seed);  // what cannot be carried out is refused here, once
    drills::Habits habits;
    if (run.truth.position_bias_d_prime > 0.0)
        habits.place_bias = std::make_shared<const drills::PlaceBias>(run.truth.position_bias_d_prime);
    habits.fatigue_log10 = run.truth.fatigue_log10;
    habits.carry_over_log10 = run.truth.carry_over_log10;
    habits.weibull = run.truth.weibull;
    std::vector<Found> all(run.assessors);
    for_each_index(
        run.assessors, run.threads, [&](std::size_t i) { all[i] = one_drill(run, habits, i); }, run.progress);
    std::vector<double> errors;
    DrillFigures figures;
    for (const Found& one : all) {
        errors.push_back(one.rms_error);
        for (const auto kind : one.warned) figures.warned[name_of(kind)];
        figures.ended[one.ended];
    }
    figures.rmse_log10 = rmse_of(errors);
    figures.bias_log10 = mean_over(all, [](const Found& one) { return one.error; });
    figures.coverage_95 = mean_over(all, [](const Found& one) { return one.held; });
    if (run.plan.kind == drills::Kind::nose) {
        figures.ratio_bias_log10 = mean_over(all, [](const Found& one) { return one.ratio_error; });
        figures.ratio_coverage_95 = mean_over(all, [](const Found& one) { return one.ratio_held ? 1 : 0; });
    }
    for (const auto& [name, first] : all.front().measures) {
        std::vector<double> measure_errors;
        std::vector<double> held;
        for (const Found& one : all)
            if (const auto found = one.measures.find(name); found != one.measures.end()) {
                measure_errors.push_back(found->second.error);
                held.push_back(found->second.held ? 1.0 : 0.0);
            }
        figures.measured[name] = {mean_of(measure_errors), mean_of(held), first.by_ratio};
    }
    figures.claimed_sd_log10 = mean_over(all, [](const Found& one) { return one.sd; });
    figures.presentations = mean_over(all, [](const Found& one) { return one.presentations; });
    figures.cups = mean_over(all, [](const Found& one) { return one.cups; });
    for (auto& [name, figure] : figures.warned)
        figure = mean_over(all, [&name = name](const Found& one) {
            int warned = 0;
            for (const auto kind : one.warned)
                if (name_of(kind) == name) warned = 1;
            return warned;
        });
    for (auto& [why, figure] : figures.ended)
        figure = mean_over(all, [&why = why](const Found& one) { return one.ended == why ? 1 : 0; });
    return figures;
}

}  // namespace sipladder::simulate
