#include "engine/solution/provisions.hpp"

#include "engine/solution/acid.hpp"
#include "engine/solution/base_steps.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace sipladder::solution {

namespace {

constexpr double bought_spare = 1.1;     // of the ingredient, for what is spilt; judgement
constexpr double mouth_rinse_mL = 50.0;  // of water for each presentation; judgement
constexpr std::size_t known_cups = 2;    // one clear cup and one blank before the first; as in the drill

/// Amount of the ingredient that the loads take: g of a powder, pieces of tablets, mL of a liquid.
double ingredient_taken(const PlanRequest& request, const Candidate& candidate) {
    const double g_per_mL = is_dry(request.ingredient)
                                ? 1.0
                                : held_of(request.ingredient).value / 1000.0 /
                                      mass_fraction_of(request.ingredient, request.substance).value;
    double taken = 0.0;
    for (const Making& making : candidate.makings) {
        if (making.from != ingredient_itself) continue;
        taken += making.load.instrument.is_balance ? making.load.value / g_per_mL : making.load.value;
    }
    return taken;
}

std::string unit_of(const Ingredient& ingredient) {
    if (ingredient.form == IngredientForm::tablet) return "pieces";
    return ingredient.form == IngredientForm::powder ? "g" : "mL";
}

void add_instruments(MixPlan& plan) {
    for (const Vessel& vessel : plan.request.equipment.vessels) {
        const bool is_used = std::any_of(plan.steps.begin(), plan.steps.end(), [&](const Step& step) {
            return step.unit == "mL" && step.with_id == vessel.id;
        });
        if (vessel.food_grade_new && is_used)
            plan.shopping.push_back(
                {"new, needle-free: " + vessel.name, 1.0, "pieces", "for this substance only"});
    }
    plan.shopping.push_back(
        {"new, needle-free syringe, marked blanks", 1.0, "pieces", "touches nothing but the base", true});
    plan.shopping.push_back({"new, needle-free syringe, to fill the cups", 1.0, "pieces",
                             "rinsed with each level before it is poured"});
}

std::string hours_text(const std::string& how) {
    return how + "; let everything stand together at room temperature for 2 h before tasting";
}

/// How long a solution of this sensation keeps, in hours; judgement throughout: no measured shelf life is
/// behind it.
int hours_of(Component component) {
    constexpr int day = 24;
    switch (component) {
        case Component::sweet:
            return 2 * day;
        case Component::sour:
        case Component::bitter:
        case Component::salty:
            return 7 * day;
        case Component::alcohol:
            return 14 * day;
        case Component::astringent:  // turns brown in air
        case Component::weight:
            return day;
    }
    return day;
}

}  // namespace

Millilitres base_needed(const PlanRequest& request, const std::vector<Mixture>& all) {
    const Demand& demand = request.demand;
    Millilitres made;
    for (const Mixture& mixture : all) made += Millilitres{mixture.volume_mL};
    const std::size_t each =
        demand.blanks.value_or(demand.presentations * (demand.cups_per_presentation - 1) + 1);
    const double blanks = static_cast<double>(demand.people * each);
    return made + (1.0 + demand.spare) * blanks * demand.cup;
}

