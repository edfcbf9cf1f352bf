#include "engine/solution/convert.hpp"

#include "engine/problem.hpp"
#include "engine/solution/acid.hpp"
#include "engine/solution/ethanol_water.hpp"
#include "engine/solution/invert.hpp"
#include "engine/solution/sucrose_water.hpp"
#include "engine/solution/water.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

// Every conversion goes through the mass fraction, which no temperature changes: unit -> mass fraction ->
// unit.

namespace sipladder::solution {

namespace {

constexpr std::array<std::string_view, 8> names{"pct_vol", "pct_mass", "g_per_L",   "mmol_per_L",
                                                "brix",    "sg_20_20", "kg_per_m3", "ta_tartaric_g_per_L"};

Substance plain_ethanol() {
    Substance ethanol;
    ethanol.id = ethanol.name = "ethanol";
    ethanol.scale = Scale::pct_vol;
    ethanol.density_model = DensityModel::ethanol;
    ethanol.molar_mass = GramsPerMole{46.069};  // IUPAC atomic masses, from memory
    return ethanol;
}

Substance plain_sucrose() {
    Substance sucrose;
    sucrose.id = sucrose.name = "sucrose";
    sucrose.density_model = DensityModel::sucrose;
    sucrose.molar_mass = GramsPerMole{342.297};  // IUPAC atomic masses, from memory
    return sucrose;
}

bool is_either(Unit wanted, Unit from, Unit to) {
    return from == wanted || to == wanted;
}

/// What is meant where no substance is named: some units leave no choice.
Substance meant(Unit from, Unit to, const Substance* of) {
    if (of != nullptr) return *of;
    if (is_either(Unit::pct_vol, from, to)) return plain_ethanol();
    if (is_either(Unit::brix, from, to) || is_either(Unit::sg_20_20, from, to)) return plain_sucrose();
    if (is_either(Unit::ta_tartaric_g_per_L, from, to)) return substance_of(*acid_named("tartaric"));
    throw Refused("substance", "is not named, and " + unit_name(from) + " to " + unit_name(to) + " needs it",
                  "say what is dissolved");
}

void expect_fitting(Unit unit, const Substance& substance) {
    if (unit == Unit::pct_vol && substance.density_model != DensityModel::ethanol)
        throw Refused("unit", "pct_vol is of ethanol, not of " + substance.name, "use g_per_L or pct_mass");
    if (unit == Unit::brix && substance.density_model != DensityModel::sucrose)
        throw Refused("unit", "brix is of sucrose, not of " + substance.name, "use g_per_L or pct_mass");
    if (unit == Unit::ta_tartaric_g_per_L && !acid_named(substance.id))
        throw Refused("unit", "ta_tartaric_g_per_L is of acids, and " + substance.name + " is none",
                      "use g_per_L or pct_mass");
    if (unit == Unit::mmol_per_L && !(substance.molar_mass.value > 0.0))
        throw Refused("unit", substance.name + " is a mixture without a molar mass",
                      "use g_per_L or pct_mass");
}

constexpr double heaviest_g_per_L = 1000.0;  // a litre holds no more of what mixes freely

/// The largest mass fraction that this program knows the density of.
double heaviest(const Substance& substance, Celsius at) {
    if (substance.density_model == DensityModel::ethanol) return 1.0;
    if (substance.density_model == DensityModel::sucrose) return 0.85;  // range of the ICUMSA formula
    // Above it the density of acids sold as liquids bends: acetic acid is densest near 78 % and lighter again
    // beyond, so that a density does not tell its strength.
    constexpr double heaviest_liquid_acid = 0.12;
    if (substance.solubility.value > 0.0)
        return mass_fraction_from_held(substance, substance.solubility, at).value;
    if (substance.id == "acetic_acid" || substance.id == "lactic_acid") return heaviest_liquid_acid;
    return 0.5;  // an apparent volume means nothing beyond; judgement
}

double specific_gravity(const Substance& substance, double w) {
    return density_of_solution(substance, MassFraction{w}) /
           density_of_solution(substance, MassFraction{0.0});
}

double density_kg_per_m3(const Substance& substance, double w, Celsius at) {
    return 1000.0 * density_of_solution(substance, MassFraction{w}, at).value;
}

/// The quantity named by `unit`, as a function of the mass fraction.
double quantity(Unit unit, const Substance& substance, double w, Celsius at) {
    switch (unit) {
        case Unit::pct_vol:
            return strength_from_mass_fraction(MassFraction{w}).value;
        case Unit::pct_mass:
        case Unit::brix:
            return 100.0 * w;
        case Unit::g_per_L:
            return held_from_mass_fraction(substance, MassFraction{w}, at).value;
        case Unit::mmol_per_L:
            return 1000.0 * held_from_mass_fraction(substance, MassFraction{w}, at).value /
                   substance.molar_mass.value;
        case Unit::ta_tartaric_g_per_L:
            return held_from_mass_fraction(substance, MassFraction{w}, at).value *
                   ta_tartaric_per_gram(*acid_named(substance.id));
        case Unit::sg_20_20:
            return specific_gravity(substance, w);
        case Unit::kg_per_m3:
            return density_kg_per_m3(substance, w, at);
    }
    SIPLADDER_EXPECT(false);
}

/// Grams of substance per unit, for the units that all count what is in a litre: no density is needed between
/// them. Nothing for the others.
std::optional<double> grams_per(Unit unit, const Substance& substance) {
    if (unit == Unit::g_per_L) return 1.0;
    if (unit == Unit::mmol_per_L) return substance.molar_mass.value / 1000.0;
    if (unit == Unit::ta_tartaric_g_per_L) return 1.0 / ta_tartaric_per_gram(*acid_named(substance.id));
    return std::nullopt;
}

double mass_fraction_of(double value, Unit unit, const Substance& substance, Celsius at) {
    const double most = heaviest(substance, at);
    const auto in_unit = [&](double w) { return quantity(unit, substance, w, at); };
    const double one_end = in_unit(0.0);
    const double other_end = in_unit(most);
    if (!(value >= std::min(one_end, other_end) && value <= std::max(one_end, other_end)))
        throw Refused("value", "is " + exact(value) + " " + unit_name(unit),
                      significant(std::min(one_end, other_end), 6) + " to " +
                          significant(std::max(one_end, other_end), 6) + " is possible for " +
                          substance.name);
    if (unit == Unit::pct_mass || unit == Unit::brix) return value / 100.0;
    return inverted(in_unit, value, 0.0, most);
}

}  // namespace

std::string unit_name(Unit unit) {
    return std::string(names.at(static_cast<std::size_t>(unit)));
}

std::optional<Unit> unit_from_name(std::string_view name) {
    const auto* const found = std::find(names.begin(), names.end(), name);
    if (found == names.end()) return std::nullopt;
    return static_cast<Unit>(found - names.begin());
}

std::vector<std::string> unit_names() {
    return {names.begin(), names.end()};
}

Converted convert(double value, Unit from, Unit to, const Substance* of, Celsius at) {
    if (!std::isfinite(value)) throw Refused("value", "is no finite number", "a number is wanted");
    if (!(at.value >= 0.0 && at.value <= 40.0))
        throw Refused("temperature", "is " + exact(at.value) + " °C", "0 to 40 °C");
    const Substance substance = meant(from, to, of);
    expect_fitting(from, substance);
    expect_fitting(to, substance);
    const std::optional<double> grams_from = grams_per(from, substance);
    const std::optional<double> grams_to = grams_per(to, substance);
    const double most_g_per_L =
        substance.solubility.value > 0.0 ? substance.solubility.value : heaviest_g_per_L;
    if (grams_from && grams_to && substance.density_model == DensityModel::apparent_volume) {
        if (!(value >= 0.0 && value * *grams_from <= most_g_per_L))
            throw Refused(
                "value", "is " + exact(value) + " " + unit_name(from),
                "0 to " + significant(most_g_per_L / *grams_from, 4) + " is possible for " + substance.name);
        return {value * *grams_from / *grams_to, to};
    }
    const double w = mass_fraction_of(value, from, substance, at);
    if (from == to) return {value, to};
    return {quantity(to, substance, w, at), to};
}

}  // namespace sipladder::solution
