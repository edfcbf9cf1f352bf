#pragma once

#include "engine/chart/chart.hpp"
#include "engine/chart/dilution_tree.hpp"
#include "gui/app/app.hpp"
#include "gui/views/shown.hpp"

#include <string>
#include <vector>

namespace sipladder::gui {

struct StepView {
    std::string text;
    bool is_done = false;
    bool takes_reading = false;
    Field reading;        ///< what was really shown; its unit
    std::string planned;  ///< what should be shown, with unit
    Fate fate = Fate::as_written;
    Field left;  ///< asked for where it was spilled
};

/// Costs, before anything is mixed.
struct CostView {
    std::vector<Shown> items;          ///< cups, minutes, every capped intake
    std::vector<std::string> against;  ///< what stands against keeping; empty: nothing
    std::string note;                  ///< that it takes more than one sitting
};

struct CheckView {
    std::string id;     ///< what TypeCheck names
    std::string text;   ///< "hydrometer in stock A should read 1.0077; 1.0067 to 1.0087 passes"
    Field read;         ///< what was read
    std::string found;  ///< "passes", or what to do; empty: nothing read yet
    bool passes = false;
};

/// One level's error budget, own and shared parts apart.
struct BudgetView {
    std::string title;  ///< "K, 0.150 g/L ± 0.40 %: 0.38 % of its own, 0.12 % shared"
    struct Line {
        std::string what;
        std::string own;  ///< one of the two is empty
        std::string shared;
    };
    std::vector<Line> lines;  ///< largest first
};

/// Everything that hangs on a plan.
struct PlanView {
    std::string result;  ///< "2 stocks, 13 steps. Every rung within 2.8 % …"
    std::string advice;
    chart::DilutionTree tree;
    std::vector<StepView> steps;
    std::vector<CheckView> checks;
    std::vector<std::string> missed;    ///< what the notes at the bench did to the levels
    std::optional<chart::Chart> mixed;  ///< planned against mixed
    std::vector<BudgetView> budgets;    ///< shown on demand
    std::vector<std::string> shopping;
    std::vector<std::string> keeping;  ///< how long what is mixed may be used
    std::vector<std::string> cautions;
};

/// One of the ladders of a sitting, to open.
struct LadderTab {
    Choice choice;
    std::string state;  ///< "3 of 13 steps", "being planned", "to be mended"
};

struct PrepareView {
    std::string title;           ///< "Prepare a ladder", "Prepare: Acid and sugar"
    std::vector<Choice> drills;  ///< in the order of `offers`; none is chosen while a programme is
    std::string drill_note;
    std::vector<Choice> programmes;
    std::vector<std::string> programme_ids;
    std::vector<std::string> sitting;  ///< several drills: a line each
    std::vector<LadderTab> ladders;    ///< several: which is shown
    std::vector<Choice> more;          ///< substances that could be told apart as well
    std::vector<std::string> more_ids;
    bool can_remove = false;         ///< the open ladder
    bool is_written = false;         ///< what and its rungs follow from the programme
    std::vector<Choice> substances;  ///< in the order of Content::substances
    std::vector<std::string> substance_ids;
    std::string substance_note;
    std::vector<Choice> ingredients;
    std::vector<std::string> ingredient_ids;
    std::string ingredient_note;
    std::string allergens;  ///< empty: none known
    Field strength;         ///< as stated on this pack
    Field strength_within;
    std::vector<Choice> rungs;  ///< in the order of `rung_kinds`
    std::vector<Rungs> rung_kinds;
    std::vector<std::string> rung_ladders;  ///< ids, of Rungs::kept
    Field own_rungs;
    Field lowest;
    Field ratio;
    Field count;
    std::optional<chart::Chart> strip;  ///< the rungs on their log axis, with what papers report
    std::vector<double> strip_ends;     ///< lowest and highest rung
    std::string rungs_note;             ///< what the rungs are, in words
    bool can_drag = false;              ///< the ends of the ladder
    std::vector<Choice> pours;
    std::vector<Pours> pours_kinds;
    std::string blinding_note;
    std::string presentations_are;      ///< "presentations", "cups"
    std::vector<Choice> presentations;  ///< none: the programme says it
    std::vector<std::size_t> presentation_counts;
    Field cup;
    Field people;
    std::vector<Choice> bases;
    std::vector<std::string> base_ids;
    std::string base_text;  ///< what is in it
    Field bicarbonate;
    std::string base_note;
    std::vector<Choice> kitchens;
    std::vector<std::string> kitchen_ids;
    std::string kitchen_note;
    Field kitchen_path;
    Setup setup;  ///< what a change starts from
    CostView costs;

    bool is_planning = false;
    bool is_former = false;  ///< the plan shown is of the form before the last change
    std::vector<std::string> problems;
    std::optional<PlanView> plan;
    bool budget_open = false;
    bool can_keep = false;
    std::string keep_note;  ///< beside what keeps it
};

PrepareView prepare_view(const App& app);
/// The part that all ladders share: drill or programme, ladders, who pours, costs. Wants view.setup.
void show_sitting(PrepareView& view, const App& app);
/// @param bench  the plan shown is bench.plan, or the former one where that is still being worked out
/// @param volume  of what is got ready
PlanView plan_view(const solution::MixPlan& plan, const Bench& bench, bool is_former,
                   VolumeUnit volume = VolumeUnit::mL);

}  // namespace sipladder::gui
