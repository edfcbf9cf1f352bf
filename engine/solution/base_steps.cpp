#include "engine/solution/base_steps.hpp"

#include "engine/problem.hpp"
#include "engine/solution/bench_steps.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/recipe.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

// Blanks and levels come from the same base, so its own small errors do not tell a level from a blank; what
// matters is that there is one base: batches are poured together before anything is made of it.

namespace sipladder::solution {

namespace {

constexpr double largest_bottle_mL = 2000.0;  // common practice, no source
constexpr double bought_spare = 1.1;          // for what is spilt; judgement

struct Part {
    std::string name;
    double g_per_L{};  ///< of what is bought, in a litre of base
};

std::vector<Part> parts_of(const Base& base) {
    std::vector<Part> parts;
    for (const Constituent& one : base.constituents)
        parts.push_back(
            {one.ingredient.name, one.held.value / mass_fraction_of(one.ingredient, one.substance).value});
    if (const double salt = potassium_salt_held(base).value; salt > 0.0)
        parts.push_back({potassium_salt_name(base.potassium_salt), salt});
    if (base.ethanol.value > 0.0)
        parts.push_back({base.spirit_name, ethanol_held(base.ethanol).value /
                                               mass_fraction_from_strength(base.spirit_strength).value});
    return parts;
}

std::string water_of(const Base& base) {
    if (base.bicarbonate_mg_per_L <= 0.0) return "purified water";
    return "still water with " + significant(base.bicarbonate_mg_per_L, 2) + " mg/L of hydrogen carbonate";
}

/// How full the container is: on the balance that carries most, or in the largest vessel with marks.
struct Container {
    Reading reading;
    double volume_mL{};
    std::size_t batches = 1;
};

std::optional<Container> container_for(const Equipment& equipment, double volume_mL, double density) {
    std::optional<Container> best;
    const auto consider = [&](double most_mL, const auto& reading_of) {
        most_mL = std::min(most_mL, largest_bottle_mL);
        if (most_mL <= 0.0) return;
        const double batches = std::ceil(volume_mL / most_mL - 1e-9);
        if (best && best->batches <= static_cast<std::size_t>(batches)) return;
        Container container = reading_of(volume_mL / batches);
        container.batches = static_cast<std::size_t>(batches);
        best = container;
    };
    for (std::size_t i = 0; i < equipment.balances.size(); ++i) {
        const Balance& balance = equipment.balances[i];
        const double most_g = 0.95 * balance.capacity.value - 30.0;  // a bottle stands on it too
        consider(most_g / density, [&](double mL) {
            const double step = std::max(balance.resolution.value, 1.0);
            const double shown = std::ceil(mL * density / step - 1e-9) * step;
            return Container{weighed(equipment, i, Grams{shown}), shown / density, 1};
        });
    }
    for (std::size_t i = 0; i < equipment.vessels.size(); ++i) {
        const Vessel& vessel = equipment.vessels[i];
        if (vessel.kind != VesselKind::jug && vessel.kind != VesselKind::cylinder) continue;
        if (vessel.graduation.value <= 0.0) continue;
        consider(vessel.nominal.value, [&](double mL) {
            const double filled = std::max(vessel.smallest.value, mL);
            const double shown = std::ceil(filled / vessel.graduation.value - 1e-9) * vessel.graduation.value;
            return Container{measured(equipment, i, Millilitres{shown}, 1), shown, 1};
        });
    }
    return best;
}

/// The finest balance that shows and carries this load.
std::optional<Reading> load_of(const Equipment& equipment, double load_g) {
    std::optional<std::size_t> finest;
    for (std::size_t i = 0; i < equipment.balances.size(); ++i) {
        const Balance& balance = equipment.balances[i];
        if (load_g < balance.smallest_load.value || load_g > 0.9 * balance.capacity.value - 30.0) continue;
        if (!finest || balance.resolution < equipment.balances[*finest].resolution) finest = i;
    }
    if (!finest) return std::nullopt;
    const double step = equipment.balances[*finest].resolution.value;
    if (std::round(load_g / step) < 1.0) return std::nullopt;
    return weighed(equipment, *finest, Grams{std::round(load_g / step) * step});
}

Step base_step(const Equipment& equipment, const Reading& reading, std::size_t batch, std::size_t batches) {
    Step step;
    const bool is_balance = reading.instrument.is_balance;
    step.into = the_base;
    step.with = is_balance ? equipment.balances[reading.instrument.index].name
                           : equipment.vessels[reading.instrument.index].name;
    step.with_id = is_balance ? equipment.balances[reading.instrument.index].id
                              : equipment.vessels[reading.instrument.index].id;
    step.reading = reading.value;
    step.unit = is_balance ? "g" : "mL";
    step.u_own = reading.u_own;
    step.u_shared_rel = reading.u_shared_rel;
    step.takes_reading = true;
    step.batch = batch;
    step.batches = batches;
    return step;
}

std::string batch_text(std::size_t batch, std::size_t batches) {
    return batches == 1 ? "" : " (" + std::to_string(batch) + " of " + std::to_string(batches) + ")";
}

void add_batch(BaseMix& mix, const PlanRequest& request, const Container& container,
               const std::vector<Reading>& loads, const std::vector<Part>& parts, std::size_t batch) {
    const std::string which = batch_text(batch, container.batches);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        Step step = base_step(request.equipment, loads[i], batch, container.batches);
        step.kind = StepKind::weigh;
        step.from = parts[i].name;
        step.text = "For the base" + which + ": weigh " + shown(request.equipment, loads[i]) + " of " +
                    parts[i].name + " into a clean glass on the " + step.with + ".";
        mix.steps.push_back(std::move(step));
    }
    Step step = base_step(request.equipment, container.reading, batch, container.batches);
    step.kind =
        container.reading.instrument.is_balance ? StepKind::make_up_to_mass : StepKind::make_up_to_mark;
    step.from = water_of(request.base);
    const std::string amount = shown(request.equipment, container.reading);
    const std::string fizz = request.base.potassium_salt == PotassiumSalt::hydrogen_carbonate
                                 ? "; it fizzes, so leave the lid off until it is quiet"
                                 : "";
    step.text = container.reading.instrument.is_balance
                    ? "Stand a clean, dry bottle marked base" + which + " on the " +
                          within_sentence(step.with) +
                          " and set it to zero; rinse the glasses into it with " + step.from +
                          ", fill up until it shows " + amount + " in all, and swirl until all is dissolved" +
                          fizz + "."
                    : "Rinse the glasses into the clean " + within_sentence(step.with) + " with " +
                          step.from + ", fill it up to " + amount + ", stir until all is dissolved" + fizz +
                          ", and pour it into a clean bottle marked base" + which + ".";
    if (batch == container.batches && batch > 1)
        step.text.insert(step.text.size() - 1, "; then pour all " + std::to_string(batch) +
                                                   " together and back, so that they are one");
    mix.steps.push_back(std::move(step));
}

}  // namespace

