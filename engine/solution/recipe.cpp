#include "engine/solution/recipe.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/text.hpp"

#include <algorithm>
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
    if (!reading.instrument.is_count)
        effects[place_of(equipment, reading.instrument)] += sign * reading.u_shared_rel;
}

/// d ln(g/L) / d ln(mass fraction), as held_per_mass_fraction, in the request's base.
double slope_in_base(const PlanRequest& request, MassFraction w) {
    if (is_plain_water(request.base) || w.value <= 0.0) return held_per_mass_fraction(request.substance, w);
    const MassFraction step{1e-4 * w.value};
    const double ratio = held_in_solution(request, w + step) / held_in_solution(request, w - step);
    return std::log(ratio) / std::log((w + step) / (w - step));
}

/// Load and total read after one setting to zero have the rounding of that zero in common, and part of it
/// cancels: the relative error is r1/L - r2/T - r0 (1/L - 1/T), three roundings of variance step^2/12 each,
/// which is less than two independent differences by step^2/6 / (L T).
double shared_tare_square(const Making& making) {
    if (!making.load.instrument.is_balance || !(making.load.instrument == making.total.instrument))
        return 0.0;
    return making.total.u_own * making.total.u_own / (making.load.value * making.total.value);
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
    const double slope = is_dry(request.ingredient)
                             ? 1.0
                             : held_per_mass_fraction(request.substance, MassFraction{whole.mass_fraction});
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

/// The load was forgotten.
Mixture base_alone(const PlanRequest& request, const Making& making, std::size_t errors) {
    Mixture mixture;
    mixture.effects.assign(errors, 0.0);
    mixture.effects_on_mass_fraction = mixture.effects;
    mixture.volume_mL = making.total.instrument.is_balance
                            ? (Grams{making.total.value} / density_of_base(request.base)).value
                            : making.total.value;
    return mixture;
}

/// It was not filled up: what was drawn, as it is. A powder has no volume.
Mixture undiluted(const PlanRequest& request, const Making& making, Mixture source) {
    if (source.held_g_per_L <= 0.0)
        source.volume_mL = 0.0;
    else if (making.load.instrument.is_balance)
        source.volume_mL =
            (Grams{making.load.value} /
             density_in_base(request.substance, MassFraction{source.mass_fraction}, request.base))
                .value;
    else
        source.volume_mL = making.load.value;
    return source;
}

Mixture mixed(const PlanRequest& request, const Making& making, std::size_t number, const Mixture& source) {
    const Equipment& equipment = request.equipment;
    const std::size_t place = place_of_readings(equipment, number);
    const bool is_counted = making.load.instrument.is_count;
    const bool load_by_mass = making.load.instrument.is_balance || is_counted;
    const double substance_g = load_by_mass ? making.load.value * source.mass_fraction
                                            : making.load.value * source.held_g_per_L / 1000.0;
    if (!making.has_load) return base_alone(request, making, source.effects.size());
    if (!making.is_filled_up) return undiluted(request, making, source);
    std::vector<double> effects = load_by_mass ? source.effects_on_mass_fraction : source.effects;
    add_reading(effects, equipment, making.load, place, 1.0);
    add_reading(effects, equipment, making.total, place + 1, -1.0);
    effects[place] = std::sqrt(effects[place] * effects[place] - shared_tare_square(making));
    Mixture mixture;
    if (making.total.instrument.is_balance) {
        expect_room(making, load_by_mass && !is_counted ? making.load.value : substance_g, making.total.value,
                    "g");
        mixture.mass_fraction = substance_g / making.total.value;
        const MassFraction w{mixture.mass_fraction};
        mixture.held_g_per_L = held_in_solution(request, w).value;
        mixture.volume_mL = 1000.0 * substance_g / mixture.held_g_per_L;
        mixture.effects_on_mass_fraction = effects;
        mixture.effects = scaled(std::move(effects), slope_in_base(request, w));
        return mixture;
    }
    expect_room(making, load_by_mass ? substance_g : making.load.value, making.total.value, "mL");
    mixture.held_g_per_L = 1000.0 * substance_g / making.total.value;
    mixture.mass_fraction = mass_fraction_in_base(request, GramsPerLitre{mixture.held_g_per_L}).value;
    mixture.volume_mL = making.total.value;
    mixture.effects = effects;
    mixture.effects_on_mass_fraction =
        scaled(std::move(effects), 1.0 / slope_in_base(request, MassFraction{mixture.mass_fraction}));
    return mixture;
}

/// Value, volume and errors of a bottle from its batches. A cup is from any of them, so how far they are
/// apart is part of what is not known of it: what their own errors do, and what their readings say.
void add_batches(Bottle& bottle, const std::vector<Mixture>& mixtures) {
    const double count = static_cast<double>(bottle.makings.size());
    bottle.effects.assign(mixtures.front().effects.size(), 0.0);
    for (const std::size_t i : bottle.makings) {
        bottle.held_g_per_L += mixtures[i].held_g_per_L / count;
        bottle.volume_mL += mixtures[i].volume_mL;
        for (std::size_t error = 0; error < bottle.effects.size(); ++error)
            bottle.effects[error] += mixtures[i].effects[error] / count;
    }
    if (bottle.makings.size() == 1 || bottle.held_g_per_L <= 0.0) return;
    double squares = 0.0;
    for (const std::size_t i : bottle.makings) {
        const double off = mixtures[i].held_g_per_L / bottle.held_g_per_L - 1.0;
        squares += off * off;
        for (std::size_t error = 0; error < bottle.effects.size(); ++error) {
            const double apart = mixtures[i].effects[error] - bottle.effects[error];
            squares += apart * apart;
        }
    }
    bottle.between_rel = std::sqrt(squares / count);
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

Reading counted(double pieces) {
    return {{false, 0, true}, pieces, 1, 0.0, 0.0};
}

bool is_dry(const Ingredient& ingredient) {
    return ingredient.form == IngredientForm::powder || ingredient.form == IngredientForm::tablet;
}

GramsPerLitre held_in_solution(const PlanRequest& request, MassFraction held) {
    return GramsPerLitre{1000.0 * held.value * density_in_base(request.substance, held, request.base).value};
}

MassFraction mass_fraction_in_base(const PlanRequest& request, GramsPerLitre held) {
    MassFraction w = mass_fraction_from_held(request.substance, held);
    if (is_plain_water(request.base)) return w;
    constexpr int rounds = 8;  // each takes off two digits: the density hardly changes with the fraction
    for (int round = 0; round < rounds; ++round)
        w = MassFraction{held.value / 1000.0 / density_in_base(request.substance, w, request.base).value};
    return w;
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
    if (ingredient.form == IngredientForm::tablet) return MassFraction{ingredient.per_piece.value / 1000.0};
    return mass_fraction_from_held(substance, held_of(ingredient));
}

GramsPerLitre held_of(const Ingredient& ingredient) {
    switch (ingredient.form) {
        case IngredientForm::powder:
        case IngredientForm::tablet:
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
        case IngredientForm::tablet:
            return ingredient.per_piece_half_width / ingredient.per_piece / sqrt_3;
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

std::vector<Bottle> bottles(const std::vector<Making>& makings, const std::vector<Mixture>& mixtures) {
    SIPLADDER_EXPECT(makings.size() == mixtures.size());
    std::vector<Bottle> all;
    for (std::size_t i = 0; i < makings.size(); ++i) {
        const auto same = std::find_if(all.begin(), all.end(),
                                       [&](const Bottle& one) { return one.name == makings[i].into; });
        if (same != all.end())
            same->makings.push_back(i);
        else
            all.push_back({makings[i].into, {i}, 0.0, 0.0, {}, 0.0});
    }
    for (Bottle& bottle : all) add_batches(bottle, mixtures);
    return all;
}

Millilitres drawn_from(const std::vector<Making>& makings, const std::vector<Mixture>& mixtures,
                       std::size_t source) {
    const Mixture& from = mixtures.at(source);
    const double mL_per_g = from.held_g_per_L > 0.0 ? 1000.0 * from.mass_fraction / from.held_g_per_L : 1.0;
    Millilitres drawn;
    for (const Making& making : makings)
        if (making.from == source && making.has_load)
            drawn += Millilitres{making.load.instrument.is_balance ? making.load.value * mL_per_g
                                                                   : making.load.value};
    return drawn;
}

std::vector<bool> shared_errors(const std::vector<Bottle>& levels) {
    constexpr double nothing = 1e-12;  // what is left where an error cancels
    std::vector<bool> shared(levels.empty() ? 0 : levels.front().effects.size(), false);
    for (std::size_t error = 0; error < shared.size(); ++error) {
        const auto having = std::count_if(levels.begin(), levels.end(), [&](const Bottle& level) {
            return std::abs(level.effects[error]) > nothing;
        });
        shared[error] = having >= 2;
    }
    return shared;
}

Parts parts(const Bottle& bottle, const std::vector<bool>& is_shared) {
    Parts result;
    for (std::size_t error = 0; error < bottle.effects.size(); ++error) {
        double& part = is_shared[error] ? result.shared : result.own;
        part = std::hypot(part, bottle.effects[error]);
    }
    result.own = std::hypot(result.own, bottle.between_rel);
    return result;
}

double covariance_rel(const Bottle& one, const Bottle& other) {
    double sum = one.name == other.name ? one.between_rel * other.between_rel : 0.0;
    for (std::size_t error = 0; error < one.effects.size(); ++error)
        sum += one.effects[error] * other.effects[error];
    return sum;
}

int portions_needed(const Demand& demand, std::size_t rung) {
    if (!demand.of_rung.empty()) return static_cast<int>(demand.of_rung.at(rung) * demand.people);
    const double portions = demand.portions_share * static_cast<double>(demand.presentations);
    const double each = std::ceil(portions - 1e-9);  // 0.6 * 5 is a little more than 3 in binary
    return static_cast<int>(each * static_cast<double>(demand.people));
}

Millilitres volume_needed(const Demand& demand, std::size_t rung) {
    return (1.0 + demand.spare) * (static_cast<double>(portions_needed(demand, rung)) * demand.cup +
                                   static_cast<double>(demand.people) * demand.rinse);
}

Millilitres largest_volume_needed(const Demand& demand, std::size_t rungs) {
    Millilitres largest;
    for (std::size_t rung = 0; rung < rungs; ++rung) largest = std::max(largest, volume_needed(demand, rung));
    return largest;
}

int portions_from(const Demand& demand, Millilitres volume) {
    const Millilitres pourable =
        volume / (1.0 + demand.spare) - static_cast<double>(demand.people) * demand.rinse;
    return static_cast<int>(std::floor(std::max(0.0, pourable / demand.cup) + 1e-9));
}

}  // namespace sipladder::solution
