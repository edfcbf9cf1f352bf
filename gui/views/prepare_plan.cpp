#include "engine/chart/planned_against_mixed.hpp"
#include "engine/text.hpp"
#include "gui/app/planning.hpp"
#include "gui/views/prepare.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

/// "6.4 g", "7 ×", "20 L": litres where there are many millilitres.
std::string amount_text(double amount, const std::string& unit, VolumeUnit volume = VolumeUnit::mL) {
    if (unit == "mL" && volume != VolumeUnit::mL)
        return volume_text(Millilitres{amount}, volume, amount_text(amount, unit));
    if (unit == "mL" && amount >= 1000.0) return shortest(amount / 1000.0, 3) + " L";
    if (unit == "pieces") return fixed(amount, 0) + " ×";
    return (amount == std::floor(amount) ? fixed(amount, 0) : shortest(amount, 3)) + " " + unit;
}

std::string result_of(const solution::MixPlan& plan) {
    double worst = 0.0;
    double shared = 0.0;
    for (const solution::PlannedLevel& level : plan.levels) {
        worst = std::max(worst, level.u_rel());
        shared = std::max(shared, level.u_shared_rel);
    }
    const std::string stocks =
        plan.stocks.empty() ? "No stock" : counted(plan.stocks.size(), "stock", "stocks");
    return stocks + ", " + counted(plan.steps.size(), "step", "steps") + ". Every rung within " +
           percent(worst) + " (wanted " + percent(plan.request.wanted_u_rel) + "); " + percent(shared) +
           " of it common to all rungs.";
}

Field typed_field(const std::string& text, const std::string& unit) {
    return {.text = text, .unit = unit, .problem = {}};
}

StepView step_view(const solution::Step& step, const StepNote& note) {
    return {.text = step.text,
            .is_done = note.ticked,
            .takes_reading = step.takes_reading,
            .reading = typed_field(note.reading, step.unit),
            .planned = exact(step.reading) + " " + step.unit,
            .fate = note.fate,
            .left = typed_field(note.left, step.unit)};
}

void show_steps(PlanView& view, const solution::MixPlan& plan, const BenchNotes& notes,
                const ReadNotes& read) {
    for (std::size_t i = 0; i < plan.steps.size(); ++i) {
        const auto noted = notes.steps.find(i);
        StepView step = step_view(plan.steps[i], noted == notes.steps.end() ? StepNote{} : noted->second);
        if (const auto problem = read.problems.find(i); problem != read.problems.end())
            (step.fate == Fate::spilled ? step.left : step.reading).problem =
                problem->second.what + ": " + problem->second.right;
        view.steps.push_back(std::move(step));
    }
}

/// Decimals that show how far off still passes.
int decimals_for(double passes_within) {
    if (!(passes_within > 0.0)) return 2;
    return std::clamp(1 - static_cast<int>(std::floor(std::log10(passes_within))), 0, 5);
}

void show_checks(PlanView& view, const solution::MixPlan& plan, const BenchNotes& notes,
                 const ReadNotes& read) {
    for (const solution::Check& check : plan.checks) {
        const int decimals = decimals_for(check.passes_within);
        const double least = check.expected - check.passes_within;
        const double most = check.expected + check.passes_within;
        const std::string unit = check.unit.empty() ? "" : " " + check.unit;
        CheckView shown{.id = check.what,
                        .text = check.what + " should read " + fixed(check.expected, decimals) + unit + "; " +
                                fixed(least, decimals) + " to " + fixed(most, decimals) + " passes.",
                        .read = typed_field({}, check.unit),
                        .found = {}};
        if (const auto typed = notes.checks.find(check.what); typed != notes.checks.end())
            shown.read.text = typed->second;
        if (const auto problem = read.check_problems.find(check.what); problem != read.check_problems.end())
            shown.read.problem = problem->second.what + ": " + problem->second.right;
        if (const auto number = read.checks.find(check.what); number != read.checks.end()) {
            shown.passes = number->second >= least && number->second <= most;
            shown.found = shown.passes ? "Passes."
                          : check.otherwise.empty()
                              ? "Does not pass: do not taste from it; begin this solution anew."
                              : "Does not pass: " + check.otherwise;
        }
        view.checks.push_back(std::move(shown));
    }
}

chart::Chart mixed_chart(const solution::MixPlan& plan, const solution::MixedLadder& mixed) {
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

BudgetView budget_view(const solution::MixedLevel& level, const std::vector<solution::BudgetLine>& lines,
                       Scale scale) {
    BudgetView view{.title = "Bottle " + level.bottle + ", " + significant(level.mixed, 3) + " " +
                             unit_text(scale) + " ± " +
                             percent(std::hypot(level.u_own_rel, level.u_shared_rel)) + ": " +
                             percent(level.u_own_rel) + " of its own, " + percent(level.u_shared_rel) +
                             " shared with other rungs",
                    .lines = {}};
    for (const solution::BudgetLine& line : lines)
        view.lines.push_back({.what = line.what,
                              .own = line.shared ? "" : percent(line.u_rel),
                              .shared = line.shared ? percent(line.u_rel) : ""});
    return view;
}

void show_mixed(PlanView& view, const solution::MixPlan& plan, const ReadNotes& read) {
    try {
        const solution::AsMixed mixed = mixed_after(plan, read.record);
        view.mixed = mixed_chart(plan, mixed.ladder);
        for (const solution::Missed& missed : mixed.missed) view.missed.push_back(missed.reason);
        view.missed.insert(view.missed.end(), mixed.notes.begin(), mixed.notes.end());
        for (std::size_t i = 0; i < std::min(mixed.budgets.size(), mixed.ladder.levels.size()); ++i)
            view.budgets.push_back(budget_view(mixed.ladder.levels[i], mixed.budgets[i], mixed.ladder.scale));
    } catch (const Refused& refused) {
        for (const Problem& problem : refused.problems()) view.missed.push_back(to_text(problem));
    }
}

}  // namespace

PlanView plan_view(const solution::MixPlan& plan, const Bench& bench, bool is_former, VolumeUnit volume) {
    PlanView view;
    view.result = result_of(plan);
    view.advice = plan.advice;
    view.tree = chart::dilution_tree(plan);
    const BenchNotes none;
    const BenchNotes& notes = is_former ? none : bench.notes;
    const ReadNotes read = is_former ? ReadNotes{} : read_notes(bench);
    show_steps(view, plan, notes, read);
    show_checks(view, plan, notes, read);
    show_mixed(view, plan, read);
    for (const solution::ShoppingItem& item : plan.shopping)
        view.shopping.push_back(amount_text(item.amount, item.unit, volume) + " " + item.what +
                                (item.why.empty() ? "" : " (" + item.why + ")"));
    for (const solution::Keeping& keeping : plan.keeping)
        view.keeping.push_back(keeping.what + ": at most " +
                               counted(static_cast<std::size_t>(keeping.hours), "hour", "hours") +
                               (keeping.how.empty() ? "" : ", " + keeping.how));
    view.cautions = plan.cautions;
    return view;
}

}  // namespace sipladder::gui
