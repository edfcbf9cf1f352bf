#pragma once

#include "engine/random.hpp"
#include "engine/solution/equipment.hpp"
#include "engine/solution/ingredient.hpp"
#include "engine/solution/ladder.hpp"
#include "engine/solution/substance.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::solution {

/// How much of each rung is needed. An adaptive drill does not know in advance which rungs it will ask for:
/// about 0.6 N portions of every rung for N presentations lose at most 4 % in RMSE against unlimited stock
/// (simulated by this project).
struct Demand {
    std::size_t presentations = 12;
    std::size_t cups_per_presentation = 3;  ///< one holds the level, the others the base
    Millilitres cup{10.0};
    double portions_share = 0.6;  ///< portions of every rung, as part of `presentations`
    double spare = 0.1;           ///< extra volume, as part of the volume needed
    Millilitres rinse{2.0};       ///< lost in the syringe per rung
};

struct PlanRequest {
    Ladder ladder;
    Substance substance;
    Ingredient ingredient;
    Base base;
    Equipment equipment;
    Demand demand;
    double wanted_u_rel = 0.05;  ///< relative standard uncertainty wanted of every level
    Seed letters{};              ///< another seed gives the bottles other letters
};

enum class StepKind { weigh, make_up_to_mark, make_up_to_mass, measure_volume, draw_stock };

/// One thing to do at the bench. `reading` is what the display or the mark should show.
struct Step {
    StepKind kind{};
    std::string text;       ///< the whole instruction, one sentence
    std::string into;       ///< the vessel or bottle it goes into: "stock A", "bottle K"
    std::string from;       ///< ingredient, stock or base
    std::string with;       ///< the balance or vessel used, by name
    std::string with_id;    ///< and by its id in the equipment
    std::size_t fills = 1;  ///< how often a syringe is filled for the reading
    double reading{};
    std::string unit;       ///< "g" or "mL"
    double u_own{};         ///< standard uncertainty of this reading alone, in `unit`
    double u_shared_rel{};  ///< calibration part, shared by every reading of the same instrument
    bool takes_reading{};   ///< the person may enter what was really shown
};

struct BudgetLine {
    std::string what;  ///< "balance: display and repeatability", "purity of the powder" …
    double u_rel{};    ///< relative standard uncertainty of the level caused by it
    bool shared{};
};

struct PlannedLevel {
    double target{};
    double mixed{};  ///< what the round readings will give
    double u_own_rel{};
    double u_shared_rel{};
    std::string bottle;     ///< letter on the bottle
    std::string made_from;  ///< "stock A" or the ingredient
    Millilitres volume;
    int portions{};
    std::vector<BudgetLine> budget;  ///< largest first

    double u_rel() const;  ///< both parts together
};

struct PlannedStock {
    std::string name;        ///< stock A
    double concentration{};  ///< on the ladder's scale
    double u_rel{};
    Millilitres volume;
    std::string made_from;
};

struct ShoppingItem {
    std::string what;
    double amount{};
    std::string unit;
};

/// A reading that shows before tasting whether a stock came out right.
struct Check {
    std::string what;  ///< "hydrometer in stock A at 20 °C"
    double expected{};
    double passes_within{};  ///< how far off still passes
    std::string unit;
};

/// The ordered steps from ingredient to cups; the bench sheet is this, printed.
struct MixPlan {
    PlanRequest request;
    std::vector<PlannedLevel> levels;
    std::vector<PlannedStock> stocks;
    std::vector<Step> steps;
    std::vector<ShoppingItem> shopping;
    std::vector<Check> checks;
    std::vector<std::string> cautions;
    bool met{};                ///< every level meets the wanted uncertainty
    std::size_t operations{};  ///< hand operations
    std::string advice;        ///< where not met: why, what is reached, what would help most
    Millilitres base_volume;   ///< base for blanks and for the levels
};

/// The ladder that the plan gives if every reading is as printed, weakest first.
MixedLadder as_planned(const MixPlan& plan);

/// What the scale or vessel really showed, by step (index into MixPlan::steps), in the step's unit.
using Readings = std::map<std::size_t, double>;

}  // namespace sipladder::solution
