#pragma once

#include "engine/units.hpp"

/// Sucrose in water by the ICUMSA formula: mass fraction 0 to 0.85 and 0 to 80 degC. Every function refuses
/// what lies outside, naming the range. Specific gravity 20/20 is the ratio of true densities (in vacuum) at
/// 20 degC unless the name says "apparent" (both weighed in air of 1.2 kg/m3): 1.03998 and 1.04003 at 10
/// °Brix.
/// @source   icumsa_sps4
/// @checked  tests/published/sucrose_test.cpp
namespace sipladder::solution {

GramsPerMillilitre density_of_sucrose_water(MassFraction sucrose, Celsius at);
MassFraction sucrose_from_density(GramsPerMillilitre density, Celsius at);

Brix brix_from_mass_fraction(MassFraction sucrose);
MassFraction mass_fraction_from_brix(Brix brix);

/// Grams of sucrose in a litre of solution measured at this temperature.
GramsPerLitre sucrose_held(MassFraction sucrose, Celsius at);
MassFraction mass_fraction_from_sucrose_held(GramsPerLitre sucrose, Celsius at);

double sg_20_20_from_mass_fraction(MassFraction sucrose);
MassFraction mass_fraction_from_sg_20_20(double sg);
double apparent_sg_20_20_from_mass_fraction(MassFraction sucrose);
MassFraction mass_fraction_from_apparent_sg_20_20(double sg);

/// What a glass hydrometer marked in specific gravity 20/20 shows in a solution at this temperature.
double hydrometer_reading(MassFraction sucrose, Celsius at);

}  // namespace sipladder::solution
