// Readings that show before tasting whether a mixture came out right. Each is taken only where its instrument
// can tell; the band that still passes holds half a step of the instrument and twice the mixture's own
// standard uncertainty. The instruments are the common ones of a home winemaker.
#include "engine/problem.hpp"
#include "engine/solution/acid.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/solution/provisions.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::solution {

namespace {

constexpr double hydrometer_step = 0.002;   // common practice, no source
constexpr double refractometer_step = 0.2;  // °Brix; common practice, no source
constexpr double alcoholmeter_step = 1.0;   // % vol; common practice, no source
constexpr double pH_step = 0.2;             // a good strip or a plain meter; common practice, no source
constexpr double steps_to_tell = 5.0;       // below, the instrument could not tell it from water; judgement
constexpr double volume_by_eye = 0.05;      // of a jug; common practice, no source

const char* const stir_or_redo =
    "Mix it once more and read again; if it still does not pass, make it anew rather than correct it.";

/// What is checked: a stock, or the strongest level where there is none.
struct Checked {
    std::string name;
    double level{};
    double u_rel{};
    const Mixture* mixture{};
    const Making* making{};
};

class Checks {
  public:
    Checks(MixPlan& plan, Checked checked) : plan_(plan), checked_(std::move(checked)) {}

    void add_all() {
        const Substance& substance = plan_.request.substance;
        const std::size_t before = plan_.checks.size();
        if (substance.density_model == DensityModel::ethanol) {
            add_alcoholmeter();
        } else {
            add_hydrometer();
            if (substance.density_model == DensityModel::sucrose) add_refractometer();
        }
        if (acid_named(substance.id)) add_pH();
        if (plan_.checks.size() == before) add_mass_or_volume();
    }

  private:
    void add(const std::string& instrument, const std::string& what, double expected, double within,
             const std::string& unit) {
        plan_.checks.push_back({what + " " + checked_.name + " at 20 °C", expected, within, unit,
                                checked_.name, instrument, stir_or_redo});
    }

    void add_hydrometer() {
        const Base& base = plan_.request.base;
        const Substance& substance = plan_.request.substance;
        const double water = density_of_solution(substance, MassFraction{0.0}).value;
        const double sg =
            density_in_base(substance, MassFraction{checked_.mixture->mass_fraction}, base).value / water;
        if (std::abs(sg - 1.0) < steps_to_tell * hydrometer_step) return;
        add("hydrometer", "hydrometer (specific gravity 20/20) in", sg,
            std::hypot(0.5 * hydrometer_step, 2.0 * checked_.u_rel * std::abs(sg - 1.0)), "SG 20/20");
    }

    void add_refractometer() {
        if (!is_plain_water(plan_.request.base)) return;
        const double brix = brix_from_mass_fraction(MassFraction{checked_.mixture->mass_fraction}).value;
        if (brix < steps_to_tell * refractometer_step) return;
        add("refractometer", "refractometer (°Brix) in", brix,
            std::hypot(0.5 * refractometer_step, 2.0 * checked_.u_rel * brix), "°Brix");
    }

    void add_alcoholmeter() {
        if (!is_plain_water(plan_.request.base) || checked_.level < steps_to_tell * alcoholmeter_step) return;
        add("alcoholmeter", "alcoholmeter in", checked_.level,
            std::hypot(0.5 * alcoholmeter_step, 2.0 * checked_.u_rel * checked_.level), "% vol");
    }

    void add_pH() {
        const PlanRequest& request = plan_.request;
        try {
            const double pH = expected_pH(request.base, request.substance, checked_.level);
            const double blank = expected_pH(request.base, request.substance, 1e-9);
            if (std::abs(blank - pH) < steps_to_tell * pH_step) return;
            const double off =
                expected_pH(request.base, request.substance, checked_.level * (1.0 + 2.0 * checked_.u_rel));
            add("pH meter or strips", "pH of", pH, std::hypot(0.5 * pH_step, off - pH), "pH");
        } catch (const Refused&) {
            // Stronger than the pH can be reckoned for: there is no such check then.
        }
    }

    void add_mass_or_volume() {
        const Mixture& mixture = *checked_.mixture;
        const double density =
            density_in_base(plan_.request.substance, MassFraction{mixture.mass_fraction}, plan_.request.base)
                .value;
        const double mass_g = density * mixture.volume_mL;
        if (checked_.making->total.instrument.is_balance)
            plan_.checks.push_back({"volume of " + checked_.name + " in a measuring jug", mixture.volume_mL,
                                    volume_by_eye * mixture.volume_mL, "mL", checked_.name, "jug",
                                    stir_or_redo});
        else
            plan_.checks.push_back({"mass of " + checked_.name + " without its bottle", mass_g,
                                    2.0 * checked_.making->total.u_shared_rel * mass_g + 1.0, "g",
                                    checked_.name, "balance", stir_or_redo});
    }

    MixPlan& plan_;
    Checked checked_;
};

}  // namespace

void add_checks(MixPlan& plan, const Candidate& candidate, const std::vector<Mixture>& all) {
    const PlanRequest& request = plan.request;
    if (!is_plain_water(request.base)) {
        constexpr double next_to_nothing = 1e-9;
        plan.checks.push_back({"pH of the base",
                               expected_pH(request.base, request.substance, next_to_nothing), 0.5 * pH_step,
                               "pH", "the base", "pH meter or strips", stir_or_redo});
    }
    for (std::size_t i = 0; i < candidate.stocks; ++i)
        Checks(plan, {plan.stocks[i].name, plan.stocks[i].concentration, plan.stocks[i].u_rel, &all[i],
                      &candidate.makings[i]})
            .add_all();
    if (candidate.stocks > 0) return;
    const PlannedLevel& strongest = plan.levels.back();
    Checks(plan, {"bottle " + strongest.bottle, strongest.mixed, strongest.u_rel(), &all.back(),
                  &candidate.makings.back()})
        .add_all();
}

}  // namespace sipladder::solution
