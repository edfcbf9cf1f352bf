#pragma once

#include "engine/solution/substance.hpp"

#include <cstdint>

namespace sipladder::chart {

/// What a colour is for. Charts name roles; only this table knows red, green and blue.
enum class Ink {
    text,
    muted,   ///< second-rank text, axes
    grid,    ///< rules behind the data
    accent,  ///< the thing to do next
    paper,   ///< the ground
    sweet,
    sour,
    alcohol,
    astringent,
    bitter,
    salty,
    weight,
    base  ///< base alone, without a component
};

enum class Theme { light, dark, paper };

struct Rgb {
    std::uint8_t red{};
    std::uint8_t green{};
    std::uint8_t blue{};

    bool operator==(const Rgb&) const = default;
};

/// The colour of a role. Components have the palette of Okabe and Ito (Color Universal Design, 2008),
/// published for colour-blind readers, darker or lighter where it would not stand out from the ground; black
/// turns to near-white on the dark ground. Each is always paired with a mark (MarkShape).
Rgb rgb(Ink ink, Theme theme);

/// The colour role of a component.
Ink ink_of(solution::Component component);

}  // namespace sipladder::chart
