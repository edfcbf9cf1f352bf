#include "engine/solution/dilution.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/text.hpp"

#include <cmath>
#include <functional>

// Volumes do not add, masses do: the mass of the mixture follows from its volume and density, the mass of the
// stronger liquid from the balance of substance, the water is the rest.

namespace sipladder::solution {

namespace {

void expect_dilution(double from, double to, Millilitres volume, Celsius at, const std::string& unit) {
    std::vector<Problem> problems;
    if (!(from > 0.0 && std::isfinite(from)))
        problems.push_back({"from", "is " + exact(from) + unit, "a strength above 0 is wanted"});
    if (!(to > 0.0 && std::isfinite(to)))
        problems.push_back({"to", "is " + exact(to) + unit, "a strength above 0 is wanted"});
    else if (from < to)
        problems.push_back(
            {"to",
             "is " + exact(to) + unit + ", stronger than what it is made from (" + exact(from) + unit + ")",
             "diluting only makes weaker"});
    if (!(volume.value > 0.0 && volume.value <= 1e7))
        problems.push_back(
            {"volume", "is " + exact(volume.value) + " mL", "more than 0, at most 10000000 mL"});
    if (!(at.value >= 0.0 && at.value <= 40.0))
        problems.push_back({"temperature", "is " + exact(at.value) + " °C", "0 to 40 °C"});
    if (!problems.empty()) throw Refused(problems);
}

Dilution poured(MassFraction from, MassFraction to, Millilitres volume,
                const std::function<GramsPerMillilitre(MassFraction)>& density) {
    const Grams wanted = density(to) * volume;
    Dilution result;
    result.from_g = wanted * (to / from);
    result.from_mL = result.from_g / density(from);
    result.water_g = wanted - result.from_g;
    result.water_mL = result.water_g / density(MassFraction{0.0});
    result.total_g = result.from_g + result.water_g;
    result.volume_change_mL = volume - result.from_mL - result.water_mL;
    return result;
}

}  // namespace

Dilution dilute(PercentVol from, PercentVol to, Millilitres volume, Celsius at) {
    expect_dilution(from.value, to.value, volume, at, " % vol");
    return poured(mass_fraction_from_strength(from), mass_fraction_from_strength(to), volume,
                  [&at](MassFraction p) { return density_of_ethanol_water(p, at); });
}

Dilution dilute(const Substance& substance, GramsPerLitre from, GramsPerLitre to, Millilitres volume,
                Celsius at) {
    expect_dilution(from.value, to.value, volume, at, " g/L");
    if (substance.solubility.value > 0.0 && from > substance.solubility)
        throw Refused("from", "is " + exact(from.value) + " g/L, more than dissolves",
                      "at most " + exact(substance.solubility.value) + " g/L of " + substance.name);
    return poured(mass_fraction_from_held(substance, from, at), mass_fraction_from_held(substance, to, at),
                  volume, [&](MassFraction w) { return density_of_solution(substance, w, at); });
}

}  // namespace sipladder::solution
