#include "engine/solution/recipe.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/text.hpp"

#include <cmath>

// Each mixture carries, beside its value, the relative effect that one standard deviation of each error has
// on it. A load adds the effects of its source and of its reading, the total takes off its own. An error met
// twice, such as the gain of a scale that weighs both load and total, so adds or cancels as it should before
// anything is squared (GUM, 5.2).

namespace sipladder::solution {

namespace {

const double sqrt_3 = std::sqrt(3.0);

std::size_t place_of(const Equipment& equipment, const Instrument& instrument) {
    return 1 + (instrument.is_balance ? instrument.index : equipment.balances.size() + instrument.index);
}

/// Where the readings of a making start among the error sources.
std::size_t place_of_readings(const Equipment& equipment, std::size_t making) {
    return 1 + equipment.balances.size() + equipment.vessels.size() + 2 * making;
}

void add_reading(std::vector<double>& effects, const Equipment& equipment, const Reading& reading,
                 std::size_t own_place, double sign) {
    effects[own_place] += sign * reading.u_own / reading.value;
    effects[place_of(equipment, reading.instrument)] += sign * reading.u_shared_rel;
}

std::vector<double> scaled(std::vector<double> effects, double by) {
    for (double& effect : effects) effect *= by;
    return effects;
}

Mixture bought(const PlanRequest& request, std::size_t errors) {
    Mixture whole;
    whole.mass_fraction = mass_fraction_of(request.ingredient, request.substance).value;
    whole.held_g_per_L = held_of(request.ingredient).value;
    whole.effects.assign(errors, 0.0);
    whole.effects[0] = u_rel_of(request.ingredient);
    const bool is_powder = request.ingredient.form == IngredientForm::powder;
    const double slope =
        is_powder ? 1.0 : held_per_mass_fraction(request.substance, MassFraction{whole.mass_fraction});
    whole.effects_on_mass_fraction = scaled(whole.effects, 1.0 / slope);
    return whole;
}

void expect_room(const Making& making, double load, double total, const std::string& unit) {
    if (load < total) return;
    throw Refused(
        making.into,
        "would hold " + exact(load) + " " + unit + " before it is filled up to " + exact(total) + " " + unit,
        "the total must be more than what went in first");
}

Mixture mixed(const PlanRequest& request, const Making& making, std::size_t number, const Mixture& source) {
    const Equipment& equipment = request.equipment;
    const std::size_t place = place_of_readings(equipment, number);
    const bool load_by_mass = making.load.instrument.is_balance;
    const double substance_g = load_by_mass ? making.load.value * source.mass_fraction
                                            : making.load.value * source.held_g_per_L / 1000.0;
    std::vector<double> effects = load_by_mass ? source.effects_on_mass_fraction : source.effects;
    add_reading(effects, equipment, making.load, place, 1.0);
    add_reading(effects, equipment, making.total, place + 1, -1.0);
    Mixture mixture;
    if (making.total.instrument.is_balance) {
        expect_room(making, load_by_mass ? making.load.value : substance_g, making.total.value, "g");
        mixture.mass_fraction = substance_g / making.total.value;
        const MassFraction w{mixture.mass_fraction};
        mixture.held_g_per_L = held_from_mass_fraction(request.substance, w).value;
        mixture.volume_mL = (Grams{making.total.value} / density_of_solution(request.substance, w)).value;
        mixture.effects_on_mass_fraction = effects;
        mixture.effects = scaled(std::move(effects), held_per_mass_fraction(request.substance, w));
        return mixture;
    }
    expect_room(making, load_by_mass ? substance_g : making.load.value, making.total.value, "mL");
    mixture.held_g_per_L = 1000.0 * substance_g / making.total.value;
    mixture.mass_fraction =
        mass_fraction_from_held(request.substance, GramsPerLitre{mixture.held_g_per_L}).value;
    mixture.volume_mL = making.total.value;
    mixture.effects = effects;
    mixture.effects_on_mass_fraction =
        scaled(std::move(effects),
               1.0 / held_per_mass_fraction(request.substance, MassFraction{mixture.mass_fraction}));
    return mixture;
}

}  // namespace

Reading weighed(const Equipment& equipment, std::size_t balance, Grams shown) {
    const Balance& used = equipment.balances.at(balance);
    return {{true, balance},
            shown.value,
            1,
            used.resolution.value / std::sqrt(6.0),
            used.gain_half_width_rel / sqrt_3};
}

Reading measured(const Equipment& equipment, std::size_t vessel, Millilitres shown, std::size_t fills) {
    const Vessel& used = equipment.vessels.at(vessel);
    const double times = static_cast<double>(fills);
    const double u_own = 0.5 * used.graduation.value / sqrt_3 * std::sqrt(times);
    const double limit_rel = used.tolerance_rel + times * used.tolerance.value / shown.value;
    return {{false, vessel}, shown.value, fills, u_own, limit_rel / sqrt_3};
}

std::vector<ErrorSource> error_sources(const Equipment& equipment, std::size_t makings) {
    using Kind = ErrorSource::Kind;
    std::vector<ErrorSource> all{{Kind::ingredient, {}, 0}};
    for (std::size_t i = 0; i < equipment.balances.size(); ++i)
        all.push_back({Kind::instrument, {true, i}, 0});
    for (std::size_t i = 0; i < equipment.vessels.size(); ++i)
        all.push_back({Kind::instrument, {false, i}, 0});
    for (std::size_t i = 0; i < makings; ++i) {
        all.push_back({Kind::load, {}, i});
        all.push_back({Kind::total, {}, i});
    }
    return all;
}

MassFraction mass_fraction_of(const Ingredient& ingredient, const Substance& substance) {
    if (ingredient.form == IngredientForm::powder) return ingredient.content;
    return mass_fraction_from_held(substance, held_of(ingredient));
}

GramsPerLitre held_of(const Ingredient& ingredient) {
    switch (ingredient.form) {
        case IngredientForm::powder:
            return GramsPerLitre{0.0};
        case IngredientForm::spirit:
            return ethanol_held(ingredient.strength);
        case IngredientForm::liquid:
            return ingredient.held;
    }
    SIPLADDER_EXPECT(false);
}

double u_rel_of(const Ingredient& ingredient) {
    switch (ingredient.form) {
        case IngredientForm::powder:
            return ingredient.content_half_width / ingredient.content / sqrt_3;
        case IngredientForm::spirit:
            return ingredient.strength_half_width / ingredient.strength / sqrt_3;
        case IngredientForm::liquid:
            return ingredient.held_half_width / ingredient.held / sqrt_3;
    }
    SIPLADDER_EXPECT(false);
}

std::vector<Mixture> mixtures(const PlanRequest& request, const std::vector<Making>& makings) {
    const std::size_t errors = place_of_readings(request.equipment, makings.size());
    const Mixture ingredient = bought(request, errors);
    std::vector<Mixture> all;
    all.reserve(makings.size());
    for (std::size_t i = 0; i < makings.size(); ++i) {
        const Making& making = makings[i];
        SIPLADDER_EXPECT(making.from == ingredient_itself || making.from < i);
        all.push_back(
            mixed(request, making, i, making.from == ingredient_itself ? ingredient : all[making.from]));
    }
    return all;
}

std::vector<bool> shared_errors(const std::vector<Mixture>& mixtures,
                                const std::vector<std::size_t>& levels) {
    constexpr double nothing = 1e-12;  // what is left where an error cancels
    std::vector<bool> shared(mixtures.empty() ? 0 : mixtures.front().effects.size(), false);
    for (std::size_t error = 0; error < shared.size(); ++error) {
        int having = 0;
        for (const std::size_t level : levels)
            if (std::abs(mixtures[level].effects[error]) > nothing) ++having;
        shared[error] = having >= 2;
    }
    return shared;
}

Parts parts(const Mixture& mixture, const std::vector<bool>& is_shared) {
    Parts result;
    for (std::size_t error = 0; error < mixture.effects.size(); ++error) {
        double& part = is_shared[error] ? result.shared : result.own;
        part = std::hypot(part, mixture.effects[error]);
    }
    return result;
}

int portions_needed(const Demand& demand) {
    const double portions = demand.portions_share * static_cast<double>(demand.presentations);
    return static_cast<int>(std::ceil(portions - 1e-9));  // 0.6 * 5 is a little more than 3 in binary
}

Millilitres volume_needed(const Demand& demand) {
    return (1.0 + demand.spare) * (static_cast<double>(portions_needed(demand)) * demand.cup + demand.rinse);
}

int portions_from(const Demand& demand, Millilitres volume) {
    const Millilitres pourable = volume / (1.0 + demand.spare) - demand.rinse;
    return static_cast<int>(std::floor(std::max(0.0, pourable / demand.cup) + 1e-9));
}

}  // namespace sipladder::solution
