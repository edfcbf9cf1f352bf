#pragma once

#include "engine/solution/ingredient.hpp"
#include "engine/solution/substance.hpp"
#include "engine/units.hpp"

#include <string>
#include <vector>

namespace sipladder::solution {

/// One thing that is dissolved in a base, in every cup of it, blanks included.
struct Constituent {
    Ingredient ingredient;
    Substance substance;
    GramsPerLitre held;  ///< of the substance, as it is counted, in a litre of the base at 20 degC
};

/// Where the potassium of a base comes from: food grade salts only.
enum class PotassiumSalt {
    none,
    hydrogen_tartrate,  ///< brings as much tartaric acid as potassium
    hydrogen_carbonate  ///< takes up acid; its carbon dioxide leaves
};

/// What the levels are dissolved in, and what the blanks are.
struct Base {
    std::string id;
    std::string name;                         ///< as shown: still water
    double bicarbonate_mg_per_L{};            ///< of its water, from the label, 0 if not known
    std::vector<Constituent> constituents{};  ///< none: plain water
    MillimolesPerLitre potassium{};
    PotassiumSalt potassium_salt = PotassiumSalt::none;
    PercentVol ethanol{};             ///< 0 in every shipped base but the one that shows what a little hides
    std::string ethanol_from{};       ///< id of the spirit, empty without
    std::string spirit_name{};        ///< as it is bought
    PercentVol spirit_strength{};     ///< of its label; 0: not known, and the base cannot be mixed here
    GramsPerMillilitre density{0.0};  ///< at 20 degC; 0: not reckoned, taken as water (see density_of_base)
};

/// Nothing but water in it.
bool is_plain_water(const Base& base);

/// Density at 20 degC: `base.density` where it was reckoned on loading, else from what is in it, each
/// constituent by its apparent specific volume.
/// @throws Refused  where the constituents leave no room for water
GramsPerMillilitre density_of_base(const Base& base);

/// Grams of this substance that a litre of the base holds, before any level is made in it; the tartaric acid
/// of potassium hydrogen tartrate included.
GramsPerLitre held_in_base(const Base& base, const std::string& substance_id);

/// The salt that a litre of the base needs for its potassium: 0 without.
GramsPerLitre potassium_salt_held(const Base& base);
/// "potassium hydrogen tartrate (cream of tartar)", … ; empty for none.
std::string potassium_salt_name(PotassiumSalt salt);

/// Density of a solution of `held` grams of a substance in a gram of solution, the rest being this base:
/// what the substance does to water it is taken to do to the base.
/// @throws Refused  outside the range of the formula
GramsPerMillilitre density_in_base(const Substance& substance, MassFraction held, const Base& base,
                                   Celsius at = Celsius{20.0});

}  // namespace sipladder::solution
