#pragma once

#include "engine/units.hpp"

#include <string>

namespace sipladder::solution {

/// What its label states.
enum class IngredientForm {
    powder,  ///< grams of substance per gram of powder (purity, water of crystallisation)
    spirit,  ///< % vol of ethanol
    liquid,  ///< grams of substance per 100 mL (vinegar)
    tablet   ///< milligrams of substance in each piece; whole pieces are counted, crushed and all dissolved
};

/// What is bought. Purity and strength carry the half-width of a rectangular distribution (GUM, 4.3.7).
struct Ingredient {
    std::string id;
    std::string name;
    std::string substance;  ///< id of the substance it holds
    IngredientForm form{};
    MassFraction content;  ///< powder: g of substance (as counted: anhydrous) per g of powder, 0 to 1
    MassFraction content_half_width;
    PercentVol strength;  ///< spirit
    PercentVol strength_half_width;
    GramsPerLitre held;  ///< liquid: g of substance per litre
    GramsPerLitre held_half_width;
    Milligrams per_piece;  ///< tablet: mg of substance in one piece
    Milligrams per_piece_half_width;
    std::string allergens;  ///< may be empty
    std::string note;       ///< what to look for on the label
    std::string source;     ///< of content or strength: a key of content/sources.json, or "judgement" …
};

/// Grams of the substance as it is counted in a gram of a powder that holds water of crystallisation: citric
/// acid counted as anhydrous (192.12 g/mol) but bought as the monohydrate (210.14 g/mol).
/// @throws Refused  unless 0 < purity <= 1 and 0 < counted <= bought
/// @checked         tests/published/mixing_uncertainty_test.cpp
MassFraction content_as_counted(MassFraction purity, GramsPerMole counted, GramsPerMole bought);

/// Grams of substance in a litre of a liquid sold by mass: 80 % by mass (w/w) with its density.
/// @throws Refused  unless 0 < held <= 1 and the density is 0.5 to 3 g/mL
GramsPerLitre held_by_mass(MassFraction held, GramsPerMillilitre density);

}  // namespace sipladder::solution
