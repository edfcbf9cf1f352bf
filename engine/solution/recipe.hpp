#pragma once

#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// A recipe as the sum is done on it: which readings make which mixture, and what every error of a reading,
/// of an instrument and of the ingredient does to each level (GUM, law of propagation).
/// @source  gum_2008
namespace sipladder::solution {

/// Which instrument of an Equipment: a balance, or else a vessel, by its place there.
struct Instrument {
    bool is_balance{};
    std::size_t index{};

    bool operator==(const Instrument&) const = default;
};

/// One amount, weighed or measured.
struct Reading {
    Instrument instrument;
    double value{};         ///< g on a balance, mL in a vessel; all fills together
    std::size_t fills = 1;  ///< how often the syringe is filled
    double u_own{};         ///< standard uncertainty of reading it, in the same unit
    double u_shared_rel{};  ///< standard uncertainty of the instrument's calibration, relative
};

/// Tare and load: the difference of two rounded readings is triangular, u = step / sqrt(6) (GUM, 4.3.9).
Reading weighed(const Equipment& equipment, std::size_t balance, Grams shown);
/// `fills` equal fills: each is read within half a graduation (rectangular), all share the vessel's
/// calibration.
Reading measured(const Equipment& equipment, std::size_t vessel, Millilitres shown, std::size_t fills);

constexpr std::size_t ingredient_itself = static_cast<std::size_t>(-1);

/// One mixture: a load of the ingredient or of an earlier mixture, filled up with base.
struct Making {
    std::string into;                      ///< "stock A", "bottle K"
    std::size_t from = ingredient_itself;  ///< place of an earlier making
    Reading load;
    Reading total;  ///< of the whole mixture, load and base together
};

/// Something that can be off. The order is that of Mixture::effects.
struct ErrorSource {
    enum class Kind { ingredient, instrument, load, total };
    Kind kind{};
    Instrument instrument;  ///< kind instrument
    std::size_t making{};   ///< kinds load and total
};

/// What is in a container.
struct Mixture {
    double mass_fraction{};
    double held_g_per_L{};
    double volume_mL{};
    std::vector<double>
        effects_on_mass_fraction;  ///< relative standard uncertainty by error source, with sign
    std::vector<double> effects;   ///< the same of held_g_per_L
};

/// The errors that a recipe of this many makings has.
std::vector<ErrorSource> error_sources(const Equipment& equipment, std::size_t makings);

/// Grams of substance in a gram of the ingredient, and in a litre of it (0 for a powder).
MassFraction mass_fraction_of(const Ingredient& ingredient, const Substance& substance);
GramsPerLitre held_of(const Ingredient& ingredient);
/// Relative standard uncertainty of what the label states (rectangular).
double u_rel_of(const Ingredient& ingredient);

/// Every mixture of a recipe, in its order.
/// @throws Refused  where a load is more than its total, or a mixture is outside what is known of its density
std::vector<Mixture> mixtures(const PlanRequest& request, const std::vector<Making>& makings);

/// True for each error source that two or more of these mixtures have in common: their shared part.
std::vector<bool> shared_errors(const std::vector<Mixture>& mixtures, const std::vector<std::size_t>& levels);

/// Own and shared relative standard uncertainty of one mixture.
struct Parts {
    double own{};
    double shared{};
};
Parts parts(const Mixture& mixture, const std::vector<bool>& is_shared);

/// Cups of a level that can be poured from this volume, spare and rinse taken off.
int portions_from(const Demand& demand, Millilitres volume);
/// Volume wanted of each level, and cups to pour from it.
Millilitres volume_needed(const Demand& demand);
int portions_needed(const Demand& demand);

}  // namespace sipladder::solution
