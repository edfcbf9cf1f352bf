#include "engine/solution/hydrometer.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <string>

// A float is marked in what the liquid in which it floats so deep would hold at 20 degC. In a warmer liquid
// its glass has swollen and displaces more, so the true density is a little less than the mark; the strength
// is then the one that has this density at this temperature.

namespace sipladder::solution {

namespace {

constexpr double glass_per_K = 25e-6;     // soda-lime glass, cubic (OIML R 22)
constexpr double air_g_per_mL = 0.0012;   // conventional air, OIML D 28 (from memory)
constexpr double weights_g_per_mL = 8.0;  // conventional weights, OIML D 28 (from memory)

double glass_at(Celsius at) {
    if (!(at.value >= -20.0 && at.value <= 80.0))
        throw Refused("temperature of a float", "is " + exact(at.value) + " °C", "-20 to 80 °C");
    return 1.0 - glass_per_K * (at.value - bench_temperature.value);
}

void expect_density(const std::string& where, GramsPerMillilitre density, double most) {
    if (!(density.value >= 0.5 && density.value <= most))
        throw Refused(where, "is " + exact(density.value) + " g/mL", "0.5 to " + exact(most) + " g/mL");
}

void expect_between(const std::string& where, double value, double least, double most) {
    if (!(value >= least && value <= most))
        throw Refused(where, "is " + exact(value), exact(least) + " to " + exact(most) + " is known");
}

MassFraction found_by_float(MassFraction marked, Celsius at) {
    return mass_fraction_from_density(
        density_from_float(density_of_ethanol_water(marked, bench_temperature), at), at);
}

MassFraction marked_for(MassFraction ethanol, Celsius at) {
    return mass_fraction_from_density(float_reading(density_of_ethanol_water(ethanol, at), at),
                                      bench_temperature);
}

}  // namespace

PercentVol strength_from_alcoholometer(PercentVol reading, Celsius at) {
    return strength_from_mass_fraction(found_by_float(mass_fraction_from_strength(reading), at));
}

PercentVol alcoholometer_reading(PercentVol strength, Celsius at) {
    return strength_from_mass_fraction(marked_for(mass_fraction_from_strength(strength), at));
}

MassFraction mass_fraction_from_alcoholometer(MassFraction reading, Celsius at) {
    return found_by_float(reading, at);
}

MassFraction alcoholometer_reading_by_mass(MassFraction ethanol, Celsius at) {
    return marked_for(ethanol, at);
}

GramsPerMillilitre float_reading(GramsPerMillilitre density, Celsius at) {
    expect_density("density", density, 3.0);
    return density / glass_at(at);
}

GramsPerMillilitre density_from_float(GramsPerMillilitre reading, Celsius at) {
    expect_density("reading of the float", reading, 3.0);
    return reading * glass_at(at);
}

double sg_reading(const Substance& substance, MassFraction held, Celsius at) {
    return float_reading(density_of_solution(substance, held, at), at) /
           density_of_solution(substance, MassFraction{0.0}, bench_temperature);
}

Brix brix_from_apparent_sg_20_20(double sg) {
    expect_between("apparent specific gravity 20/20", sg, 1.0, 1.17874);
    // The cubic passes a hair below zero at pure water.
    return Brix{std::max(0.0, ((182.46007 * sg - 775.68212) * sg + 1262.7794) * sg - 669.56218)};
}

double plato_from_apparent_sg_20_20(double sg) {
    expect_between("apparent specific gravity 20/20", sg, 1.0, 1.144);
    return std::max(0.0, ((135.997 * sg - 630.272) * sg + 1111.14) * sg - 616.868);
}

Brix brix_from_refractive_index(double n) {
    expect_between("refractive index at 20 °C", n, 1.3330, 1.5033);
    return Brix{((((11758.74 * n - 88885.21) * n + 270177.93) * n - 413145.80) * n + 318417.95) * n -
                99127.4536};
}

std::optional<BrixReading> refractometer_reading(const Substance& substance, MassFraction held) {
    constexpr double other_sugars_rel = 0.02;  // from memory
    expect_between("mass fraction of " + substance.name, held.value, 0.0, 0.85);
    const Brix shown{100.0 * held.value};
    if (substance.density_model == DensityModel::sucrose) return BrixReading{shown, Brix{0.0}};
    if (substance.id == "glucose" || substance.id == "fructose")
        return BrixReading{shown, other_sugars_rel * shown};
    return std::nullopt;
}

Grams shown_in_air(Grams mass, GramsPerMillilitre density) {
    if (!(mass.value >= 0.0 && std::isfinite(mass.value)))
        throw Refused("mass", "is " + exact(mass.value) + " g", "0 or more is wanted");
    expect_density("density", density, 30.0);
    return mass * ((1.0 - air_g_per_mL / density.value) / (1.0 - air_g_per_mL / weights_g_per_mL));
}

}  // namespace sipladder::solution
