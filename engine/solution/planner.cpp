#include "engine/solution/planner.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/solution/advice.hpp"
#include "engine/solution/bench_steps.hpp"
#include "engine/solution/budget.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/solution/recipe.hpp"
#include "engine/solution/request_check.hpp"
#include "engine/solution/search.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

// The search (search.cpp) finds the recipe; here it is named, summed and written down. Each part can be read
// alone: the letters, the budget of a level, the shopping, the checks.

namespace sipladder::solution {

namespace {

/// FNV-1a, 64 bit: the letters follow the ladder's name and the seed, nothing else.
std::uint64_t hashed(const std::string& text) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : text) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 1099511628211ULL;
    }
    return hash;
}

bool tells_order(const std::vector<std::string>& letters) {
    return std::is_sorted(letters.begin(), letters.end()) || std::is_sorted(letters.rbegin(), letters.rend());
}

/// Letters for the bottles, none that reads as a digit (I, L, O) or as a stock (A to C); with a digit beyond
/// twenty.
std::vector<std::string> bottle_letters(const PlanRequest& request) {
    const std::string alphabet = "DEFGHJKMNPQRSTUVWXYZ";
    std::vector<std::string> letters;
    for (const char letter : alphabet) letters.emplace_back(1, letter);
    if (request.ladder.size() > letters.size())
        for (const char letter : alphabet) letters.push_back(std::string(1, letter) + "2");
    Random random(derived(request.letters, hashed(request.ladder.id())));
    std::vector<std::string> drawn;
    do {
        random.shuffle(letters);
        drawn.assign(letters.begin(), letters.begin() + static_cast<std::ptrdiff_t>(request.ladder.size()));
    } while (drawn.size() > 2 && tells_order(drawn));
    return drawn;
}

void name_containers(const PlanRequest& request, Candidate& candidate) {
    const std::vector<std::string> letters = bottle_letters(request);
    for (std::size_t i = 0; i < candidate.makings.size(); ++i)
        candidate.makings[i].into = i < candidate.stocks
                                        ? "stock " + std::string(1, static_cast<char>('A' + i))
                                        : "bottle " + letters[i - candidate.stocks];
}

std::string origin_of(const PlanRequest& request, const std::vector<Making>& makings, const Making& making) {
    return making.from == ingredient_itself ? request.ingredient.name : makings[making.from].into;
}

void add_levels(MixPlan& plan, const Candidate& candidate, const std::vector<Mixture>& all) {
    const PlanRequest& request = plan.request;
    const std::vector<Bottle> made = bottles(candidate.makings, all);
    const std::vector<Bottle> levels(made.begin() + static_cast<std::ptrdiff_t>(candidate.stocks),
                                     made.end());
    const std::vector<bool> is_shared = shared_errors(levels);
    for (std::size_t i = 0; i < levels.size(); ++i) {
        const Bottle& bottle = levels[i];
        const Parts u = parts(bottle, is_shared);
        PlannedLevel level;
        level.target = request.ladder.targets()[i];
        level.mixed = level_from_held(request.substance, GramsPerLitre{bottle.held_g_per_L});
        level.u_own_rel = u.own;
        level.u_shared_rel = u.shared;
        level.bottle = bottle.name.substr(std::string("bottle ").size());
        level.made_from = origin_of(request, candidate.makings, candidate.makings[bottle.makings.front()]);
        level.volume = Millilitres{bottle.volume_mL};
        level.portions = portions_from(request.demand, level.volume);
        level.budget = budget_of(request, candidate.makings, bottle, is_shared);
        level.batches = bottle.makings.size();
        plan.levels.push_back(std::move(level));
    }
    for (std::size_t i = 0; i < candidate.stocks; ++i) {
        const Parts u = parts(made[i], is_shared);
        plan.stocks.push_back({candidate.makings[i].into,
                               level_from_held(request.substance, GramsPerLitre{all[i].held_g_per_L}),
                               std::hypot(u.own, u.shared), Millilitres{all[i].volume_mL},
                               origin_of(request, candidate.makings, candidate.makings[i]),
                               drawn_from(candidate.makings, all, i)});
    }
}

/// Rounded up to two significant digits: nobody buys 237.8 g.
double rounded_up(double amount) {
    if (amount <= 0.0) return 0.0;
    const double step = std::pow(10.0, std::floor(std::log10(amount)) - 1.0);
    return number_from_file(significant(std::ceil(amount / step - 1e-9) * step, 3)).value_or(amount);
}

constexpr double bought_spare = 1.1;      // of the ingredient, for what is spilt; judgement
constexpr Millilitres mouth_rinse{50.0};  // of water for each presentation; judgement

