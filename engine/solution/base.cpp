#include "engine/solution/base.hpp"

#include "engine/problem.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/solution/water.hpp"
#include "engine/text.hpp"

// A litre of a base is what its constituents take up by their apparent specific volumes, and water. A level
// made in it displaces base as it would displace water: the volume that a gram of its solution in water takes
// beyond its water is kept, the water's volume is replaced by that of the base.

namespace sipladder::solution {

namespace {

constexpr double potassium_hydrogen_tartrate_g_per_mol = 188.177;   // iupac_weights_2021
constexpr double potassium_hydrogen_carbonate_g_per_mol = 100.115;  // iupac_weights_2021
constexpr double tartaric_acid_g_per_mol = 150.087;                 // iupac_weights_2021
constexpr double salt_mL_per_g = 0.45;  // both salts; judgement: 2 g/L move the density by less than 0.0003

bool is_of_ethanol(const Substance& substance) {
    return substance.density_model == DensityModel::ethanol;
}

}  // namespace

bool is_plain_water(const Base& base) {
    return base.constituents.empty() && base.potassium.value == 0.0 && base.ethanol.value == 0.0;
}

GramsPerMillilitre density_of_base(const Base& base) {
    if (base.density.value > 0.0) return base.density;
    double dissolved_g = potassium_salt_held(base).value;
    double taken_mL = salt_mL_per_g * dissolved_g;
    for (const Constituent& one : base.constituents) {
        SIPLADDER_EXPECT(!is_of_ethanol(one.substance));
        dissolved_g += one.held.value;
        taken_mL += one.held.value * one.substance.apparent_volume_mL_per_g;
    }
    const bool is_possible = taken_mL >= 0.0 && taken_mL < 500.0 && dissolved_g >= 0.0;
    if (!is_possible)
        throw Refused(
            "base " + base.name,
            "holds " + exact(dissolved_g) + " g/L of what is dissolved in it, which leaves too little water",
            "less of each is wanted");
    const MassFraction spirit =
        base.ethanol.value > 0.0 ? mass_fraction_from_strength(base.ethanol) : MassFraction{0.0};
    const double liquid = base.ethanol.value > 0.0 ? density_of_ethanol_water(spirit, bench_temperature).value
                                                   : density_of_water(bench_temperature).value;
    return GramsPerMillilitre{(dissolved_g + (1000.0 - taken_mL) * liquid) / 1000.0};
}

GramsPerLitre held_in_base(const Base& base, const std::string& substance_id) {
    GramsPerLitre held{0.0};
    for (const Constituent& one : base.constituents)
        if (one.substance.id == substance_id) held += one.held;
    if (substance_id == "tartaric_acid" && base.potassium_salt == PotassiumSalt::hydrogen_tartrate)
        held += GramsPerLitre{base.potassium.value * tartaric_acid_g_per_mol / 1000.0};
    if (substance_id == "ethanol" && base.ethanol.value > 0.0) held += ethanol_held(base.ethanol);
    return held;
}

GramsPerLitre potassium_salt_held(const Base& base) {
    switch (base.potassium_salt) {
        case PotassiumSalt::none:
            return GramsPerLitre{0.0};
        case PotassiumSalt::hydrogen_tartrate:
            return GramsPerLitre{base.potassium.value * potassium_hydrogen_tartrate_g_per_mol / 1000.0};
        case PotassiumSalt::hydrogen_carbonate:
            return GramsPerLitre{base.potassium.value * potassium_hydrogen_carbonate_g_per_mol / 1000.0};
    }
    SIPLADDER_EXPECT(false);
}

std::string potassium_salt_name(PotassiumSalt salt) {
    switch (salt) {
        case PotassiumSalt::none:
            return "";
        case PotassiumSalt::hydrogen_tartrate:
            return "potassium hydrogen tartrate (cream of tartar, E 336), food grade";
        case PotassiumSalt::hydrogen_carbonate:
            return "potassium hydrogen carbonate (E 501), food grade";
    }
    SIPLADDER_EXPECT(false);
}

GramsPerMillilitre density_in_base(const Substance& substance, MassFraction held, const Base& base,
                                   Celsius at) {
    const double solution = density_of_solution(substance, held, at).value;
    if (is_plain_water(base)) return GramsPerMillilitre{solution};
    const double water = density_of_solution(substance, MassFraction{0.0}, at).value;
    // The base swells with warmth as its water does.
    const double of_base =
        density_of_base(base).value * density_of_water(at).value / density_of_water(bench_temperature).value;
    return GramsPerMillilitre{1.0 / (1.0 / solution + (1.0 - held.value) * (1.0 / of_base - 1.0 / water))};
}

}  // namespace sipladder::solution
