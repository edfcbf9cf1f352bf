#pragma once

#include "engine/solution/substance.hpp"
#include "engine/units.hpp"

/// One substance in water, whichever way its density is reckoned (Substance::density_model): sucrose by
/// ICUMSA, ethanol by OIML R 22, anything else by its apparent specific volume, which is meant for dilute
/// solutions.
namespace sipladder::solution {

constexpr Celsius bench_temperature{20.0};  ///< glassware and strengths are defined at it

/// @throws Refused  outside the range of the formula
GramsPerMillilitre density_of_solution(const Substance& substance, MassFraction held,
                                       Celsius at = bench_temperature);

/// Grams of substance in a litre of a solution of this mass fraction, and back.
/// @throws Refused  outside the range of the formula
GramsPerLitre held_from_mass_fraction(const Substance& substance, MassFraction held,
                                      Celsius at = bench_temperature);
MassFraction mass_fraction_from_held(const Substance& substance, GramsPerLitre held,
                                     Celsius at = bench_temperature);

/// A level on the substance's scale as grams of substance per litre at 20 degC, and back: the same number for
/// g/L, 7.892 times as much for % vol.
GramsPerLitre held_from_level(const Substance& substance, double level);
double level_from_held(const Substance& substance, GramsPerLitre held);

/// What the relative error of a concentration by volume is, per relative error of the mass fraction:
/// d ln(g/L) / d ln(mass fraction); 1 in dilute solutions, 1.04 for 100 g/L of sucrose.
double held_per_mass_fraction(const Substance& substance, MassFraction held);

}  // namespace sipladder::solution
