#pragma once

#include "engine/problem.hpp"
#include "engine/solution/base.hpp"
#include "engine/solution/ladder.hpp"
#include "engine/solution/substance.hpp"
#include "engine/units.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Acids in water: pH by charge balance with Davies activities, titratable acidity, and what the hydrogen
/// carbonate of the water takes from a sour ladder.
namespace sipladder::solution {

/// A weak acid with its constants at 25 degC and no ionic strength.
struct Acid {
    std::string name;  ///< "tartaric"
    GramsPerMole
        molar_mass;  ///< as it is counted: citric acid as anhydrous, unless its name says monohydrate
    double apparent_volume_mL_per_g{};  ///< in dilute solution
    std::vector<double> pK;             ///< one for each hydrogen it can give, strongest first
};

/// "tartaric", "tartaric_acid" or "tartaric acid"; nothing if it names none of the acids known here.
/// Known are tartaric (3.036, 4.366), malic, citric, citric monohydrate, lactic, acetic, succinic and
/// phthalic.
/// @source   bates_canham_1951 for tartaric, martell_smith_1976 for the others
std::optional<Acid> acid_named(std::string_view name);
std::vector<std::string> acid_names();
/// The acid for conversions, where no content lists it: caps and prior are empty.
Substance substance_of(const Acid& acid);
/// Grams of the acid that give as much acid hydrogen as a gram of tartaric acid, and the other way round:
/// ta_per_gram(citric) = 1.1718.
double ta_tartaric_per_gram(const Acid& acid);

struct AcidHeld {
    Acid acid;
    GramsPerLitre held;
};

/// What is in the water.
struct AcidSolution {
    std::vector<AcidHeld> acids;
    MillimolesPerLitre potassium{};  ///< from potassium hydrogen carbonate, or the potassium alone of a
                                     ///< hydrogen tartrate whose tartaric acid stands among the acids
    double bicarbonate_mg_per_L{};   ///< of the water, as its label states it
};

struct Acidity {
    double pH{};                          ///< from the activity of the hydrogen ion
    GramsPerLitre ta_tartaric;            ///< acid hydrogen not yet neutralised, as tartaric acid; at least 0
    GramsPerLitre ta_tartaric_to_pH_7;    ///< what a titration to pH 7 finds (OIV practice)
    GramsPerLitre ta_tartaric_to_pH_8_2;  ///< to pH 8.2
    double ionic_strength_mol_per_L{};
};

/// pH, titratable acidity and ionic strength.
///
/// The carbon dioxide that acid sets free stays dissolved in the pH, and is driven off before the titration,
/// as the method asks. Molality is taken for molarity. Acid constants are those of 25 degC at every
/// temperature (between 10 and 40 degC they move by about 0.02; from memory); water's own constant and the
/// activity follow the temperature. Ethanol raises the pH by 0.05 to 0.1 at 12 % vol, which is left out.
///
/// @param at        temperature, 10 to 40 degC
/// @throws Refused  for amounts that are negative, not finite or above 1000 g/L, 1000 mmol/L or 5000 mg/L,
///                  and where the ionic strength passes 0.5 mol/L, beyond which Davies means nothing
/// @source          davies_1962
/// @checked         tests/published/acid_test.cpp
Acidity acidity(const AcidSolution& solution, Celsius at = Celsius{25.0});

/// The acids, potassium and hydrogen carbonate of a base in which `level` of a substance is dissolved: no
/// acid of its own where the substance is none.
AcidSolution acid_solution(const Base& base, const Substance& substance, double level);

/// The pH that a stock or level should show before anyone tastes it, for the check with paper or meter.
/// @throws Refused  as acidity
double expected_pH(const Base& base, const Substance& substance, double level, Celsius at = Celsius{25.0});

/// What the hydrogen carbonate of the water takes from a rung of a sour ladder.
struct RungLoss {
    double target{};     ///< g/L
    double taken{};      ///< g/L of this acid that the water neutralises, at most the target
    double taken_rel{};  ///< as part of the target, 0 to 1
};

/// One for each rung; empty for a substance that is no acid. Acid of the base itself meets the hydrogen
/// carbonate first and leaves the ladder more.
std::vector<RungLoss> what_a_ladder_loses(const Substance& substance, const Ladder& ladder, const Base& base);

/// What follows from it. A weakest rung that would lose more than 5 % is a problem, with its remedy; between
/// 1 % and 5 % there is a warning to show; below, nothing.
struct LadderLoss {
    std::vector<RungLoss> rungs;
    std::optional<Problem> problem;  ///< the ladder is not to be made in this water
    std::string warning;             ///< empty if there is none
};
LadderLoss loss_of(const Substance& substance, const Ladder& ladder, const Base& base);

/// The most hydrogen carbonate (mg/L) with which the weakest rung loses no more than 5 %.
double most_bicarbonate_mg_per_L(const Substance& substance, double weakest_target);

}  // namespace sipladder::solution
