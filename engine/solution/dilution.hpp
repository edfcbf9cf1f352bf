#pragma once

#include "engine/solution/mixture.hpp"
#include "engine/solution/substance.hpp"
#include "engine/units.hpp"

namespace sipladder::solution {

/// What to pour together for one dilution; `total_g` is exactly `from_g + water_g`.
struct Dilution {
    Millilitres from_mL;  ///< of the stronger liquid, at the temperature asked for
    Grams from_g;
    Millilitres water_mL;
    Grams water_g;
    Grams total_g;
    Millilitres volume_change_mL;  ///< of the mixture against the sum of its parts; positive where it grows
};

/// A spirit diluted with water to a lower strength.
///
/// @param volume    of the mixture wanted, at this temperature; more than 0, at most 1e7 mL
/// @param at        temperature of everything poured, 0 to 40 degC
/// @throws Refused  unless 0 < to <= from <= 100 % vol, and outside these ranges
/// @source          oiml_r22
/// @checked         tests/published/dilution_test.cpp
Dilution dilute(PercentVol from, PercentVol to, Millilitres volume, Celsius at = bench_temperature);

/// A stock of some substance diluted with water. @throws Refused unless 0 < to <= from, and outside these
/// ranges
/// @checked         tests/published/dilution_test.cpp
Dilution dilute(const Substance& substance, GramsPerLitre from, GramsPerLitre to, Millilitres volume,
                Celsius at = bench_temperature);

}  // namespace sipladder::solution
