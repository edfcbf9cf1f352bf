#include "gui/views/prepare.hpp"

#include "engine/chart/ticks.hpp"
#include "engine/content/own.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

using solution::Component;

/// What is typed, or what stands there while nothing is.
Field field_of(const std::string& typed, double otherwise, const std::string& unit) {
    return {.text = typed.empty() ? exact(otherwise) : typed, .unit = unit, .problem = {}};
}

void choose_what(PrepareView& view, const App& app) {
    const content::Content& content = *app.content;
    for (const solution::Substance& substance : content.substances) {
        const auto holds = [&](const Bench& one) { return one.setup.substance == substance.id; };
        if (content.struck_out.contains(substance.id)) continue;
        const bool is_chosen = substance.id == view.setup.substance;
        if (!is_chosen && std::ranges::any_of(app.beside, holds))
            continue;  // stands among the ladders already
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
        if (!ingredient.allergens.empty()) view.allergens = "Allergens: " + ingredient.allergens;
        const StatedStrength stated = stated_strength(ingredient);
        view.strength =
            field_of(view.setup.strength, number_from_file(significant(stated.value, 4)).value_or(0.0), {});
        view.strength_within =
            field_of(view.setup.strength_within,
                     number_from_file(significant(stated.within, 3)).value_or(0.0), stated.unit);
    }
}

/// "6 rungs from 0.15 to 36 g/L, ratio 3.0"
std::string rungs_text(const solution::Ladder& ladder) {
    const std::vector<double>& targets = ladder.targets();
    double least = 1e9;
    double most = 0.0;
    for (std::size_t i = 1; i < targets.size(); ++i) {
        least = std::min(least, targets[i] / targets[i - 1]);
        most = std::max(most, targets[i] / targets[i - 1]);
    }
    const std::string ratio = most / least < 1.15
                                  ? "ratio " + significant(std::sqrt(least * most), 2)
                                  : "ratios " + significant(least, 2) + " to " + significant(most, 2);
    return std::to_string(targets.size()) + " rungs from " + significant(targets.front(), 2) + " to " +
           significant(targets.back(), 2) + " " + unit_text(ladder.scale()) + ", " + ratio;
}

void choose_ladder(PrepareView& view, const App& app) {
    if (view.is_written) return;
    const auto add = [&](Rungs kind, const std::string& label, const std::string& note) {
        view.rungs.push_back(
            {.label = label, .is_chosen = view.setup.rungs == kind, .note = note, .component = {}});
        view.rung_kinds.push_back(kind);
        view.rung_ladders.emplace_back();
    };
    if (view.setup.drill == "difference") {
        add(Rungs::pedestal, "a pedestal and steps that double",
            "what every cup holds, and five steps above it");
        add(Rungs::own, "my own", "type the rungs, weakest first: that one stands in every cup");
    } else {
        add(Rungs::six_of_three, "6 rungs, ratio 3",
            "wide enough for most people; the first ladder of a substance");
        add(Rungs::eight_of_two, "8 rungs, ratio 2", "finer, for two bottles more");
        if (own_of(app, view.setup) != nullptr)
            add(Rungs::around_mine, "5 rungs, ratio 2, around my last result",
                "as good as a long ladder once the centre is known");
        add(Rungs::from_end_to_end, "from end to end",
            "set the weakest rung, the ratio and how many; or drag the ends");
        add(Rungs::own, "my own", "type the rungs, weakest first");
        for (const solution::Ladder& ladder : app.content->ladders) {
            if (!content::is_own(ladder.id()) || ladder.substance() != view.setup.substance) continue;
            add(Rungs::kept, app.content->ladder_reasons.at(ladder.id()), rungs_text(ladder));
            view.rung_ladders.back() = ladder.id();
            view.rungs.back().is_chosen = view.setup.rungs == Rungs::kept && view.setup.ladder == ladder.id();
        }
    }
    const std::string unit = unit_text(app.content->substance(view.setup.substance).scale);
    view.own_rungs = {.text = view.setup.own_rungs, .unit = unit, .problem = {}};
    view.lowest = {.text = view.setup.lowest, .unit = unit, .problem = {}};
    view.ratio = {.text = view.setup.ratio, .unit = {}, .problem = {}};
    view.count = {.text = view.setup.count, .unit = {}, .problem = {}};
}

