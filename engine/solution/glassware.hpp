#pragma once

#include "engine/units.hpp"

/// The limits of error that makers of measuring vessels have to keep, for kitchens of one's own and as a
/// check of the shipped ones. All at 20 degC, as half-widths.
/// @checked  tests/published/glassware_test.cpp
namespace sipladder::solution {

/// A new syringe for single use: 5 % of what is expelled (4 % from 5 mL up), from half its nominal capacity;
/// below, 1.5 % of the capacity and 2 % (1 %) of what is expelled.
/// @throws Refused  unless 0 < expelled <= nominal <= 1000 mL
/// @source          iso_7886_1
Millilitres syringe_limit(Millilitres nominal, Millilitres expelled);

/// A volumetric flask with one mark, class B (class A has half as much).
/// @throws Refused  for a size that the standard does not list
/// @source          iso_1042
Millilitres flask_limit(Millilitres nominal);

/// A measuring cylinder, class B (class A has half as much), the same at every mark.
/// @throws Refused  for a size that the standard does not list
/// @source          iso_4788
Millilitres cylinder_limit(Millilitres nominal);

/// A piston pipette: the limit of its nominal volume, which holds at every setting.
/// @throws Refused  unless 0 < nominal <= 10 mL
/// @source          iso_8655_2
Millilitres pipette_limit(Millilitres nominal);

/// The smallest load with which tare and reading of this display stay within the wanted relative standard
/// uncertainty.
/// @throws Refused  unless both are above 0 and the uncertainty is below 1
/// @source          gum_2008
Grams smallest_load(Grams resolution, double wanted_u_rel);

}  // namespace sipladder::solution
