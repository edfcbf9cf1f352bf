#include "gui/app/drilling.hpp"

#include "drills/plans.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

drills::detection::Plan drill_plan(const App& app, const drills::record::KeptMix& mix) {
    drills::DetectionOptions options;
    options.blinding = app.chosen_blinding;
    options.presentations = app.chosen_presentations;
    options.cup = app.chosen_cup;
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
