#pragma once

#include "engine/safety/caution.hpp"
#include "engine/solution/base.hpp"
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
    Grams glycerol;
    Grams thickener;

    Intake& operator+=(const Intake& other);
    bool operator==(const Intake&) const = default;
};

/// What a swallowed gram of it counts as: "sugar", "acid", "ethanol", "tannin", "caffeine", "salt",
/// "glycerol" or "thickener"; caps have it as sugar_g, caffeine_mg and so on.
std::string counts_as(const solution::Substance& substance);

/// Each amount above 0 with its unit and name, ethanol first, two digits: "3.2 g ethanol". Acid cups are a
/// number and no amount.
std::vector<std::string> amounts(const Intake& intake);

/// What is left of `most` once `taken` is gone: nothing below 0.
Intake rest_of(const Intake& most, const Intake& taken);

/// Intake from one cup of this strength. @param level on the substance's scale
Intake intake_of_cup(const solution::Substance& substance, double level, Millilitres cup);

/// Intake from one cup of the base alone, a blank; a base that holds any acid makes every cup an acid cup.
Intake intake_of_base(const solution::Base& base, Millilitres cup);

/// What is in one cup together: amounts add, but it stays one acid cup.
Intake in_one_cup(Intake of_base, const Intake& of_level);

/// Intake from one cup of a level made in this base.
Intake intake_of_cup(const solution::Base& base, const solution::Substance& substance, double level,
                     Millilitres cup);

/// Cups of a drill: each presentation serves one cup of a level and the others of the base.
struct Served {
    int presentations{};
    int cups_per_presentation{};
    Millilitres cup;
};

/// The most that a drill in this base could serve, blanks included: every presentation at the strongest rung
/// still in stock.
Intake worst_case(const solution::Substance& substance, const solution::MixedLadder& ladder,
                  const solution::Base& base, const Served& served);

/// The same in plain water: every presentation at the strongest rung still in stock.
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
