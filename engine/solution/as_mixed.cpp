#include "engine/solution/as_mixed.hpp"

#include "engine/problem.hpp"
#include "engine/solution/budget.hpp"
#include "engine/solution/followed.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/solution/recipe.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

// What happened takes the place of what was planned (followed.cpp), and the same sum is done again; so what a
// reading does to a level reaches every mixture drawn from it, and the covariance with it.

namespace sipladder::solution {

namespace {

constexpr double worth_telling = 0.1;  // of the target; judgement

/// Why a bottle cannot be a level; empty where it can.
std::string against_tasting(const MixPlan& plan, const Followed& done, const Bottle& bottle) {
    const Substance& substance = plan.request.substance;
    for (const std::size_t i : bottle.makings) {
        if (done.mixtures[i].volume_mL <= 0.0) return "was never filled up: it holds undissolved powder";
        if (done.mixtures[i].held_g_per_L <= 0.0) return "holds none of the " + substance.name;
    }
    const double level = level_from_held(substance, GramsPerLitre{bottle.held_g_per_L});
    if (level > substance.strongest_cup * (1.0 + cap_tolerance))
        return "came out stronger than a cup may be (" + significant(level, 2) + " " +
               unit_text(plan.request.ladder.scale()) + ")";
    return "";
}

void sort_out(AsMixed& mixed, const MixPlan& plan, const Followed& done, std::vector<std::size_t>& kept) {
    for (std::size_t i = 0; i < plan.levels.size(); ++i) {
        const PlannedLevel& level = plan.levels[i];
        const Bottle& bottle = bottle_named(done.bottles, "bottle " + level.bottle);
        const std::string against = against_tasting(plan, done, bottle);
        if (against.empty()) {
            kept.push_back(i);
            continue;
        }
        const double held = level_from_held(plan.request.substance, GramsPerLitre{bottle.held_g_per_L});
        mixed.missed.push_back(
            {level.bottle, level.target, held, true,
             "Bottle " + level.bottle + " " + against + "; pour it away or make it anew."});
    }
    if (kept.size() < 2)
        throw Refused("steps", "leave " + std::to_string(kept.size()) + " levels that can be tasted",
                      "at least 2; make the lost ones anew");
}

void note_missed_target(AsMixed& mixed, const MixedLevel& level, Scale scale) {
    const double off = level.mixed / level.target - 1.0;
    const double explained = 2.0 * std::hypot(level.u_own_rel, level.u_shared_rel);
    if (std::abs(off) <= std::max(worth_telling, explained)) return;
    mixed.missed.push_back({level.bottle, level.target, level.mixed, false,
                            "Bottle " + level.bottle + " holds " + significant(level.mixed, 2) + " " +
                                unit_text(scale) + " where " + significant(level.target, 2) +
                                " was wanted; what it holds is what counts."});
}

/// What each stock had, against what was drawn from it.
void note_short_stocks(AsMixed& mixed, const Followed& done) {
    for (std::size_t stock = 0; stock < done.makings.size(); ++stock) {
        const double missing =
            (drawn_from(done.makings, done.mixtures, stock) - Millilitres{done.mixtures[stock].volume_mL})
                .value;
        constexpr double by_rounding_mL = 0.5;
        if (missing > by_rounding_mL)
            mixed.notes.push_back("There was too little of " + done.makings[stock].into + ": " +
                                  significant(missing, 2) +
                                  " mL are missing; enter what was really drawn, or make more of it.");
    }
}

}  // namespace

double LevelCovariance::u_rel(std::size_t level) const {
    return std::sqrt(at(level, level));
}

double LevelCovariance::correlation(std::size_t row, std::size_t column) const {
    const double scale = u_rel(row) * u_rel(column);
    return scale > 0.0 ? at(row, column) / scale : 0.0;
}

AsMixed after_mixing(const MixPlan& plan, const BenchRecord& record) {
    const Followed done = followed(plan, record);
    AsMixed mixed;
    std::vector<std::size_t> kept;
    sort_out(mixed, plan, done, kept);
    std::vector<Bottle> levels;
    for (const std::size_t i : kept)
        levels.push_back(bottle_named(done.bottles, "bottle " + plan.levels[i].bottle));
    const std::vector<bool> is_shared = shared_errors(levels);
    std::vector<std::size_t> order(levels.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t one, std::size_t other) {
        return levels[one].held_g_per_L < levels[other].held_g_per_L;
    });
    const PlanRequest& request = plan.request;
    mixed.ladder = {request.substance.id, request.base.id, request.ladder.scale(), {}};
    for (const std::size_t i : order) {
        const Parts u = parts(levels[i], is_shared);
        const PlannedLevel& planned = plan.levels[kept[i]];
        mixed.ladder.levels.push_back(
            {planned.target, level_from_held(request.substance, GramsPerLitre{levels[i].held_g_per_L}), u.own,
             u.shared, planned.bottle, portions_from(request.demand, Millilitres{levels[i].volume_mL})});
        note_missed_target(mixed, mixed.ladder.levels.back(), request.ladder.scale());
        mixed.covariance.bottles.push_back(planned.bottle);
        mixed.budgets.push_back(budget_of(request, done.makings, levels[i], is_shared, done.first_step));
        for (const std::size_t j : order)
            mixed.covariance.values.push_back(covariance_rel(levels[i], levels[j]));
    }
    note_short_stocks(mixed, done);
    return mixed;
}

MixedLadder as_mixed(const MixPlan& plan, const Readings& readings) {
    return after_mixing(plan, {readings, {}, {}}).ladder;
}

MixedLadder as_planned(const MixPlan& plan) {
    return as_mixed(plan, {});
}

LevelCovariance planned_covariance(const MixPlan& plan) {
    const LevelCovariance sorted = after_mixing(plan, {}).covariance;
    LevelCovariance result;
    std::vector<std::size_t> places;
    for (const PlannedLevel& level : plan.levels) {
        result.bottles.push_back(level.bottle);
        const auto found = std::find(sorted.bottles.begin(), sorted.bottles.end(), level.bottle);
        SIPLADDER_EXPECT(found != sorted.bottles.end());
        places.push_back(static_cast<std::size_t>(found - sorted.bottles.begin()));
    }
    for (const std::size_t row : places)
        for (const std::size_t column : places) result.values.push_back(sorted.at(row, column));
    return result;
}

}  // namespace sipladder::solution
