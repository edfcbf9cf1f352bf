#pragma once

#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// A recipe as the sum is done on it: which readings make which mixture, and what every error of a reading,
/// of an instrument and of the ingredient does to each level (GUM, law of propagation).
/// @source  gum_2008
namespace sipladder::solution {

/// Which instrument of an Equipment: a balance, or else a vessel, by its place there; or none, where pieces
/// are counted.
struct Instrument {
    bool is_balance{};
    std::size_t index{};
    bool is_count = false;

    bool operator==(const Instrument&) const = default;
};

/// One amount, weighed or measured.
struct Reading {
    Instrument instrument;
    double value{};         ///< g on a balance, mL in a vessel (all fills together), pieces where counted
    std::size_t fills = 1;  ///< how often the syringe is filled
    double u_own{};         ///< standard uncertainty of reading it, in the same unit
    double u_shared_rel{};  ///< standard uncertainty of the instrument's calibration, relative
};

/// Tare and load: the difference of two rounded readings is triangular, u = step / sqrt(6) (GUM, 4.3.9).
Reading weighed(const Equipment& equipment, std::size_t balance, Grams shown);
/// `fills` equal fills: each is read within half a graduation (rectangular), all share the vessel's
/// calibration.
Reading measured(const Equipment& equipment, std::size_t vessel, Millilitres shown, std::size_t fills);

/// Whole tablets.
Reading counted(double pieces);

constexpr std::size_t ingredient_itself = static_cast<std::size_t>(-1);

/// One mixture: a load of the ingredient or of an earlier mixture, filled up with base.
struct Making {
    std::string into;                      ///< "stock A", "bottle K"
    std::size_t from = ingredient_itself;  ///< place of an earlier making
    Reading load;
    Reading total;          ///< of the whole mixture, load and base together
    std::size_t batch = 1;  ///< of a bottle that is filled in several
    std::size_t batches = 1;
    bool has_load = true;      ///< false: it was forgotten, and only base is in it
    bool is_filled_up = true;  ///< false: the load stands there as it is
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

/// Grams of substance in a gram of the ingredient (in a piece of a tablet), and in a litre of it (0 for a
/// powder and tablets).
MassFraction mass_fraction_of(const Ingredient& ingredient, const Substance& substance);
GramsPerLitre held_of(const Ingredient& ingredient);
/// Dissolved as it is, so that it cannot be measured by volume: a powder or tablets.
bool is_dry(const Ingredient& ingredient);
/// Relative standard uncertainty of what the label states (rectangular).
double u_rel_of(const Ingredient& ingredient);

/// Mass fraction at which the base holds this much of the substance at 20 degC, and back.
/// @throws Refused  outside the range of the density formula
MassFraction mass_fraction_in_base(const PlanRequest& request, GramsPerLitre held);
GramsPerLitre held_in_solution(const PlanRequest& request, MassFraction held);

/// Every mixture of a recipe, in its order.
/// @throws Refused  where a load is more than its total, or a mixture is outside what is known of its density
std::vector<Mixture> mixtures(const PlanRequest& request, const std::vector<Making>& makings);

/// All that is poured under one name: one making, or the batches of one bottle, poured from at random. Its
/// value is the mean of the batches.
struct Bottle {
    std::string name;
    std::vector<std::size_t> makings;
    double held_g_per_L{};
    double volume_mL{};
    std::vector<double> effects;  ///< of the mean
    double between_rel{};  ///< relative standard deviation of one batch about the mean; 0 for one batch
};
/// In the order in which they are first filled.
std::vector<Bottle> bottles(const std::vector<Making>& makings, const std::vector<Mixture>& mixtures);

/// Volume that all makings draw from one of them.
Millilitres drawn_from(const std::vector<Making>& makings, const std::vector<Mixture>& mixtures,
                       std::size_t source);

/// True for each error source that two or more of these bottles have in common: their shared part.
std::vector<bool> shared_errors(const std::vector<Bottle>& levels);

/// Own and shared relative standard uncertainty of one bottle.
struct Parts {
    double own{};
    double shared{};
};
Parts parts(const Bottle& bottle, const std::vector<bool>& is_shared);

/// Covariance of the relative errors of two bottles, which may be the same.
double covariance_rel(const Bottle& one, const Bottle& other);

/// Cups of a level that can be poured from this volume for everybody together, spare and rinse taken off.
int portions_from(const Demand& demand, Millilitres volume);
/// Volume wanted of a level (from 0, the weakest), and cups to pour from it, for everybody together.
Millilitres volume_needed(const Demand& demand, std::size_t rung);
int portions_needed(const Demand& demand, std::size_t rung);
/// The most that is wanted of any level of a ladder of so many.
Millilitres largest_volume_needed(const Demand& demand, std::size_t rungs);

}  // namespace sipladder::solution
