#pragma once

#include "engine/units.hpp"

#include <string>

namespace sipladder::solution {

/// A sensation that is trained (ISO 5492 has the terms).
enum class Component { sweet, sour, alcohol, astringent, bitter, salty, weight };

/// How the density of this substance in water is reckoned.
enum class DensityModel { sucrose, ethanol, apparent_volume };

/// What a swallowed gram of it counts as against the caps of a sitting.
enum class CountsAs {
    component,  ///< as its component says: sweet as sugar, sour as acid, bitter as caffeine …
    glycerol,
    thickener
};

/// What is assumed of a person of whom nothing is known: the centre and spread of detection thresholds in
/// water.
struct AssumedPrior {
    double centre{};     ///< on the substance's scale (g/L or % vol), > 0
    double sd_log10{};   ///< spread between people, log10 units, > 0
    std::string why;     ///< what the judgement rests on
    std::string source;  ///< a key of content/sources.json, or "judgement"
};

/// A cap counts as crossed beyond this relative excess: that of arithmetic, far below what any scale shows.
inline constexpr double cap_tolerance = 1e-6;

/// The chemical that causes a sensation.
struct Substance {
    std::string id;         ///< snake_case: tartaric_acid
    std::string name;       ///< as shown: tartaric acid
    std::string asked_for;  ///< what the drill asks for: "Which cup holds the acid?"
    Component component{};
    Scale scale{};
    GramsPerMole molar_mass;            ///< 0 for mixtures (grape tannin)
    GramsPerLitre solubility;           ///< at 20 degC in water; 0 where it mixes freely (ethanol)
    double apparent_volume_mL_per_g{};  ///< apparent specific volume in dilute solution
    DensityModel density_model{};
    double strongest_cup{};    ///< cap on a tasting level, on `scale`
    double strongest_stock{};  ///< cap on a stock, on `scale`
    CountsAs counts_as = CountsAs::component;
    int rest_s{};         ///< least rest between presentations, seconds
    int rest_strong_s{};  ///< after the strongest cup there may be; 0: no longer than after any other
    bool closed_nose{};   ///< the drill asks for a closed nose
    AssumedPrior prior;
    std::string note;  ///< shown beside it, may be empty
};

}  // namespace sipladder::solution
