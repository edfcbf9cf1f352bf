#pragma once

#include "drills/drill.hpp"
#include "engine/perception/mouth.hpp"
#include "engine/threshold/discrimination.hpp"

#include <optional>
#include <string>
#include <vector>

/// Mouth map: single cups of several substances and of the base alone: where is it felt, what kind of
/// feeling, and how strong? A person's own map, and how well it repeats.
namespace sipladder::drills::mouth_map {

/// The order never changes and new ones go to the end: answers are kept by these numbers.
enum class Place {
    lips,
    teeth,
    gums,
    tongue_tip,
    tongue_sides,
    tongue_centre,
    tongue_back,
    cheeks,
    palate,
    throat
};
std::vector<std::string> place_names();
/// Kinds of feeling to start from; the first says that nothing was felt.
std::vector<std::string> usual_feelings();

perception::PlacePrior assumed_places();

/// One substance, or last the base alone.
struct Of {
    std::string name;
    std::size_t cups{};
    std::vector<threshold::ExactShare> places;  ///< how often each place was named; no cups: empty
    std::vector<std::size_t> feelings;          ///< how often each kind
    std::optional<double> mean_mark;
    std::optional<perception::Estimate> two_alike;  ///< chance that two cups agree on a place
};
struct Result {
    std::vector<Of> of;
    /// Krippendorff's alpha over substances and places: 0 by lot, 1 always the same; nothing where every
    /// place of every cup got the same answer.
    std::optional<double> alpha;
};
/// @pre at least one cup is done
Result result(const State& drill);
/// "sugar: tongue tip 4 of 4, …; mostly "sweet", 40 of 100 on average."
/// @pre at least one cup of it is done
std::string words_for(const Plan& plan, const Of& of);

}  // namespace sipladder::drills::mouth_map