/// "20 g/L in every cup, and in one of two 0.7, 1.4, 2.8, 5.5 or 11 g/L more"
std::string steps_text(const solution::PlanRequest& request) {
    std::vector<double> added = request.ladder.targets();
    double beneath = solution::held_in_base(request.base, request.substance.id).value;
    if (beneath <= 0.0) {
        beneath = added.front();
        added.erase(added.begin());
        for (double& level : added) level -= beneath;
    }
    std::string steps;
    for (std::size_t i = 0; i < added.size(); ++i)
        steps += (i == 0 ? "" : i + 1 == added.size() ? " or " : ", ") + significant(added[i], 2);
    const std::string unit = " " + unit_text(request.ladder.scale());
    return shortest(beneath, 3) + unit + " in every cup, and in one of two " + steps + unit + " more";
}

/// "In every cup, blanks too: 2.5 g/L tartaric acid, 3 g/L glycerol"; empty for plain water.
std::string contents_of(const solution::Base& base) {
    std::string contents;
    for (const solution::Constituent& part : base.constituents)
        contents += (contents.empty() ? "In every cup, blanks too: " : ", ") + shortest(part.held.value, 3) +
                    " g/L " + part.substance.name;
    if (base.potassium.value > 0.0)
        contents += (contents.empty() ? "In every cup, blanks too: " : ", ") +
                    shortest(base.potassium.value, 3) + " mmol/L potassium as " +
                    solution::potassium_salt_name(base.potassium_salt);
    return contents;
}

void choose_for_and_with(PrepareView& view, const App& app) {
    view.cup = {.text = view.setup.cup_mL, .unit = "mL", .problem = {}};
    if (const auto cup = number_from_typed(view.setup.cup_mL);
        cup && *cup > 0.0 && app.usual.volume == VolumeUnit::us_fl_oz)
        view.cup.unit = "mL, " + us_fl_oz_text(Millilitres{*cup}) + " US fl oz";
    view.people = {
        .text = view.setup.people, .unit = view.setup.people == "1" ? "taster" : "tasters", .problem = {}};
    for (const solution::Base& base : app.content->bases) {
        view.bases.push_back(
            {.label = base.name, .is_chosen = base.id == view.setup.base, .note = {}, .component = {}});
        view.base_ids.push_back(base.id);
        if (base.id != view.setup.base) continue;
        view.base_text = contents_of(base);
        view.bicarbonate = field_of(view.setup.bicarbonate, base.bicarbonate_mg_per_L, "mg/L");
    }
    if (app.content->substance(view.setup.substance).component == Component::sour)
        view.base_note =
            "From the label of the water: it eats acid, the weakest rungs' first. Less is better here.";
    for (const solution::Equipment& kitchen : app.content->equipment) {
        const bool is_chosen = kitchen.id == view.setup.kitchen;
        view.kitchens.push_back(
            {.label = kitchen.name, .is_chosen = is_chosen, .note = kitchen.note, .component = {}});
        view.kitchen_ids.push_back(kitchen.id);
        if (is_chosen) view.kitchen_note = instruments_text(kitchen);
    }
    if (view.setup.kitchen != first_setup(app).kitchen && view.setup.kitchen_file.empty())
        view.kitchen_note += ". To begin with it next time, choose it in Settings (F4).";
    view.kitchen_path = {.text = app.kitchen_path, .unit = {}, .problem = {}};
}

/// Each beside its field, where it has one on the screen.
void show_problems(PrepareView& view, const std::vector<Problem>& problems) {
    const bool sets_ends = view.setup.rungs == Rungs::from_end_to_end;
    const std::vector<std::pair<std::string, Field*>> fields{
        {label::cup, &view.cup},
        {label::people, &view.people},
        {label::strength, &view.strength},
        {label::within, &view.strength_within},
        {label::bicarbonate, &view.bicarbonate},
        {label::lowest, sets_ends ? &view.lowest : nullptr},
        {label::ratio, sets_ends ? &view.ratio : nullptr},
        {label::count, sets_ends ? &view.count : nullptr},
        {label::ladder, view.setup.rungs == Rungs::own ? &view.own_rungs : nullptr}};
    for (const Problem& problem : problems) {
        const auto found = std::ranges::find(fields, problem.where, &std::pair<std::string, Field*>::first);
        if (found != fields.end() && found->second != nullptr)
            found->second->problem = problem.what + ": " + problem.right;
        else
            view.problems.push_back(to_text(problem));
    }
}

