#include "engine/solution/mixture.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "engine/solution/water.hpp"
#include "engine/text.hpp"

#include <cmath>

// With an apparent specific volume phi, a gram of solution takes (1 - w) / rho_water + w phi millilitres.
// Buoyancy is left out: what is weighed into a solution and the whole solution lose nearly the same part of
// their weight in air, and 0.05 % is far below what a kitchen can tell.

namespace sipladder::solution {

namespace {

void expect_mass_fraction(const Substance& substance, double w) {
    if (!(w >= 0.0 && w <= 1.0))
        throw Refused("mass fraction of " + substance.name, "is " + exact(w),
                      "a fraction from 0 to 1 is wanted");
}

double mL_per_g_of_solution(const Substance& substance, double w, Celsius at) {
    return (1.0 - w) / density_of_water(at).value + w * substance.apparent_volume_mL_per_g;
}

}  // namespace

GramsPerMillilitre density_of_solution(const Substance& substance, MassFraction held, Celsius at) {
    switch (substance.density_model) {
        case DensityModel::sucrose:
            return density_of_sucrose_water(held, at);
        case DensityModel::ethanol:
            return density_of_ethanol_water(held, at);
        case DensityModel::apparent_volume:
            break;
    }
    expect_mass_fraction(substance, held.value);
    const double volume = mL_per_g_of_solution(substance, held.value, at);
    if (!(volume > 0.0))
        throw Refused("density of " + substance.name, "has no apparent specific volume", "give it in mL/g");
    return GramsPerMillilitre{1.0 / volume};
}

GramsPerLitre held_from_mass_fraction(const Substance& substance, MassFraction held, Celsius at) {
    return GramsPerLitre{1000.0 * held.value * density_of_solution(substance, held, at).value};
}

MassFraction mass_fraction_from_held(const Substance& substance, GramsPerLitre held, Celsius at) {
    if (!(held.value >= 0.0))
        throw Refused(substance.name, "is " + exact(held.value) + " g/L", "0 or more is wanted");
    switch (substance.density_model) {
        case DensityModel::sucrose:
            return mass_fraction_from_sucrose_held(held, at);
        case DensityModel::ethanol:
            if (at == bench_temperature) return mass_fraction_from_strength(strength_from_held(held));
            return ethanol_from_held(held, at);
        case DensityModel::apparent_volume:
            break;
    }
    const double g_per_mL = held.value / 1000.0;
    const double water_mL_per_g = 1.0 / density_of_water(at).value;
    const double w =
        g_per_mL * water_mL_per_g / (1.0 + g_per_mL * (water_mL_per_g - substance.apparent_volume_mL_per_g));
    expect_mass_fraction(substance, w);
    return MassFraction{w};
}

GramsPerLitre held_from_level(const Substance& substance, double level) {
    return substance.scale == Scale::pct_vol ? ethanol_held(PercentVol{level}) : GramsPerLitre{level};
}

double level_from_held(const Substance& substance, GramsPerLitre held) {
    return substance.scale == Scale::pct_vol ? strength_from_held(held).value : held.value;
}

double held_per_mass_fraction(const Substance& substance, MassFraction held) {
    if (held.value <= 0.0) return 1.0;
    const double step = 1e-4 * held.value;  // small against the curvature, large against rounding
    const double up = held_from_mass_fraction(substance, held + MassFraction{step}).value;
    const double down = held_from_mass_fraction(substance, held - MassFraction{step}).value;
    return std::log(up / down) / std::log((held.value + step) / (held.value - step));
}

}  // namespace sipladder::solution
