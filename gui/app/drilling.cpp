#include "gui/app/drilling.hpp"

#include "drills/plans.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

std::optional<drills::OwnHistory> own_history_for(const App& app, const drills::record::KeptMix& mix) {
    if (!app.history) return std::nullopt;
    for (const PalateEntry& entry : app.history->palate) {
        const drills::detection::Plan& plan = entry.past.state.plan;
        if (plan.substance.id != mix.substance || plan.base_name != mix.base_name) continue;
        constexpr double ms_a_week = 7.0 * 24.0 * 3600.0 * 1000.0;
        return drills::OwnHistory{
            .last = entry.threshold,
            .date = to_date(entry.past.started),
            .weeks_ago =
                std::max(0.0, static_cast<double>(app.now.utc_ms - entry.past.last.utc_ms) / ms_a_week),
            .same_mix = plan.ladder == mix.ladder};
    }
    return std::nullopt;
}

drills::PriorChoice prior_choice(const App& app, const drills::record::KeptMix& mix) {
    using drills::PriorChoice;
    const bool has_history = own_history_for(app, mix).has_value();
    const PriorChoice chosen =
        app.chosen_prior.value_or(has_history ? PriorChoice::own_history : PriorChoice::assumed);
    return chosen == PriorChoice::own_history && !has_history ? PriorChoice::assumed : chosen;
}

drills::detection::Plan drill_plan(const App& app, const drills::record::KeptMix& mix) {
    drills::DetectionOptions options;
    options.blinding = app.chosen_blinding;
    options.presentations = app.chosen_presentations;
    options.cup = app.chosen_cup;
    options.prior = prior_choice(app, mix);
    options.history = own_history_for(app, mix);
    drills::detection::Plan plan =
        drills::detection_plan(*app.content, mix.ladder, options, app.history->taken_today);
    plan.base_name = mix.base_name;
    return plan;
}

chart::Chart curve_of(const PastDrill& past, const threshold::Threshold& threshold) {
    const drills::detection::State& state = past.state;
    const auto& levels = state.plan.ladder.levels;
    threshold::Posterior posterior(state.plan.prior, threshold::three_afc, threshold::Fineness::coarse);
    for (const threshold::Answered& answer : drills::detection::answered(state))
        posterior.update(Log10Level{std::log10(levels.at(answer.level).mixed)}, answer.correct);
    return chart::psychometric_curve(
        {.title = {},
         .component = state.plan.substance.component,
         .levels = chart::pooled(state.plan.ladder, drills::detection::answered(state)),
         .curve = chart::curve_over(state.plan.ladder, posterior),
         .threshold = threshold});
}

}  // namespace sipladder::gui