/// The rungs on a log axis: a tick of the ladder each, behind them what papers report.
chart::Chart strip_of(const App& app, const solution::PlanRequest& request) {
    const std::vector<double>& targets = request.ladder.targets();
    chart::Chart strip;
    // So wide that no pull at an end moves the axis under the hand; small steps are shown from near by.
    const bool is_near = targets[1] / targets[0] < 1.5;
    double lower = is_near ? targets.front() / 1.1
                           : std::min(targets.front() / 1.6, request.substance.prior.centre / 200.0);
    double upper = is_near ? targets.back() * 1.1
                           : std::max(targets.back() * 1.6, request.substance.strongest_cup * 1.7);
    for (const content::ReferenceThreshold& reported : app.content->reference_thresholds) {
        if (reported.substance != request.substance.id || is_near) continue;
        strip.marks.emplace_back(chart::ReferenceBand{
            .from = reported.lower,
            .to = reported.upper,
            .label = {},
            .hover = "papers report " + shortest(reported.lower, 2) + " to " + shortest(reported.upper, 2) +
                     " " + unit_text(request.ladder.scale()) + " (" + reported.kind + ", " + reported.source +
                     ")"});
        lower = std::min(lower, reported.lower);
        upper = std::max(upper, reported.upper);
    }
    strip.x = {.kind = chart::AxisKind::logarithmic,
               .from = lower,
               .to = upper,
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
    if (const PalateEntry* own = own_of(app, app.bench.setup); own != nullptr && !is_near)
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
    const int digits = chart::digits_apart(targets, 2);
    for (const double target : targets)
        strip.marks.emplace_back(
            chart::Marker{.at = {target, 0.5},
                          .shape = chart::shape_of(request.substance.component),
                          .ink = chart::ink_of(request.substance.component),
                          .size = 1.0,
                          .filled = true,
                          .label = significant(target, digits),
                          .hover = significant(target, digits) + " " + unit_text(request.ladder.scale())});
    return strip;
}

/// What keeping means, and how far the mixing has come: the button is there from the start.
std::string keep_note(const std::vector<const Bench*>& all) {
    std::size_t steps = 0;
    std::size_t ticked = 0;
    for (const Bench* bench : all) {
        steps += bench->plan ? bench->plan->steps.size() : 0;
        for (const auto& [step, note] : bench->notes.steps) ticked += note.ticked ? 1 : 0;
    }
    return std::to_string(ticked) + " of " + counted(steps, "step", "steps") +
           " done. Keep it when the bottles stand there mixed: a step without a reading counts as written.";
}

}  // namespace

PrepareView prepare_view(const App& app) {
    PrepareView view;
    view.setup = app.bench.setup;
    show_sitting(view, app);
    choose_what(view, app);
    choose_ladder(view, app);
    choose_for_and_with(view, app);
    show_problems(view, app.bench.problems);
    const auto request = request_of(app, view.setup);
    if (const auto* good = std::get_if<solution::PlanRequest>(&request)) {
        view.strip = strip_of(app, *good);
        view.strip_ends = {good->ladder.targets().front(), good->ladder.targets().back()};
        const bool is_difference = view.setup.programme.empty() && view.setup.drill == "difference";
        view.rungs_note = is_difference ? steps_text(*good) : rungs_text(good->ladder);
    }
    const std::vector<const Bench*> all = benches(app);
    view.is_planning = std::ranges::any_of(all, [](const Bench* one) { return one->job.has_value(); });
    view.is_former = !app.bench.plan && app.bench.former_plan && app.bench.job;
    if (app.bench.plan)
        view.plan = plan_view(*app.bench.plan, app.bench, false, app.usual.volume);
    else if (view.is_former)
        view.plan = plan_view(*app.bench.former_plan, app.bench, true, app.usual.volume);
    view.budget_open = app.budget_open;
    const bool is_planned = std::ranges::all_of(all, [](const Bench* one) { return one->plan != nullptr; });
    view.can_keep = is_planned && view.costs.against.empty();
    if (view.can_keep) view.keep_note = keep_note(all);
    return view;
}

}  // namespace sipladder::gui
