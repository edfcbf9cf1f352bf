#pragma once

#include "engine/units.hpp"

#include <string>

/// The terms for the sugar of a wine in the law of the European Union. They say what a label may call a wine,
/// and are no thresholds: what a person can taste is another matter.
namespace sipladder::solution {

enum class SweetnessTerm { dry, medium_dry, medium, sweet };
/// "dry", "medium dry" …
std::string sweetness_term_name(SweetnessTerm term);

/// Term for a still wine. Sugar and acidity are rounded to 0.1 g/L, as they are stated, before they are
/// compared: dry up to 4 g/L, or up to 9 g/L where the sugar is at most 2 g/L above the acidity; medium dry
/// up to 12 g/L, or up to 18 g/L where it is at most 10 g/L above; medium below 45 g/L; sweet from there.
///
/// @param sugar     glucose and fructose, 0 to 1000 g/L
/// @param acidity   titratable acidity as tartaric acid, 0 to 100 g/L
/// @throws Refused  outside these ranges
/// @source          eu_2019_33
/// @checked         tests/published/sweetness_term_test.cpp
SweetnessTerm sweetness_term(GramsPerLitre sugar, GramsPerLitre acidity);

/// Where the terms of a still wine end at this acidity.
struct SweetnessLimits {
    GramsPerLitre dry;         ///< up to here
    GramsPerLitre medium_dry;  ///< up to here
    GramsPerLitre medium;      ///< below here
};
/// 4, 12 and 45 g/L, and with the acidity clause up to 9, 18 and 45 g/L; the acidity rounded to 0.1 g/L.
/// @param acidity   titratable acidity as tartaric acid, 0 to 100 g/L
/// @throws Refused  outside this range
/// @source          eu_2019_33
/// @checked         tests/published/sweetness_term_test.cpp
SweetnessLimits sweetness_limits(GramsPerLitre acidity);

/// Terms for a sparkling wine; several may fit one wine, the driest is given.
enum class SparklingTerm { brut_nature, extra_brut, brut, extra_dry, dry, medium_dry, sweet };
std::string sparkling_term_name(SparklingTerm term);
/// @param has_dosage sugar was added after the second fermentation: then it is never brut nature
/// @throws Refused  unless the sugar is 0 to 1000 g/L
/// @source          eu_2019_33
/// @checked         tests/published/sweetness_term_test.cpp
SparklingTerm sparkling_term(GramsPerLitre sugar, bool has_dosage);

}  // namespace sipladder::solution
