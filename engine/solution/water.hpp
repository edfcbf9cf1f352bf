#pragma once

#include "engine/units.hpp"

namespace sipladder::solution {

/// Density of air-free water at 101325 Pa.
///
/// @param at        temperature, 0 to 40 degC
/// @throws Refused  outside that range
/// @source          tanaka_2001
/// @checked         tests/published/water_test.cpp
GramsPerMillilitre density_of_water(Celsius at);

/// The same for water that has stood in air: lighter by up to 0.005 kg/m3, far below what a kitchen can tell.
/// @param at        temperature, 0 to 25 degC
/// @throws Refused  outside that range
/// @source          tanaka_2001
/// @checked         tests/published/water_test.cpp
GramsPerMillilitre density_of_air_saturated_water(Celsius at);

}  // namespace sipladder::solution
