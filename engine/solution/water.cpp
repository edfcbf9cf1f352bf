#include "engine/solution/water.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

// Tanaka M, Girard G, Davis R, Peuto A, Bignell N, Metrologia 38:301 (2001), equation 1. The formulas for
// ethanol and sucrose each carry an older water scale of their own, up to 0.006 kg/m3 below this one, and
// keep it.

namespace sipladder::solution {

GramsPerMillilitre density_of_water(Celsius at) {
    const double t = at.value;
    if (!(t >= 0.0 && t <= 40.0))
        throw Refused("temperature of water", "is " + exact(t) + " °C", "0 to 40 °C is known");
    constexpr double a1 = -3.983035, a2 = 301.797, a3 = 522528.9, a4 = 69.34881, a5 = 999.974950;
    const double kg_per_m3 = a5 * (1.0 - (t + a1) * (t + a1) * (t + a2) / (a3 * (t + a4)));
    return GramsPerMillilitre{kg_per_m3 / 1000.0};
}

GramsPerMillilitre density_of_air_saturated_water(Celsius at) {
    const double t = at.value;
    if (!(t >= 0.0 && t <= 25.0))
        throw Refused("temperature of water with air in it", "is " + exact(t) + " °C", "0 to 25 °C is known");
    const double lighter_kg_per_m3 = -4.612e-3 + 0.106e-3 * t;
    return density_of_water(at) + GramsPerMillilitre{lighter_kg_per_m3 / 1000.0};
}

}  // namespace sipladder::solution