void add_shopping(MixPlan& plan, const Candidate& candidate, const std::vector<Mixture>& all) {
    const PlanRequest& request = plan.request;
    const Demand& demand = request.demand;
    double ingredient_g = 0.0;
    double ingredient_mL = 0.0;
    const bool is_powder = request.ingredient.form == IngredientForm::powder;
    const double density = is_powder ? 1.0
                                     : held_of(request.ingredient).value / 1000.0 /
                                           mass_fraction_of(request.ingredient, request.substance).value;
    double made_mL = 0.0;
    double largest_mL = 0.0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Making& making = candidate.makings[i];
        made_mL += all[i].volume_mL;
        largest_mL = std::max(largest_mL, all[i].volume_mL);
        if (making.from != ingredient_itself) continue;
        if (is_powder)
            ingredient_g += making.load.value;
        else
            ingredient_mL +=
                making.load.instrument.is_balance ? making.load.value / density : making.load.value;
    }
    const double blanks = static_cast<double>(demand.presentations * (demand.cups_per_presentation - 1));
    const double blanks_mL = (1.0 + demand.spare) * blanks * demand.cup.value;
    plan.base_volume = Millilitres{made_mL + blanks_mL};
    plan.shopping.push_back({request.ingredient.name,
                             rounded_up(bought_spare * (is_powder ? ingredient_g : ingredient_mL)),
                             is_powder ? "g" : "mL"});
    plan.shopping.push_back(
        {request.base.name + ", for the levels and the blanks", rounded_up(plan.base_volume.value), "mL"});
    const double rinse_mL = static_cast<double>(demand.presentations) * mouth_rinse.value;
    plan.shopping.push_back({request.base.name + ", to rinse the mouth", rounded_up(rinse_mL), "mL"});
    plan.shopping.push_back(
        {"clean bottles with lids, each for at least " + fixed(std::ceil(largest_mL), 0) + " mL",
         static_cast<double>(all.size()), "pieces"});
    for (const Vessel& vessel : request.equipment.vessels) {
        const bool is_used = std::any_of(plan.steps.begin(), plan.steps.end(), [&](const Step& step) {
            return step.unit == "mL" && step.with_id == vessel.id;
        });
        if (vessel.food_grade_new && is_used)
            plan.shopping.push_back({"new, needle-free: " + vessel.name, 1.0, "pieces"});
    }
}

/// A hydrometer reading where the stock is heavy enough to tell, else what the filled container should weigh
/// or hold.
void add_checks(MixPlan& plan, const Candidate& candidate, const std::vector<Mixture>& all) {
    constexpr double hydrometer_step = 0.002;  // common brewing hydrometers; common practice, no source
    constexpr double volume_by_eye = 0.05;     // of a jug; common practice, no source
    const Substance& substance = plan.request.substance;
    for (std::size_t i = 0; i < candidate.stocks; ++i) {
        const MassFraction w{all[i].mass_fraction};
        const double sg =
            density_of_solution(substance, w) / density_of_solution(substance, MassFraction{0.0});
        const double from_u = 2.0 * plan.stocks[i].u_rel * std::abs(sg - 1.0);
        if (substance.density_model == DensityModel::sucrose && sg - 1.0 > 5.0 * hydrometer_step) {
            plan.checks.push_back(
                {"hydrometer (specific gravity 20/20) in " + plan.stocks[i].name + " at 20 °C", sg,
                 std::hypot(0.5 * hydrometer_step, from_u), "SG 20/20"});
            continue;
        }
        const double mass_g = (density_of_solution(substance, w) * Millilitres{all[i].volume_mL}).value;
        if (candidate.makings[i].total.instrument.is_balance)
            plan.checks.push_back({"volume of " + plan.stocks[i].name + " in a measuring jug",
                                   all[i].volume_mL, volume_by_eye * all[i].volume_mL, "mL"});
        else
            plan.checks.push_back({"mass of " + plan.stocks[i].name + " without its bottle", mass_g,
                                   2.0 * candidate.makings[i].total.u_shared_rel * mass_g + 1.0, "g"});
    }
}

/// What this plan alone calls for; the cautions that hold for every plan are content's.
void add_cautions(MixPlan& plan) {
    const PlanRequest& request = plan.request;
    if (request.substance.density_model == DensityModel::ethanol)
        plan.cautions.push_back("Only spirit sold for drinking; no flame or hot plate while mixing.");
    if (!request.ingredient.allergens.empty())
        plan.cautions.push_back("Allergens: " + request.ingredient.allergens + ".");
    if (request.substance.component == Component::sour && request.base.bicarbonate_mg_per_L > 0.0)
        plan.cautions.push_back(
            "This water holds " + significant(request.base.bicarbonate_mg_per_L, 2) +
            " mg/L of hydrogen carbonate, which takes acid away from every level, most of all from the "
            "weakest; a water with less is better.");
}

}  // namespace

double PlannedLevel::u_rel() const {
    return std::hypot(u_own_rel, u_shared_rel);
}

MixPlan plan(const PlanRequest& request) {
    const std::vector<Problem> problems = problems_of(request);
    if (!problems.empty()) throw Refused(problems);
    std::optional<Candidate> found = best_candidate(request);
    if (!found)
        throw Refused("equipment " + request.equipment.name,
                      "cannot make " + fixed(volume_needed(request.demand).value, 0) +
                          " mL of every level of this ladder",
                      advice_to_make_any(request));
    Candidate& candidate = *found;
    name_containers(request, candidate);
    const std::vector<Mixture> all = mixtures(request, candidate.makings);
    MixPlan plan{.request = request,
                 .levels = {},
                 .stocks = {},
                 .steps = steps_of(request, candidate.makings),
                 .shopping = {},
                 .checks = {},
                 .cautions = {},
                 .met = candidate.met,
                 .operations = candidate.operations,
                 .advice = {},
                 .base_volume = {}};
    add_levels(plan, candidate, all);
    add_shopping(plan, candidate, all);
    add_checks(plan, candidate, all);
    add_cautions(plan);
    if (!plan.met) plan.advice = advice_for(plan);
    return plan;
}

}  // namespace sipladder::solution
