#pragma once

#include "engine/solution/mixture.hpp"
#include "engine/solution/substance.hpp"
#include "engine/units.hpp"

#include <optional>

/// What floats, refractometers and balances show, and what it means: for the check before tasting.
/// Instruments are of soda-lime glass and marked for 20 degC.
namespace sipladder::solution {

/// The true strength of a mixture of ethanol and water in which an alcoholometer shows `reading` at this
/// temperature, and the other way round; by volume and by mass.
///
/// @param at        temperature, -20 to 40 degC
/// @throws Refused  for readings outside 0 to 100 %, and where no mixture of ethanol and water floats it
/// there
/// @source          oiml_r22
/// @checked         tests/published/hydrometer_test.cpp
PercentVol strength_from_alcoholometer(PercentVol reading, Celsius at);
PercentVol alcoholometer_reading(PercentVol strength, Celsius at);
MassFraction mass_fraction_from_alcoholometer(MassFraction reading, Celsius at);
MassFraction alcoholometer_reading_by_mass(MassFraction ethanol, Celsius at);

/// The density that a float marked in density shows in a liquid of this true density, and the other way
/// round.
/// @throws Refused  unless the density is 0.5 to 3 g/mL and the temperature -20 to 80 degC
/// @source          oiml_r22
GramsPerMillilitre float_reading(GramsPerMillilitre density, Celsius at);
GramsPerMillilitre density_from_float(GramsPerMillilitre reading, Celsius at);

/// What a hydrometer marked in specific gravity 20/20 (ratio of true densities) shows in a solution of any
/// substance.
/// @throws Refused  outside the range of the density formula
double sg_reading(const Substance& substance, MassFraction held, Celsius at = bench_temperature);

/// Degrees Brix and degrees Plato from an apparent specific gravity 20/20 (both weighed in air), by the
/// cubics in use: within 0.02 of the formula of density.
/// @throws Refused  outside 1 to 1.17874 (Brix) and 1 to 1.144 (Plato), where they go astray
/// @source          nbs_c440 for Brix, asbc_extract for Plato
Brix brix_from_apparent_sg_20_20(double sg);
double plato_from_apparent_sg_20_20(double sg);

/// Degrees Brix from the refractive index at 20 degC and the sodium line, within 0.05.
/// @throws Refused  outside 1.3330 to 1.5033
/// @source          brix_polynomial
Brix brix_from_refractive_index(double n);

/// What a hand refractometer marked for sucrose, at 20 degC, shows in a solution, and how far off it may be:
/// for sucrose its mass percent; glucose and fructose bend light nearly as much (within 2 % of the reading;
/// from memory). Nothing for any other substance: the scale says nothing about acid, salt or spirit, and
/// winery tables are for must, whose dissolved matter is not all sugar.
struct BrixReading {
    Brix shown;
    Brix within;
};
std::optional<BrixReading> refractometer_reading(const Substance& substance, MassFraction held);

/// What a balance shows for this true mass of something of this density: air of 1.2 kg/m3 buoys it up more
/// than the 8000 kg/m3 of the weights it was set with.
/// @throws Refused  for a mass that is negative or not finite, a density outside 0.5 to 30 g/mL
/// @source          oiml_d28
Grams shown_in_air(Grams mass, GramsPerMillilitre density);

}  // namespace sipladder::solution
