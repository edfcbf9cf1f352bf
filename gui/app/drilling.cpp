#include "gui/app/drilling.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

threshold::Prior prior_of(const solution::Substance& substance) {
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::assumed;
    prior.name = "assumed for " + substance.name + " (" + substance.prior.why + ")";
    prior.mean_log10 = std::log10(substance.prior.centre);
    prior.sd_log10 = substance.prior.sd_log10;
    return prior;
}

}  // namespace

drills::detection::Plan drill_plan(const App& app, const drills::record::KeptMix& mix) {
    const solution::Substance& substance = app.content->substance(mix.substance);
    drills::detection::Plan plan;
    plan.substance = substance;
    plan.base_name = mix.base_name;
    plan.ladder = mix.ladder;
    plan.prior = prior_of(substance);
    plan.blinding = app.chosen_blinding;
    plan.cup = app.chosen_cup;
    plan.most_presentations = app.chosen_presentations;
    plan.rest_s = substance.rest_s;
    plan.caps = app.content->cautions.caps;
    plan.taken_today = app.history->taken_today;
    return plan;
}

}  // namespace sipladder::gui
