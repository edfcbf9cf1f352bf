#include "engine/solution/refill.hpp"

#include "engine/problem.hpp"
#include "engine/solution/bench_steps.hpp"
#include "engine/solution/followed.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

// A refill is one making more, worked out together with all that came before, so that what it shares with the
// other bottles (pack, stock, instruments) is found by the same sum as everything else.

namespace sipladder::solution {

namespace {

constexpr double least_ratio = 1.8;
constexpr double most_ratio = 2.2;

/// Where the level stands in the ladder as mixed.
std::size_t place_in(const MixedLadder& ladder, const std::string& bottle) {
    const auto found = std::find_if(ladder.levels.begin(), ladder.levels.end(),
                                    [&](const MixedLevel& level) { return level.bottle == bottle; });
    if (found == ladder.levels.end())
        throw Refused("bottle " + bottle, "is not among the levels", "a bottle of this ladder");
    return static_cast<std::size_t>(found - ladder.levels.begin());
}

Refill refilled(const MixPlan& plan, const BenchRecord& record, const MixedLevel& before,
                const std::vector<Making>& more) {
    Followed done = followed(plan, record);
    const std::string name = "refill";
    for (Making making : more) {
        making.into = name;
        done.makings.push_back(making);
    }
    const std::vector<Mixture> all = mixtures(plan.request, done.makings);
    const std::vector<Bottle> made = bottles(done.makings, all);
    const Bottle& fresh = bottle_named(made, name);
    Refill refill;
    std::vector<Bottle> levels;
    for (const MixedLevel& level : after_mixing(plan, record).ladder.levels) {
        const Bottle& other = bottle_named(made, "bottle " + level.bottle);
        refill.covariance_with.push_back(covariance_rel(fresh, other));
        if (level.bottle != before.bottle) levels.push_back(other);
    }
    levels.push_back(fresh);
    const Parts u = parts(fresh, shared_errors(levels));
    refill.level = before;
    refill.level.mixed = level_from_held(plan.request.substance, GramsPerLitre{fresh.held_g_per_L});
    refill.level.u_own_rel = u.own;
    refill.level.u_shared_rel = u.shared;
    refill.level.portions = portions_from(plan.request.demand, Millilitres{fresh.volume_mL});
    std::vector<Making> named(done.makings.begin(),
                              done.makings.end() - static_cast<std::ptrdiff_t>(more.size()));
    for (Making making : more) {
        making.into = "bottle " + before.bottle;
        named.push_back(making);
    }
    const std::vector<Step> steps = steps_of(plan.request, named);
    refill.steps.assign(steps.end() - static_cast<std::ptrdiff_t>(2 * more.size()), steps.end());
    return refill;
}

/// Half and half on a balance (load, then both together), or with a syringe filled alike with each.
std::optional<Making> one_to_one(const PlanRequest& request, std::size_t from, double wanted_mL,
                                 double density) {
    const Equipment& equipment = request.equipment;
    std::optional<Making> best;
    double best_u_rel = 1.0;
    const auto consider = [&](const Reading& load, const Reading& total) {
        const double u_rel = std::hypot(load.u_own / load.value, total.u_own / total.value);
        if (best && u_rel >= best_u_rel) return;
        best_u_rel = u_rel;
        Making making;
        making.from = from;
        making.load = load;
        making.total = total;
        best = making;
    };
    for (std::size_t i = 0; i < equipment.balances.size(); ++i) {
        const Balance& balance = equipment.balances[i];
        const double step = balance.resolution.value;
        const double half = std::ceil(0.5 * wanted_mL * density / step - 1e-9) * step;
        if (half < balance.smallest_load.value || 2.06 * half + 30.0 > balance.capacity.value) continue;
        consider(weighed(equipment, i, Grams{half}), weighed(equipment, i, Grams{2.0 * half}));
    }
    for (std::size_t i = 0; i < equipment.vessels.size(); ++i) {
        const Vessel& vessel = equipment.vessels[i];
        if (vessel.kind != VesselKind::syringe && vessel.kind != VesselKind::pipette) continue;
        if (vessel.graduation.value <= 0.0) continue;
        const double fills = std::ceil(0.5 * wanted_mL / vessel.nominal.value - 1e-9);
        const double fill =
            std::ceil(0.5 * wanted_mL / fills / vessel.graduation.value - 1e-9) * vessel.graduation.value;
        if (fills > 12.0 || fill < vessel.smallest.value) continue;
        Reading load = measured(equipment, i, Millilitres{fills * fill}, static_cast<std::size_t>(fills));
        Reading total = measured(equipment, i, Millilitres{2.0 * fills * fill}, 2 * load.fills);
        // The same fills of both: a / (a + b) is off by (da - db) / 2a, half of it through each reading.
        total.u_own = load.u_own;
        load.u_own *= 0.5;
        consider(load, total);
    }
    return best;
}

}  // namespace

Refill refill_anew(const MixPlan& plan, const BenchRecord& record, const std::string& bottle) {
    const MixedLadder ladder = after_mixing(plan, record).ladder;
    const MixedLevel before = ladder.levels[place_in(ladder, bottle)];
    const std::vector<Making> planned = makings_of(plan.request, plan.steps);
    std::vector<Making> more;
    for (const Making& making : planned)
        if (making.into == "bottle " + bottle) more.push_back(making);
    const Followed done = followed(plan, record);
    if (more.front().from != ingredient_itself) {
        const std::size_t stock = more.front().from;
        const Mixture& from = done.mixtures[stock];
        Millilitres wanted;
        for (const Making& making : more)
            wanted += Millilitres{making.load.instrument.is_balance
                                      ? 1000.0 * making.load.value * from.mass_fraction / from.held_g_per_L
                                      : making.load.value};
        const Millilitres left = Millilitres{from.volume_mL} - drawn_from(done.makings, done.mixtures, stock);
        if (wanted > left)
            throw Refused("bottle " + bottle,
                          "needs " + fixed(wanted.value, 1) + " mL of " + done.makings[stock].into +
                              ", of which " + fixed(std::max(0.0, left.value), 1) + " mL are left",
                          "make that stock anew, or take the next stronger rung");
    }
    return refilled(plan, record, before, more);
}

Refill refill_from_stronger(const MixPlan& plan, const BenchRecord& record, const std::string& bottle,
                            int portions, Millilitres stronger_left) {
    if (portions < 1 || portions > 1000)
        throw Refused("portions", "are " + std::to_string(portions), "1 to 1000 are wanted");
    const MixedLadder ladder = after_mixing(plan, record).ladder;
    const std::size_t place = place_in(ladder, bottle);
    const std::string where = "bottle " + bottle;
    if (place + 1 == ladder.levels.size())
        throw Refused(where, "is the strongest rung", "fill it anew from its stock or ingredient");
    const MixedLevel& stronger = ladder.levels[place + 1];
    const double ratio = stronger.mixed / ladder.levels[place].mixed;
    if (ratio < least_ratio || ratio > most_ratio)
        throw Refused(where, "is " + significant(ratio, 2) + " times weaker than the next rung",
                      "half of it mixed with base gives this rung only where the ratio is 2");
    const Followed done = followed(plan, record);
    const std::size_t from = bottle_named(done.bottles, "bottle " + stronger.bottle).makings.front();
    const Mixture& source = done.mixtures[from];
    const Demand& demand = plan.request.demand;
    const double wanted_mL = (1.0 + demand.spare) * (portions * demand.cup.value + demand.rinse.value);
    const double density = source.held_g_per_L / 1000.0 / source.mass_fraction;
    const auto making = one_to_one(plan.request, from, wanted_mL, density);
    if (!making)
        throw Refused(where, "cannot be measured in two halves of " + fixed(0.5 * wanted_mL, 0) + " mL",
                      "a balance or a syringe for that");
    const double taken_mL =
        making->load.instrument.is_balance ? making->load.value / density : making->load.value;
    if (taken_mL > stronger_left.value)
        throw Refused(where,
                      "needs " + fixed(taken_mL, 1) + " mL of bottle " + stronger.bottle + ", of which " +
                          fixed(stronger_left.value, 1) + " mL are left",
                      "fewer portions, or fill it anew from its stock or ingredient");
    Refill refill = refilled(plan, record, ladder.levels[place], {*making});
    if (!making->load.instrument.is_balance) {
        Step& total = refill.steps.back();
        total.kind = StepKind::measure_volume;
        total.text = "Add as many fills of " + plan.request.base.name + " with the rinsed " + total.with +
                     ", and turn the bottle over ten times.";
        refill.steps.front().text = "Put " + shown(plan.request.equipment, making->load) + " of bottle " +
                                    stronger.bottle + " with the " + total.with +
                                    " into a clean, dry bottle marked " + bottle + ".";
    }
    return refill;
}

}  // namespace sipladder::solution
