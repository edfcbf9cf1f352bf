#pragma once

#include "engine/random.hpp"
#include "engine/solution/base.hpp"
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
    std::size_t people = 1;       ///< each of them does the whole drill from the same bottles; 1 to 400
    /// Portions of each rung for one person, weakest first, where drills want more of some than of others;
    /// empty: `portions_share` of every one.
    std::vector<std::size_t> of_rung{};
    /// Cups of the base for one person; nothing: those beside the levels, and a known one.
    std::optional<std::size_t> blanks{};

    bool operator==(const Demand&) const = default;
};

struct PlanRequest {
    Ladder ladder;
    Substance substance;
    Ingredient ingredient;
    Base base;
    Equipment equipment;
    Demand demand;
    double wanted_u_rel = 0.05;                ///< relative standard uncertainty wanted of every level
    Seed letters{};                            ///< another seed gives the bottles other letters
    std::vector<std::string> letters_taken{};  ///< of bottles that stand on the table already
    Equipment to_buy{};   ///< instruments that could be bought or borrowed: only the advice looks here
    std::size_t set = 1;  ///< which of the ladders on one bench, 1 to 9: the second's stocks are A2, B2 …
};

enum class StepKind { weigh, make_up_to_mark, make_up_to_mass, measure_volume, draw_stock, count_pieces };

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
    std::string unit;       ///< "g", "mL" or "pieces"
    double u_own{};         ///< standard uncertainty of this reading alone, in `unit`
    double u_shared_rel{};  ///< calibration part, shared by every reading of the same instrument
    bool takes_reading{};   ///< the person may enter what was really shown
    std::size_t batch = 1;  ///< this bottle is filled in so many batches, since one vessel is too small:
    std::size_t batches = 1;
};

/// One cause of uncertainty of one level, as the GUM lays a budget out. Own lines add in squares to
/// u_own_rel, shared ones to u_shared_rel.
struct BudgetLine {
    std::string what;  ///< what may be off, with its instrument: "purity of …", "stock A: weighing in (…)"
    double u_rel{};    ///< relative standard uncertainty of the level caused by it
    bool shared{};     ///< another level has this very error too
    std::string instrument{};           ///< by name; empty for the ingredient
    std::optional<std::size_t> step{};  ///< index into MixPlan::steps where it is the reading of one step
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
    std::size_t batches = 1;         ///< the volume is made in so many equal batches

    double u_rel() const;  ///< both parts together
};

struct PlannedStock {
    std::string name;        ///< stock A
    double concentration{};  ///< on the ladder's scale
    double u_rel{};
    Millilitres volume;
    std::string made_from;
    Millilitres drawn{};  ///< of it, by all that is made from it
};

struct ShoppingItem {
    std::string what;
    double amount{};
    std::string unit;
    std::string why{};  ///< what for: "12 presentations of 50 mL"; may be empty
    bool serves_all{};  ///< of several ladders on one bench the largest amount does, not the sum
};

/// How long something that was mixed may be used.
struct Keeping {
    std::string what;  ///< "stock A", "the bottles", "the base"
    int hours{};       ///< at most; from the moment of mixing
    std::string how;   ///< "closed, in the refrigerator; …"
};

/// A reading that shows before tasting whether a stock came out right.
struct Check {
    std::string what;  ///< "hydrometer in stock A at 20 °C"
    double expected{};
    double passes_within{};  ///< how far off still passes
    std::string unit;
    std::string of{};          ///< what it is read in: "stock A", "bottle K"
    std::string instrument{};  ///< "hydrometer", "refractometer", "pH meter or strips", "balance", "jug"
    std::string otherwise{};   ///< what to do where it does not pass
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
    std::vector<Keeping> keeping{};
    Millilitres left_over{};  ///< made and not needed: of levels and stocks together
};

/// The ladder that the plan gives if every reading is as printed, weakest first.
MixedLadder as_planned(const MixPlan& plan);

/// What the scale or vessel really showed, by step (index into MixPlan::steps), in the step's unit.
using Readings = std::map<std::size_t, double>;

}  // namespace sipladder::solution
