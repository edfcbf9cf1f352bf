#include "engine/solution/ethanol_water.hpp"

#include "engine/problem.hpp"
#include "engine/solution/invert.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

// OIML R 22, International alcoholometric tables, general formula: density as a polynomial in the mass
// fraction p (a fraction, not a percentage) and in t - 20 degC. Strength by volume is defined at 20 degC
// whatever the room says. Both inverses are found between brackets on which the function is known to be
// monotone, so they cannot run away.

namespace sipladder::solution {

namespace {

constexpr Celsius reference{20.0};

// Coefficients of OIML R 22 (1975); also Directive 76/766/EEC, annex.
constexpr std::array<double, 12> coefficients_A{998.20123,   -192.9769495, 389.1238958, -1668.103923,
                                                13522.15441, -88292.78388, 306287.4042, -613838.1234,
                                                747017.2998, -547846.1354, 223446.0334, -39032.85426};
constexpr std::array<double, 6> coefficients_B{-0.20618513,    -0.0052682542, 3.6130013e-05,
                                               -3.8957702e-07, 7.169354e-09,  -9.9739231e-11};
constexpr std::array<double, 11> coefficients_C1{0.1693443461530087, -10.46914743455169, 71.96353469546523,
                                                 -704.7478054272792, 3924.090430035045,  -12101.64659068747,
                                                 22486.46550400788,  -26055.62982188164, 18523.73922069467,
                                                 -7420.201433430137, 1285.617841998974};
constexpr std::array<double, 10> coefficients_C2{
    -0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029,  -50.29988758547014,
    109.635566657757,    -142.2753946421155, 108.043594285623,   -44.14153236817392, 7.442971530188783};
constexpr std::array<double, 9> coefficients_C3{
    -0.0006802995733503803, 0.01876837790289664, -0.2002561813734156, 1.02299296671922,   -2.895696483903638,
    4.810060584300675,      -4.672147440794683,  2.458043105903461,   -0.5411227621436812};
constexpr std::array<double, 4> coefficients_C4{4.075376675622027e-06, -8.76305857347111e-06,
                                                6.515031360099368e-06, -1.51578483698721e-06};
constexpr std::array<double, 2> coefficients_C5{-2.788074354782409e-08, 1.345612883493354e-08};

/// sum of c[k] p^(k+1), so zero at p = 0.
template <std::size_t N>
double without_constant(const std::array<double, N>& c, double p) {
    double sum = 0.0;
    for (std::size_t k = N; k-- > 0;) sum = (sum + c[k]) * p;
    return sum;
}

/// OIML R 22 general formula, kg/m3.
double formula(double p, double t) {
    const double T = t - reference.value;
    double strength = coefficients_A.back();
    for (std::size_t k = coefficients_A.size() - 1; k-- > 0;) strength = strength * p + coefficients_A[k];
    if (T == 0.0) return strength;
    const double cross =
        T *
        (without_constant(coefficients_C1, p) +
         T * (without_constant(coefficients_C2, p) +
              T * (without_constant(coefficients_C3, p) +
                   T * (without_constant(coefficients_C4, p) + T * without_constant(coefficients_C5, p)))));
    return strength + without_constant(coefficients_B, T) + cross;
}

double pure_ethanol_kg_per_m3() {
    static const double at_20 = formula(1.0, reference.value);
    return at_20;
}

void expect_temperature(Celsius at) {
    if (!(at.value >= -20.0 && at.value <= 40.0))
        throw Refused("temperature of ethanol and water", "is " + exact(at.value) + " °C",
                      "-20 to 40 °C is known");
}

void expect_fraction(MassFraction ethanol) {
    if (!(ethanol.value >= 0.0 && ethanol.value <= 1.0))
        throw Refused("mass fraction of ethanol", "is " + exact(ethanol.value),
                      "a fraction from 0 to 1 is wanted");
}

double volume_fraction(double p) {
    return p * formula(p, reference.value) / pure_ethanol_kg_per_m3();
}

}  // namespace

MassFraction weakest_liquid(Celsius at) {
    struct Freezing {
        double degC;
        double mass_fraction;
    };
    // Freezing points of ethanol and water, handbook values from memory.
    constexpr std::array<Freezing, 7> points{
        {{-20.5, 0.30}, {-15.4, 0.25}, {-10.9, 0.20}, {-7.4, 0.15}, {-4.5, 0.10}, {-2.1, 0.05}, {0.0, 0.0}}};
    if (at.value >= 0.0) return MassFraction{0.0};
    for (std::size_t i = 1; i < points.size(); ++i) {
        if (at.value > points[i].degC) continue;
        const double share = (points[i].degC - at.value) / (points[i].degC - points[i - 1].degC);
        return MassFraction{
            std::lerp(points[i].mass_fraction, points[i - 1].mass_fraction, std::min(share, 1.0))};
    }
    return MassFraction{0.0};
}

GramsPerMillilitre density_of_ethanol_water(MassFraction ethanol, Celsius at) {
    expect_fraction(ethanol);
    expect_temperature(at);
    const MassFraction liquid_from = weakest_liquid(at);
    if (ethanol < liquid_from)
        throw Refused("mass fraction of ethanol",
                      "is " + exact(ethanol.value) + ", which is frozen at " + exact(at.value) + " °C",
                      "at least " + significant(liquid_from.value, 2) + " there");
    return GramsPerMillilitre{formula(ethanol.value, at.value) / 1000.0};
}

PercentVol strength_from_mass_fraction(MassFraction ethanol) {
    expect_fraction(ethanol);
    return PercentVol{100.0 * volume_fraction(ethanol.value)};
}

MassFraction mass_fraction_from_strength(PercentVol strength) {
    if (!(strength.value >= 0.0 && strength.value <= 100.0))
        throw Refused("strength", "is " + exact(strength.value) + " % vol", "0 to 100 % vol is wanted");
    return MassFraction{inverted(volume_fraction, strength.value / 100.0, 0.0, 1.0)};
}

MassFraction mass_fraction_from_density(GramsPerMillilitre density, Celsius at) {
    expect_temperature(at);
    const double kg_per_m3 = 1000.0 * density.value;
    const auto at_temperature = [&at](double p) { return formula(p, at.value); };
    const double weakest = weakest_liquid(at).value;
    const double most = at_temperature(weakest);
    const double least = at_temperature(1.0);
    if (!(kg_per_m3 >= least && kg_per_m3 <= most))
        throw Refused("density of ethanol and water", "is " + exact(kg_per_m3) + " kg/m³",
                      fixed(least, 2) + " to " + fixed(most, 2) + " kg/m³ at " + exact(at.value) + " °C");
    return MassFraction{inverted(at_temperature, kg_per_m3, weakest, 1.0)};
}

GramsPerLitre ethanol_held(PercentVol strength) {
    return GramsPerLitre{strength.value / 100.0 * pure_ethanol_kg_per_m3()};
}

PercentVol strength_from_held(GramsPerLitre ethanol) {
    const double pct_vol = 100.0 * ethanol.value / pure_ethanol_kg_per_m3();
    if (!(pct_vol >= 0.0 && pct_vol <= 100.0))
        throw Refused("ethanol", "is " + exact(ethanol.value) + " g/L", "0 to 789.24 g/L is possible");
    return PercentVol{pct_vol};
}

MassFraction ethanol_from_held(GramsPerLitre ethanol, Celsius at) {
    expect_temperature(at);
    const auto held = [&at](double p) { return p * formula(p, at.value); };
    const double weakest = weakest_liquid(at).value;
    if (!(ethanol.value >= held(weakest) && ethanol.value <= held(1.0)))
        throw Refused(
            "ethanol", "is " + exact(ethanol.value) + " g/L",
            fixed(held(weakest), 2) + " to " + fixed(held(1.0), 2) + " g/L at " + exact(at.value) + " °C");
    return MassFraction{inverted(held, ethanol.value, weakest, 1.0)};
}

Millilitres contraction(Millilitres spirit, PercentVol strength, Millilitres water, Celsius at) {
    if (!(spirit.value >= 0.0 && water.value >= 0.0 && std::isfinite(spirit.value) &&
          std::isfinite(water.value)))
        throw Refused("volumes to mix", "are " + exact(spirit.value) + " and " + exact(water.value) + " mL",
                      "both must be 0 or more");
    if (spirit.value + water.value == 0.0) return Millilitres{0.0};
    const MassFraction p = mass_fraction_from_strength(strength);
    const Grams spirit_g = density_of_ethanol_water(p, at) * spirit;
    const Grams water_g = density_of_ethanol_water(MassFraction{0.0}, at) * water;
    const MassFraction mixed{spirit_g.value * p.value / (spirit_g + water_g).value};
    return spirit + water - (spirit_g + water_g) / density_of_ethanol_water(mixed, at);
}

}  // namespace sipladder::solution
