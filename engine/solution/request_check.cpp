#include "engine/solution/request_check.hpp"

#include "engine/solution/acid.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/solution/recipe.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::solution {

namespace {

constexpr std::size_t most_presentations = 200;  // of one drill; judgement, as are the other bounds here

constexpr std::size_t most_people = 400;  // a class of 200 and as many spare seats

std::string unit_after(Scale scale) {
    return scale == Scale::g_per_L ? " g/L" : " % vol";
}

class Problems {
  public:
    void expect(bool holds, const std::string& where, const std::string& what, const std::string& right) {
        if (!holds) found_.push_back({where, what, right});
    }
    void between(const std::string& where, double value, double least, double most, const std::string& unit) {
        expect(value >= least && value <= most, where, "is " + exact(value) + unit,
               exact(least) + " to " + exact(most) + unit + " is wanted");
    }
    const std::vector<Problem>& found() const { return found_; }

  private:
    std::vector<Problem> found_;
};

void check_demand(Problems& problems, const Demand& demand, double wanted_u_rel) {
    const std::string presentations = std::to_string(demand.presentations);
    problems.expect(demand.presentations >= 1 && demand.presentations <= most_presentations, "presentations",
                    "are " + presentations, "1 to 200 are wanted");
    problems.expect(demand.cups_per_presentation >= 1 && demand.cups_per_presentation <= 10,
                    "cups per presentation", "are " + std::to_string(demand.cups_per_presentation),
                    "1 to 10 are wanted");
    problems.between("cup volume", demand.cup.value, 1.0, 100.0, " mL");
    problems.between("share of portions", demand.portions_share, 0.05, 2.0, "");
    problems.between("spare", demand.spare, 0.0, 2.0, "");
    problems.between("rinse", demand.rinse.value, 0.0, 50.0, " mL");
    problems.expect(demand.people >= 1 && demand.people <= most_people, "people",
                    "are " + std::to_string(demand.people), "1 to 400 are wanted");
    problems.between("uncertainty wanted", wanted_u_rel, 1e-4, 0.5, "");
    for (const std::size_t portions : demand.of_rung)
        problems.expect(portions >= 1 && portions <= most_presentations, "portions of a rung",
                        "are " + std::to_string(portions), "1 to 200 are wanted");
    problems.expect(demand.blanks.value_or(0) <= 10 * most_presentations, "cups of the base",
                    "are " + std::to_string(demand.blanks.value_or(0)), "0 to 2000 are wanted");
}

void check_ingredient(Problems& problems, const PlanRequest& request) {
    const Ingredient& ingredient = request.ingredient;
    const Substance& substance = request.substance;
    const std::string where = "ingredient " + ingredient.name;
    problems.expect(ingredient.substance == substance.id, where, "holds " + ingredient.substance,
                    "an ingredient that holds " + substance.name + " is wanted");
    const double strongest = request.ladder.targets().back();
    const std::string unit = unit_after(request.ladder.scale());
    if (ingredient.form == IngredientForm::powder) {
        problems.expect(ingredient.content.value > 0.0 && ingredient.content.value <= 1.0, where,
                        "has a content of " + exact(ingredient.content.value),
                        "more than 0, at most 1 g per g");
        problems.expect(
            ingredient.content_half_width.value >= 0.0 && ingredient.content_half_width < ingredient.content,
            where, "has a half-width of " + exact(ingredient.content_half_width.value),
            "0 or more, less than the content");
        return;
    }
    if (ingredient.form == IngredientForm::tablet) {
        problems.between(where + ", mg in a piece", ingredient.per_piece.value, 0.1, 5000.0, "");
        problems.expect(ingredient.per_piece_half_width.value >= 0.0 &&
                            ingredient.per_piece_half_width < ingredient.per_piece,
                        where, "has a half-width of " + exact(ingredient.per_piece_half_width.value) + " mg",
                        "0 or more, less than what a piece holds");
        return;
    }
    const bool is_spirit = ingredient.form == IngredientForm::spirit;
    problems.expect(!is_spirit || substance.density_model == DensityModel::ethanol, where, "is a spirit",
                    "a spirit holds ethanol only");
    const double stated = is_spirit ? ingredient.strength.value : ingredient.held.value;
    const double half_width =
        is_spirit ? ingredient.strength_half_width.value : ingredient.held_half_width.value;
    const bool is_possible = stated > 0.0 && (is_spirit ? stated <= 100.0 : stated <= 1500.0);
    problems.expect(is_possible, where, "has a strength of " + exact(stated),
                    "a strength that a liquid can have");
    problems.expect(half_width >= 0.0 && half_width < stated, where,
                    "has a half-width of " + exact(half_width), "0 or more, less than its strength");
    if (!is_possible) return;
    const double level = level_from_held(substance, held_of(ingredient));
    problems.expect(level > strongest, where,
                    "is no stronger than the strongest level (" + exact(strongest) + unit + ")",
                    "a stronger ingredient or a weaker ladder");
}

void check_ladder(Problems& problems, const PlanRequest& request) {
    const Ladder& ladder = request.ladder;
    const Substance& substance = request.substance;
    const std::string where = "ladder " + ladder.id();
    const std::string unit = unit_after(ladder.scale());
    const double strongest = ladder.targets().back();
    problems.expect(ladder.substance() == substance.id, where, "is one of " + ladder.substance(),
                    "a ladder of " + substance.name);
    problems.expect(ladder.scale() == substance.scale, where, "is in" + unit,
                    "in " + unit_text(substance.scale));
    problems.expect(substance.strongest_cup > 0.0, "substance " + substance.name, "has no cap on a cup",
                    "a strongest_cup above 0");
    problems.expect(!(substance.strongest_cup > 0.0) || strongest <= substance.strongest_cup, where,
                    "reaches " + exact(strongest) + unit,
                    "at most " + exact(substance.strongest_cup) + unit + " in a cup");
    const double solubility = substance.solubility.value;
    problems.expect(!(solubility > 0.0) || ladder.scale() == Scale::pct_vol || strongest <= solubility, where,
                    "reaches " + exact(strongest) + unit + ", more than dissolves",
                    "at most " + exact(solubility) + unit);
    problems.expect(ladder.targets().front() >= 1e-5, where,
                    "starts at " + exact(ladder.targets().front()) + unit, "at least 0.00001" + unit);
}

/// A water that eats the weakest rung; only where the ladder itself makes sense.
void check_water(Problems& problems, const PlanRequest& request) {
    if (!problems.found().empty() || request.substance.component != Component::sour) return;
    const LadderLoss loss = loss_of(request.substance, request.ladder, request.base);
    if (loss.problem) problems.expect(false, loss.problem->where, loss.problem->what, loss.problem->right);
}

void check_equipment(Problems& problems, const PlanRequest& request) {
    const Equipment& equipment = request.equipment;
    problems.expect(!equipment.balances.empty() || request.ingredient.form != IngredientForm::powder,
                    "equipment", "has no balance", "a powder has to be weighed");
    problems.expect(!equipment.balances.empty() || !equipment.vessels.empty(), "equipment", "is empty",
                    "a balance, a syringe, something to fill up in");
    for (const Balance& balance : equipment.balances) {
        const std::string where = "balance " + balance.name;
        problems.between(where + ", resolution (g)", balance.resolution.value, 1e-6, 1000.0, "");
        problems.expect(balance.capacity > balance.resolution && balance.capacity.value <= 1e6, where,
                        "weighs up to " + exact(balance.capacity.value) + " g",
                        "more than its resolution, at most 1 t");
        problems.expect(balance.smallest_load.value >= 0.0 && balance.smallest_load < balance.capacity, where,
                        "has a smallest load of " + exact(balance.smallest_load.value) + " g",
                        "0 or more, less than its capacity");
        problems.between(where + ", calibration", balance.gain_half_width_rel, 0.0, 0.5, "");
    }
    for (const Vessel& vessel : equipment.vessels) {
        const std::string where = "vessel " + vessel.name;
        problems.between(where + ", volume (mL)", vessel.nominal.value, 1e-3, 1e6, "");
        problems.between(where + ", graduation (mL)", vessel.graduation.value, 0.0, vessel.nominal.value, "");
        problems.between(where + ", smallest volume (mL)", vessel.smallest.value, 0.0, vessel.nominal.value,
                         "");
        problems.between(where + ", tolerance", vessel.tolerance_rel, 0.0, 0.5, "");
        problems.between(where + ", tolerance (mL)", vessel.tolerance.value, 0.0, vessel.nominal.value, "");
    }
}

}  // namespace

std::vector<Problem> problems_of(const PlanRequest& request) {
    Problems problems;
    check_demand(problems, request.demand, request.wanted_u_rel);
    check_ladder(problems, request);
    problems.expect(request.demand.of_rung.empty() || request.demand.of_rung.size() == request.ladder.size(),
                    "portions", "are given for " + std::to_string(request.demand.of_rung.size()) + " rungs",
                    "for each of the " + std::to_string(request.ladder.size()) + " of the ladder");
    problems.expect(request.set >= 1 && request.set <= 9, "ladders on one bench",
                    "are " + std::to_string(request.set), "1 to 9");
    check_water(problems, request);
    check_ingredient(problems, request);
    check_equipment(problems, request);
    return problems.found();
}

}  // namespace sipladder::solution
