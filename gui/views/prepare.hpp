#pragma once

#include "engine/chart/chart.hpp"
#include "gui/app/app.hpp"
#include "gui/views/shown.hpp"

#include <string>
#include <vector>

namespace sipladder::gui {

struct StepView {
    std::string text;
    std::string with;  ///< which balance or vessel
    bool is_done = false;
    bool takes_reading = false;
    Field reading;        ///< what was really shown; its unit
    std::string planned;  ///< what should be shown, with unit
};

/// Costs, before anything is mixed.
struct CostView {
    std::vector<Shown> items;          ///< cups, minutes, intake
    std::vector<std::string> against;  ///< what stands against keeping; empty: nothing
};

struct PrepareView {
    std::vector<Choice> substances;  ///< in the order of Content::substances
    std::vector<std::string> substance_ids;
    std::string substance_note;
    std::vector<Choice> ingredients;
    std::vector<std::string> ingredient_ids;
    std::string ingredient_note;
    std::vector<Choice> rungs;  ///< in the order of `rung_kinds`
    std::vector<Rungs> rung_kinds;
    Field own_rungs;
    bool types_rungs = false;
    std::optional<chart::Chart> strip;  ///< the rungs on their log axis, with what papers report
    std::vector<Choice> blindings;      ///< shuffled tray, served
    std::string blinding_note;
    std::vector<Choice> presentations;
    std::vector<std::size_t> presentation_counts;
    Field cup;
    std::vector<Choice> bases;
    std::vector<std::string> base_ids;
    std::vector<Choice> kitchens;
    std::vector<std::string> kitchen_ids;
    std::string kitchen_note;
    Setup setup;  ///< what a change starts from
    CostView costs;

    bool is_planning = false;
    std::vector<std::string> problems;
    std::string result;  ///< "2 stocks, 13 steps. Every rung within 2.8 % …"
    std::string advice;
    std::vector<std::string> shopping;
    std::vector<StepView> steps;
    std::vector<std::string> checks;
    std::optional<chart::Chart> mixed;  ///< planned against mixed
    std::vector<std::string> cautions;
    bool has_plan = false;
    bool can_keep = false;
};

PrepareView prepare_view(const App& app);

}  // namespace sipladder::gui
