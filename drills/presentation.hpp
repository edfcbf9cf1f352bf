#pragma once

#include "drills/blind_code.hpp"
#include "engine/instant.hpp"
#include "engine/threshold/psychometric.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::drills {

/// Who pours, and so how the taster is kept from knowing (design 3.4).
enum class Blinding {
    served,         ///< a helper pours by a printed card; the screen shows a one-time letter
    shuffled_tray,  ///< alone: cups with signs beneath, tray spun with eyes shut
    sealed_key,     ///< alone: cups shuffled, codes on top, what they hold beneath and read in at the end
    class_service   ///< many people at once: fixed orders, balanced over them, codes by serving group
};

/// The signs beneath the cups of a shuffled tray; two cups have the first two.
enum class Sign { ring, cross, dot };

/// Whether the nose is held shut while tasting, where the drill says which.
enum class Nose { open, closed };

/// Places on the tray of a 3-AFC as the assessor sees them.
constexpr std::size_t places = 3;

/// All that the assessor may see. Which fields are filled depends on the blinding; none tells a level or a
/// place.
struct Presentation {
    std::string letter;            ///< served: the one-time letter that the helper looks up on the card
    std::vector<BlindCode> codes;  ///< on the cups, left to right; none for a shuffled tray
    std::string bottle;            ///< shuffled tray: the bottle to draw from (the person may know its level)
    std::optional<Sign> sign;      ///< shuffled tray: the cup that gets the level
    std::optional<Nose> nose;      ///< nose closed against open: how this one is tasted

    bool operator==(const Presentation&) const = default;
};

/// How sure the assessor says to be (an ordinal response; fitted only where the level cannot be known).
using Certainty = threshold::Certainty;

}  // namespace sipladder::drills
