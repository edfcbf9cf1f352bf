#pragma once

#include "engine/units.hpp"

namespace sipladder::solution {

/// Density of a mixture of ethanol and water.
///
/// @param ethanol   mass fraction of ethanol, 0 to 1
/// @param at        temperature, -20 to 40 degC; below 0 degC only where the mixture is liquid
/// @throws Refused  outside these ranges, naming the argument and the range
/// @source          oiml_r22, general formula
/// @checked         tests/published/ethanol_water_test.cpp
GramsPerMillilitre density_of_ethanol_water(MassFraction ethanol, Celsius at);

/// The weakest mixture that is liquid at this temperature (0 from 0 degC up), by the freezing points of
/// handbooks (from memory; within 0.01 in mass fraction). It only guards the density formula.
MassFraction weakest_liquid(Celsius at);

/// Alcoholic strength by volume at 20 degC of a mixture of this mass fraction: q = p rho(p) / rho(1).
/// @throws Refused  outside 0 to 1
/// @source          oiml_r22
PercentVol strength_from_mass_fraction(MassFraction ethanol);

/// The inverse, to 1e-14. @throws Refused outside 0 to 100 % vol
/// @source          oiml_r22
MassFraction mass_fraction_from_strength(PercentVol strength);

/// Mass fraction of the mixture that has this density at this temperature, to 1e-14.
/// @throws Refused  where no mixture of ethanol and water has it
/// @source          oiml_r22
MassFraction mass_fraction_from_density(GramsPerMillilitre density, Celsius at);

/// Grams of ethanol in a litre of a mixture, both at 20 degC: 7.892 for each % vol.
GramsPerLitre ethanol_held(PercentVol strength);
/// The inverse. @throws Refused outside 0 to 789.24 g/L
PercentVol strength_from_held(GramsPerLitre ethanol);

/// Mass fraction of the mixture that holds this much ethanol in a litre measured at this temperature, to
/// 1e-14.
/// @throws Refused  where no mixture holds as much
/// @source          oiml_r22
MassFraction ethanol_from_held(GramsPerLitre ethanol, Celsius at);

/// What is lost in volume when a spirit and water, both at this temperature, are poured together; negative
/// where the volume grows, as it does on diluting 40 % vol to 12 % vol.
/// @throws Refused  for volumes that are negative or not finite
/// @source          oiml_r22
Millilitres contraction(Millilitres spirit, PercentVol strength, Millilitres water, Celsius at);

}  // namespace sipladder::solution
