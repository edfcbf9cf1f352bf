#include "gui/views/prepare.hpp"

#include "engine/chart/planned_against_mixed.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/text.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

using solution::Component;

std::string number_of(std::size_t count, const std::string& one, const std::string& many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

/// Whole numbers as they are, others with three digits.
std::string amount_text(double amount) {
    return amount == std::floor(amount) ? fixed(amount, 0) : significant(amount, 3);
}

void choose_what(PrepareView& view, const App& app) {
    const content::Content& content = *app.content;
    for (const solution::Substance& substance : content.substances) {
        const bool is_chosen = substance.id == view.setup.substance;
        view.substances.push_back({.label = substance.name,
                                   .is_chosen = is_chosen,
                                   .note = substance.note,
                                   .component = substance.component});
        view.substance_ids.push_back(substance.id);
        if (is_chosen) view.substance_note = substance.note;
    }
    for (const solution::Ingredient& ingredient : content.ingredients_of(view.setup.substance)) {
        const bool is_chosen = ingredient.id == view.setup.ingredient;
        view.ingredients.push_back(
            {.label = ingredient.name, .is_chosen = is_chosen, .note = ingredient.note, .component = {}});
        view.ingredient_ids.push_back(ingredient.id);
        if (!is_chosen) continue;
        view.ingredient_note = ingredient.note;
        if (!ingredient.allergens.empty())
            view.ingredient_note += " Allergens: " + ingredient.allergens + ".";
    }
}

void choose_ladder(PrepareView& view, const App& app) {
    const auto add = [&](Rungs kind, const std::string& label, const std::string& note) {
        view.rungs.push_back(
            {.label = label, .is_chosen = view.setup.rungs == kind, .note = note, .component = {}});
        view.rung_kinds.push_back(kind);
    };
    add(Rungs::six_of_three, "6 rungs, ratio 3",
        "wide enough for most people; the first ladder of a substance");
    add(Rungs::eight_of_two, "8 rungs, ratio 2", "finer, for two bottles more");
    if (own_of(app, view.setup.substance) != nullptr)
        add(Rungs::around_mine, "5 rungs, ratio 2, around my last result",
            "as good as a long ladder once the centre is known");
    add(Rungs::own, "my own", "type the rungs, weakest first");
    view.types_rungs = view.setup.rungs == Rungs::own;
    view.own_rungs = {.text = view.setup.own_rungs,
                      .unit = unit_text(app.content->substance(view.setup.substance).scale),
                      .problem = {}};
}

void choose_for_and_with(PrepareView& view, const App& app) {
    const bool is_served = view.setup.blinding == drills::Blinding::served;
    view.blindings = {
        {.label = "me alone, shuffled tray", .is_chosen = !is_served, .note = {}, .component = {}},
        {.label = "a helper pours", .is_chosen = is_served, .note = {}, .component = {}}};
    view.blinding_note =
        is_served ? "The helper has a printed card; you see codes and a letter, never which cup holds what."
                  : "Three identical opaque cups with signs beneath; you spin the tray with your eyes shut.";
    for (const std::size_t count : {std::size_t{8}, std::size_t{12}, std::size_t{16}, std::size_t{24}}) {
        view.presentations.push_back({.label = std::to_string(count),
                                      .is_chosen = view.setup.presentations == count,
                                      .note = {},
                                      .component = {}});
        view.presentation_counts.push_back(count);
    }
    view.cup = {.text = view.setup.cup_mL, .unit = "mL", .problem = {}};
    for (const solution::Base& base : app.content->bases) {
        view.bases.push_back(
            {.label = base.name, .is_chosen = base.id == view.setup.base, .note = {}, .component = {}});
        view.base_ids.push_back(base.id);
    }
    for (const solution::Equipment& kitchen : app.content->equipment) {
        const bool is_chosen = kitchen.id == view.setup.kitchen;
        view.kitchens.push_back(
            {.label = kitchen.name, .is_chosen = is_chosen, .note = kitchen.note, .component = {}});
        view.kitchen_ids.push_back(kitchen.id);
        if (!is_chosen) continue;
        for (const solution::Balance& balance : kitchen.balances)
            view.kitchen_note += (view.kitchen_note.empty() ? "" : "; ") + balance.name;
        for (const solution::Vessel& vessel : kitchen.vessels)
            view.kitchen_note += (view.kitchen_note.empty() ? "" : "; ") + vessel.name;
    }
}

void show_problems(PrepareView& view, const std::vector<Problem>& problems) {
    for (const Problem& problem : problems) {
        if (problem.where == "Cup")
            view.cup.problem = problem.what + ": " + problem.right;
        else if (problem.where == "Ladder" && view.types_rungs)
            view.own_rungs.problem = problem.what + "; " + problem.right;
        else
            view.problems.push_back(to_text(problem));
    }
}

/// The rungs on a log axis: a tick of the ladder each, behind them what papers report.
chart::Chart strip_of(const App& app, const solution::PlanRequest& request) {
    const std::vector<double>& targets = request.ladder.targets();
    chart::Chart strip;
    double lower = targets.front();
    double upper = targets.back();
    for (const content::ReferenceThreshold& reported : app.content->reference_thresholds) {
        if (reported.substance != request.substance.id) continue;
        strip.marks.emplace_back(chart::ReferenceBand{
            .from = reported.lower,
            .to = reported.upper,
            .label = {},
            .hover = "papers report " + significant(reported.lower, 2) + " to " +
                     significant(reported.upper, 2) + " " + unit_text(request.ladder.scale()) + " (" +
                     reported.kind + ", " + reported.source + ")"});
        lower = std::min(lower, reported.lower);
        upper = std::max(upper, reported.upper);
    }
    strip.x = {.kind = chart::AxisKind::logarithmic,
               .from = lower / 1.6,
               .to = upper * 1.6,
               .unit = unit_text(request.ladder.scale()),
               .ticks = {},
               .shown = true,
               .ruled = false};
    strip.y = {.kind = chart::AxisKind::linear,
               .from = 0.0,
               .to = 1.0,
               .unit = {},
               .ticks = {},
               .shown = false,
               .ruled = false};
    if (const PalateEntry* own = own_of(app, request.substance.id))
        strip.marks.emplace_back(chart::Ridge{.x =
                                                  [&] {
                                                      std::vector<double> x;
                                                      for (const double log10 :
                                                           own->threshold.theta_grid_log10)
                                                          x.push_back(std::pow(10.0, log10));
                                                      return x;
                                                  }(),
                                              .density = own->threshold.theta_density,
                                              .base = 0.5,
                                              .rise = 0.5,
                                              .ink = chart::ink_of(request.substance.component),
                                              .hover = "your last result"});
    strip.marks.emplace_back(chart::Line{.points = {{targets.front(), 0.5}, {targets.back(), 0.5}},
                                         .ink = chart::Ink::muted,
                                         .width = 1.0,
                                         .dash = chart::Dash::solid});
    for (const double target : targets)
        strip.marks.emplace_back(
            chart::Marker{.at = {target, 0.5},
                          .shape = chart::shape_of(request.substance.component),
                          .ink = chart::ink_of(request.substance.component),
                          .size = 1.0,
                          .filled = true,
                          .label = significant(target, 2),
                          .hover = significant(target, 2) + " " + unit_text(request.ladder.scale())});
    return strip;
}

void add_intake(std::vector<Shown>& items, double amount, const std::string& unit_and_what) {
    if (amount > 0.0)
        items.push_back({significant(amount, 2) + " " + unit_and_what,
                         "if every presentation were the strongest rung and all of it swallowed"});
}

void show_costs(PrepareView& view, const App& app) {
    const solution::Substance& substance = app.content->substance(view.setup.substance);
    const std::size_t cups = 3 * view.setup.presentations;
    view.costs.items.push_back({number_of(cups, "cup", "cups"), "three to a presentation"});
    view.costs.items.push_back(
        {"about " + std::to_string(seconds_of(substance, view.setup.presentations) / 60) + " min",
         "rests of " + std::to_string(substance.rest_s) + " s, and two minutes to pour and taste each time"});
    view.costs.against = against_keeping(app);
    if (!app.bench.plan) return;
    const safety::Intake worst = worst_of(*app.bench.plan);
    add_intake(view.costs.items, worst.sugar.value, "g sugar at most");
    add_intake(view.costs.items, worst.acid.value, "g acid at most");
    add_intake(view.costs.items, worst.salt.value, "g salt at most");
    add_intake(view.costs.items, worst.tannin.value, "g tannin at most");
    add_intake(view.costs.items, worst.ethanol.value, "g ethanol at most");
    if (worst.ethanol.value <= 0.0) view.costs.items.push_back({"no ethanol", "nothing here holds any"});
}

std::string result_of(const solution::MixPlan& plan) {
    double worst = 0.0;
    double shared = 0.0;
    for (const solution::PlannedLevel& level : plan.levels) {
        worst = std::max(worst, level.u_rel());
        shared = std::max(shared, level.u_shared_rel);
    }
    const std::string stocks =
        plan.stocks.empty() ? "No stock" : number_of(plan.stocks.size(), "stock", "stocks");
    return stocks + ", " + number_of(plan.steps.size(), "step", "steps") + ". Every rung within " +
           percent(worst) + " (wanted " + percent(plan.request.wanted_u_rel) + "); " + percent(shared) +
           " of it common to all rungs.";
}

void show_steps(PrepareView& view, const Bench& bench, const ReadReadings& read) {
    for (std::size_t i = 0; i < bench.plan->steps.size(); ++i) {
        const solution::Step& step = bench.plan->steps[i];
        StepView shown{.text = step.text,
                       .with = step.with,
                       .is_done = bench.ticked.contains(i),
                       .takes_reading = step.takes_reading,
                       .reading = {},
                       .planned = exact(step.reading) + " " + step.unit};
        shown.reading.unit = step.unit;
        if (const auto typed = bench.typed.find(i); typed != bench.typed.end())
            shown.reading.text = typed->second;
        if (const auto problem = read.problems.find(i); problem != read.problems.end())
            shown.reading.problem = problem->second.what + ": " + problem->second.right;
        view.steps.push_back(std::move(shown));
    }
}

chart::Chart mixed_chart(const solution::MixPlan& plan, const solution::Readings& readings) {
    const solution::MixedLadder mixed = solution::as_mixed(plan, readings);
    chart::PlannedAgainstMixed data{
        .title = {}, .component = plan.request.substance.component, .scale = mixed.scale, .rungs = {}};
    for (const solution::MixedLevel& level : mixed.levels) {
        const auto planned = std::ranges::find(plan.levels, level.bottle, &solution::PlannedLevel::bottle);
        data.rungs.push_back({.target = level.target,
                              .planned = planned == plan.levels.end() ? level.target : planned->mixed,
                              .mixed = level.mixed,
                              .u_rel = std::hypot(level.u_own_rel, level.u_shared_rel),
                              .bottle = level.bottle});
    }
    return chart::planned_against_mixed(data);
}

void show_plan(PrepareView& view, const Bench& bench) {
    const solution::MixPlan& plan = *bench.plan;
    view.has_plan = true;
    view.result = result_of(plan);
    view.advice = plan.advice;
    for (const solution::ShoppingItem& item : plan.shopping)
        view.shopping.push_back(amount_text(item.amount) + " " + item.unit + " " + item.what);
    const ReadReadings read = read_readings(bench);
    show_steps(view, bench, read);
    for (const solution::Check& check : plan.checks)
        view.checks.push_back(check.what + " should read " + significant(check.expected, 3) + " " +
                              check.unit + "; within " + significant(check.passes_within, 1) + " passes.");
    view.mixed = mixed_chart(plan, read.readings);
    view.cautions = plan.cautions;
}

}  // namespace

PrepareView prepare_view(const App& app) {
    PrepareView view;
    view.setup = app.bench.setup;
    choose_what(view, app);
    choose_ladder(view, app);
    choose_for_and_with(view, app);
    show_problems(view, app.bench.problems);
    const auto request = request_of(app, view.setup);
    if (const auto* good = std::get_if<solution::PlanRequest>(&request)) view.strip = strip_of(app, *good);
    show_costs(view, app);
    view.is_planning = app.bench.job.has_value();
    if (app.bench.plan) show_plan(view, app.bench);
    view.can_keep = view.has_plan && view.costs.against.empty();
    return view;
}

}  // namespace sipladder::gui
