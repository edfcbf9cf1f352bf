// A second way: people at the bench follow the printed steps. Each draws instruments, a pack and reading
// errors from the distributions that the uncertainties stand for, and the truth in every bottle is found by
// balance of mass and volume with the densities alone. None of the propagation of recipe.cpp is used.

#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/solution/planner.hpp"
#include "tests/solution/kitchens.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

struct Liquid {
    double mass_fraction{};
    double g_per_mL{};
};

struct Which {
    bool own = true;     ///< readings made for one bottle only
    bool shared = true;  ///< pack, instruments, readings of stocks
};

/// A draw with this standard deviation, rectangular.
double off(Random& random, double sd, bool wanted) {
    const double drawn = std::sqrt(3.0) * (2.0 * random.uniform() - 1.0);
    return wanted ? sd * drawn : 0.0;
}

double half_width_rel(const Ingredient& i) {
    return i.form == IngredientForm::powder ? i.content_half_width / i.content
                                            : i.strength_half_width / i.strength;
}

/// The mass fraction at which a volume filled up to the mark holds this much substance: by halving, on the
/// density.
double fraction_at_mark(const Substance& substance, double substance_g, double volume_mL) {
    double low = 0.0, high = 0.6;
    for (int step = 0; step < 60; ++step) {
        const double w = 0.5 * (low + high);
        (w * density_of_solution(substance, MassFraction{w}).value * volume_mL < substance_g ? low : high) =
            w;
    }
    return low;
}

std::map<std::string, double> person_at_bench(const MixPlan& plan, Random& random, Which which) {
    const PlanRequest& request = plan.request;
    std::map<std::string, double> instrument;
    const double pack = 1.0 + off(random, half_width_rel(request.ingredient) / std::sqrt(3.0), which.shared);
    std::map<std::string, Liquid> liquids;
    if (request.ingredient.form == IngredientForm::powder) {
        liquids[request.ingredient.name] = {request.ingredient.content.value * pack, 0.0};
    } else {
        const MassFraction p =
            mass_fraction_from_strength(PercentVol{request.ingredient.strength.value * pack});
        liquids[request.ingredient.name] = {p.value, density_of_ethanol_water(p, Celsius{20.0}).value};
    }
    std::map<std::string, double> substance_g, levels;
    for (const Step& step : plan.steps) {
        const bool for_stock = step.into.starts_with("stock");
        if (!instrument.contains(step.with_id)) instrument[step.with_id] = off(random, 1.0, which.shared);
        const double calibration = 1.0 + step.u_shared_rel * instrument[step.with_id];
        const double shown = step.reading + off(random, step.u_own, for_stock ? which.shared : which.own);
        const double amount = shown * calibration;
        if (step.kind == StepKind::weigh) {
            substance_g[step.into] = amount * liquids.at(step.from).mass_fraction;
        } else if (step.kind == StepKind::draw_stock || step.kind == StepKind::measure_volume) {
            const Liquid& liquid = liquids.at(step.from);
            substance_g[step.into] = amount * liquid.g_per_mL * liquid.mass_fraction;
        } else {
            const double w = step.kind == StepKind::make_up_to_mass
                                 ? substance_g[step.into] / amount
                                 : fraction_at_mark(request.substance, substance_g[step.into], amount);
            const double density = density_of_solution(request.substance, MassFraction{w}).value;
            liquids[step.into] = {w, density};
            const double g_per_L = 1000.0 * w * density;
            levels[step.into] = request.substance.scale == Scale::pct_vol ? g_per_L / 7.892391 : g_per_L;
        }
    }
    return levels;
}

struct Spread {
    double mean{};
    double sd_rel{};
};

std::map<std::string, Spread> spread(const MixPlan& plan, Seed seed, Which which) {
    constexpr int people = 3000;
    Random random(seed);
    std::map<std::string, double> sum, squares;
    for (int person = 0; person < people; ++person)
        for (const auto& [container, level] : person_at_bench(plan, random, which)) {
            sum[container] += level;
            squares[container] += level * level;
        }
    std::map<std::string, Spread> result;
    for (const auto& [container, total] : sum) {
        const double mean = total / people;
        const double variance = std::max(0.0, squares[container] / people - mean * mean);
        result[container] = {mean, std::sqrt(variance) / mean};
    }
    return result;
}

PlanRequest request_with_flask() {
    Equipment kitchen = kitchen_plain();
    kitchen.vessels.push_back({"flask", "100 mL flask", VesselKind::flask, Millilitres{100.0},
                               Millilitres{0.0}, Millilitres{100.0}, 0.0, Millilitres{0.2}, false});
    kitchen.balances = {{"small", "small scale", Grams{0.01}, Grams{50.0}, Grams{0.5}, 0.003}};
    return acid_request(kitchen);
}

}  // namespace

TEST_CASE("people who follow the printed steps scatter as the plan says") {
    const std::vector<PlanRequest> requests{sugar_request(),
                                            acid_request(),
                                            alcohol_request(),
                                            sugar_request(kitchen_plain()),
                                            alcohol_request(kitchen_plain()),
                                            request_with_flask()};
    std::uint64_t seed = 20260101;
    for (const PlanRequest& request : requests) {
        const MixPlan planned = plan(request);
        const auto all = spread(planned, Seed{++seed}, {true, true});
        CAPTURE(seed);
        CAPTURE(request.ladder.id());
        CAPTURE(request.equipment.id);
        for (const PlannedLevel& level : planned.levels) {
            const std::string bottle = "bottle " + level.bottle;
            CAPTURE(bottle);
            // 3000 people know a standard deviation to 1.3 %; the floor is where one bottle alone has an
            // instrument.
            CHECK(std::abs(all.at(bottle).mean / level.mixed - 1.0) < 0.1 * level.u_rel() + 1e-4);
            CHECK(std::abs(all.at(bottle).sd_rel / level.u_rel() - 1.0) < 0.06);
        }
    }
}

TEST_CASE("own and shared parts are what people scatter by when only these errors are made") {
    for (const PlanRequest& request : {sugar_request(), acid_request(), alcohol_request()}) {
        const MixPlan planned = plan(request);
        const auto own = spread(planned, Seed{7}, {true, false});
        const auto shared = spread(planned, Seed{8}, {false, true});
        CAPTURE(request.ladder.id());
        for (const PlannedLevel& level : planned.levels) {
            const std::string bottle = "bottle " + level.bottle;
            CAPTURE(bottle);
            CHECK(std::abs(own.at(bottle).sd_rel - level.u_own_rel) < 0.07 * level.u_own_rel + 1e-6);
            CHECK(std::abs(shared.at(bottle).sd_rel - level.u_shared_rel) < 0.07 * level.u_shared_rel + 1e-6);
        }
    }
}