double rounded_up(double amount) {
    if (amount <= 0.0) return 0.0;
    const double step = std::pow(10.0, std::floor(std::log10(amount)) - 1.0);
    return number_from_file(significant(std::ceil(amount / step - 1e-9) * step, 3)).value_or(amount);
}

BaseMix base_mix(const PlanRequest& request, Millilitres wanted) {
    if (request.base.ethanol.value > 0.0 && request.base.spirit_strength <= request.base.ethanol)
        throw Refused("base " + request.base.name,
                      "holds ethanol of a spirit that is not known, or no stronger",
                      "a base whose spirit is among the ingredients; a spirit ladder brings its own");
    BaseMix mix;
    mix.volume = wanted;
    const std::vector<Part> parts = parts_of(request.base);
    if (parts.empty()) {
        mix.shopping.push_back(
            {request.base.name, rounded_up(wanted.value), "mL", "for the levels and the blanks"});
        return mix;
    }
    const double density = density_of_base(request.base).value;
    constexpr int tries = 29;  // up to four times as much
    double more = 1.0;
    for (int tried = 0; tried < tries; ++tried, more *= 1.05) {
        const auto container = container_for(request.equipment, rounded_up(more * wanted.value), density);
        if (!container) break;
        std::vector<Reading> loads;
        for (const Part& part : parts)
            if (const auto load = load_of(request.equipment, part.g_per_L * container->volume_mL / 1000.0))
                loads.push_back(*load);
        if (loads.size() < parts.size()) continue;
        for (std::size_t batch = 1; batch <= container->batches; ++batch)
            add_batch(mix, request, *container, loads, parts, batch);
        const double batches = static_cast<double>(container->batches);
        mix.volume = Millilitres{batches * container->volume_mL};
        for (std::size_t i = 0; i < parts.size(); ++i)
            mix.shopping.push_back(
                {parts[i].name, rounded_up(bought_spare * batches * loads[i].value), "g", "for the base"});
        mix.shopping.push_back({water_of(request.base), rounded_up(mix.volume.value), "mL",
                                "for the base, of which levels and blanks are made"});
        return mix;
    }
    throw Refused(
        "base " + request.base.name,
        "holds something that no balance here can weigh for " + fixed(wanted.value, 0) + " mL of it",
        "a finer scale, or plain water");
}

}  // namespace sipladder::solution
