#pragma once

#include "engine/safety/caution.hpp"
#include "engine/solution/ladder.hpp"
#include "engine/solution/substance.hpp"
#include "engine/units.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::safety {

/// What one person takes in if everything served is swallowed.
struct Intake {
    Grams ethanol;
    Grams sugar;
    Grams acid;
    double acid_cups{};
    Milligrams caffeine;
    Grams salt;
    Grams tannin;

    Intake& operator+=(const Intake& other);
};

/// Intake from one cup of this strength. @param level on the substance's scale
Intake intake_of_cup(const solution::Substance& substance, double level, Millilitres cup);

/// The most that a drill could serve: every presentation at the strongest rung still in stock.
Intake worst_case(const solution::Substance& substance, const solution::MixedLadder& ladder,
                  int presentations, Millilitres cup);

/// The first cap that `so_far` (this sitting) or `today` would cross; nothing if none.
struct Crossed {
    Cap cap;
    double would_be{};
    bool per_day{};
    std::string text;  ///< one sentence that says why the drill stops
};
std::optional<Crossed> crossed(const std::vector<Cap>& caps, const Intake& sitting, const Intake& today);

}  // namespace sipladder::safety