void add_shopping(MixPlan& plan, const Candidate& candidate, const std::vector<Mixture>& all) {
    const PlanRequest& request = plan.request;
    const Demand& demand = request.demand;
    const double people = static_cast<double>(demand.people);
    const double taken = ingredient_taken(request, candidate);
    const bool is_counted = request.ingredient.form == IngredientForm::tablet;
    BaseMix base = base_mix(request, plan.base_volume);
    plan.shopping.push_back({request.ingredient.name,
                             is_counted ? taken + 1.0 : rounded_up(bought_spare * taken),
                             unit_of(request.ingredient), "for stocks and levels"});
    plan.shopping.insert(plan.shopping.end(), base.shopping.begin(), base.shopping.end());
    const bool is_class = demand.people > 1 && !demand.of_rung.empty();
    const std::size_t rinses =
        is_class ? std::accumulate(demand.of_rung.begin(), demand.of_rung.end(), std::size_t{0})
                 : demand.presentations;
    const double rinse_mL = people * static_cast<double>(rinses) * mouth_rinse_mL;
    plan.shopping.push_back(
        {"still water to rinse the mouth", rounded_up(rinse_mL), "mL",
         std::to_string(rinses) + (is_class ? " cups" : " presentations") + ", 50 mL after each" +
             (demand.people > 1 ? ", " + std::to_string(demand.people) + " people" : "")});
    double largest_mL = 0.0;
    for (const Mixture& mixture : all) largest_mL = std::max(largest_mL, mixture.volume_mL);
    plan.shopping.push_back(
        {"clean bottle with a cap, for at least " + fixed(std::ceil(largest_mL), 0) + " mL",
         static_cast<double>(all.size()), "pieces", "one for each stock and level"});
    plan.shopping.push_back({"clean bottle with a cap, for the base",
                             std::max(1.0, std::ceil(base.volume.value / 1500.0)), "pieces", "1.5 L each"});
    if (is_class)  // all stand on the table at once
        plan.shopping.push_back(
            {"opaque cup of at least " + fixed(std::ceil(2.0 * demand.cup.value), 0) + " mL, all alike",
             people * static_cast<double>(rinses + demand.blanks.value_or(0)), "pieces",
             "one for each cup that is poured"});
    else
        plan.shopping.push_back(
            {"opaque cup of at least " + fixed(std::ceil(2.0 * demand.cup.value), 0) + " mL, all alike",
             people * static_cast<double>(demand.cups_per_presentation + known_cups), "pieces",
             "rinsed and dried between presentations; more save time", true});
    if (request.substance.closed_nose)
        plan.shopping.push_back({"nose clip", people, "pieces",
                                 request.substance.name + " is smelled long before it is tasted", true});
    add_instruments(plan);
}

std::vector<ShoppingItem> shopping_together(const std::vector<const MixPlan*>& plans) {
    std::vector<ShoppingItem> all;
    for (const MixPlan* plan : plans)
        for (const ShoppingItem& item : plan->shopping) {
            const auto same = std::find_if(all.begin(), all.end(), [&](const ShoppingItem& one) {
                return one.what == item.what && one.unit == item.unit;
            });
            if (same == all.end()) {
                all.push_back(item);
                continue;
            }
            same->amount = item.serves_all ? std::max(same->amount, item.amount) : same->amount + item.amount;
            if (same->why != item.why) same->why.clear();  // it was of one ladder
        }
    return all;
}

void add_keeping(MixPlan& plan) {
    const int hours = hours_of(plan.request.substance.component);
    const std::string cold = hours_text("closed, dated, in the refrigerator");
    if (!plan.stocks.empty())
        plan.keeping.push_back(
            {plan.stocks.size() == 1 ? plan.stocks.front().name : "the stocks", hours, cold});
    bool is_perishable = false;
    for (const Constituent& one : plan.request.base.constituents)
        is_perishable = is_perishable || one.substance.component == Component::sweet ||
                        one.substance.component == Component::weight;
    const int base_hours = is_perishable ? std::min(hours, 48) : hours;
    plan.keeping.push_back({"the bottles", std::min(hours, base_hours), cold});
    if (!is_plain_water(plan.request.base)) plan.keeping.push_back({"the base", base_hours, cold});
}

void add_cautions(MixPlan& plan) {
    const PlanRequest& request = plan.request;
    if (request.substance.density_model == DensityModel::ethanol || request.base.ethanol.value > 0.0)
        plan.cautions.push_back("Only spirit sold for drinking; no flame or hot plate while mixing.");
    if (!request.ingredient.allergens.empty())
        plan.cautions.push_back("Allergens: " + request.ingredient.allergens + ".");
    for (const Constituent& one : request.base.constituents)
        if (!one.ingredient.allergens.empty())
            plan.cautions.push_back("Allergens in the base: " + one.ingredient.allergens + ".");
    const LadderLoss loss = loss_of(request.substance, request.ladder, request.base);
    if (!loss.warning.empty()) plan.cautions.push_back(loss.warning);
}

}  // namespace sipladder::solution
