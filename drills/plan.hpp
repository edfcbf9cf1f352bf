#pragma once

#include "drills/presentation.hpp"
#include "engine/safety/caution.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/ladder.hpp"
#include "engine/solution/substance.hpp"
#include "engine/threshold/prior.hpp"
#include "engine/threshold/psychometric.hpp"
#include "engine/units.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::drills {

/// What is served and asked. A new one adds its name here, its rules to drills/rules and a file of its own.
enum class Kind {
    detection,    ///< 3-AFC: which cup holds it?
    quick_look,   ///< single cups and blanks, graded in four steps
    recognition,  ///< single cups of several substances: which is it?
    difference,   ///< 2-AFC on a pedestal: which is the stronger?
    nose,         ///< detection with the nose closed and open, in turn
    tray_check,   ///< can the level be told by look and sniff alone?
    naming,       ///< single clear cups of several substances, and the base alone: what is it?
    ranking,      ///< every rung together: put in order of strength
    scaling,      ///< single cups: a mark on a line, and one of the person's own words
    balance,      ///< single cups: just about right? with and without another thing in the cup
    mouth_map,    ///< single cups: where in the mouth, what kind of feeling, how strong
    persistence,  ///< single cups: how long after spitting, and what it was like
    weight        ///< every rung together: put in order of weight in the mouth
};

/// How levels follow each other.
enum class Order {
    adaptive,  ///< each where the answer is expected to tell most
    ascending  ///< weakest to strongest, once or several times over
};

/// The rule by which levels, places and letters are drawn. Part of the plan, so that a later rule never
/// rewrites an old sitting. 1: the level that is expected to tell most. 2: the same, with rules against runs
/// and clear cups close together. 3: the same, certainty heard where it counts.
constexpr int current_rule = 3;

/// The bottles of one substance and what is assumed of the taster.
struct Line {
    solution::Substance substance;
    solution::MixedLadder ladder;  ///< as mixed, with the portions poured of each rung
    threshold::Prior prior;
    std::string condition = {};  ///< balance, persistence: what is different, "with 5 g/L tartaric acid"
    safety::Intake beside = {};  ///< what its base gives in one cup, where that is not the plan's own
    bool same_bottles = false;   ///< poured from the first line's bottles (cool, say): one mixing error

    bool operator==(const Line&) const = default;
};

/// What one cup holds.
struct Held {
    std::size_t series{};
    std::size_t level{};    ///< in the ladder of its line
    bool is_blank = false;  ///< the base alone; series and level then say nothing

    bool operator==(const Held&) const = default;
};

/// One presentation as a seat of a class gets it.
struct Setting {
    std::size_t place{};           ///< of the level, 0 left
    std::vector<BlindCode> codes;  ///< left to right
    std::vector<Held> held = {};   ///< left to right, where it is not one level beside blanks

    bool operator==(const Setting&) const = default;
};

/// A person's place in a class that is served together; see `seat_in` of drills/plans.
struct Seat {
    std::size_t number{};           ///< as on the ballot, from 1
    std::vector<Setting> settings;  ///< one a presentation, in order

    bool operator==(const Seat&) const = default;
};

/// Closed: holds in full what the drill needs, so that a change elsewhere cannot change a drill under way or
/// done.
struct Plan {
    solution::Substance substance;
    std::string base_name;  ///< "still water"
    /// As mixed, with the portions poured of each rung. Difference: what each rung holds beyond the pedestal,
    /// as `difference::added_ladder` makes it, so that every fit is of the added amount.
    solution::MixedLadder ladder;
    threshold::Prior prior;
    Blinding blinding{};
    Millilitres cup{10.0};
    bool spat = true;
    std::size_t most_presentations = 12;
    double stop_sd_log10 = 0.0;  ///< stop when every claimed SD is at or below this; 0: never for this reason
    int most_minutes =
        0;            ///< stop once this long has passed since the first answer; 0: never for this reason
    int rest_s = 30;  ///< between presentations, after the weakest cup
    std::vector<safety::Cap> caps;
    safety::Intake blank;               ///< one cup of the base: nothing for water
    safety::Intake taken_this_sitting;  ///< before this drill
    safety::Intake taken_today;         ///< before this drill, this sitting included
    int rule_version = current_rule;
    Kind kind = Kind::detection;
    Order order = Order::adaptive;
    /// Recognition, naming, mouth map: the substances beside the first. Balance, persistence: the same
    /// substance once more, in another condition.
    std::vector<Line> others;
    std::optional<solution::MixedLevel> pedestal;  ///< difference: what every cup holds at least
    std::optional<Seat> seat;                      ///< class service
    int rest_strong_s = 0;  ///< between presentations, after the strongest cup; 0: as after the weakest
    /// Scaling: the person's own, weakest first. Mouth map: kinds of feeling, the first for none.
    /// Persistence: what it may have been like.
    std::vector<std::string> words = {};
    std::string sensation = {};  ///< persistence: what is timed, "sweetness"; empty: as the substance says
    int most_seconds = 120;      ///< persistence: the stop-watch stops by itself; 1 to 600
    std::vector<BlindCode> codes_before;  ///< on cups of this sitting already; none of them comes again
};

/// How many sets of answers are fitted: one a substance, and two for the nose closed and open.
std::size_t series_count(const Plan& plan);
/// Which bottles a series draws from: 0 the plan's own, 1 the first of `others` …
std::size_t line_of_series(const Plan& plan, std::size_t series);
std::size_t line_count(const Plan& plan);
const solution::Substance& substance_of(const Plan& plan, std::size_t line);
const solution::MixedLadder& ladder_of(const Plan& plan, std::size_t line);
const threshold::Prior& prior_of(const Plan& plan, std::size_t line);

/// Whether what is served was drawn before the first cup; see drills/beforehand.
bool is_fixed(const Plan& plan);
bool is_fixed(Kind kind);
/// Cups that stand together in one presentation.
std::size_t cups_together(const Plan& plan);
/// Whether the other line is the same substance in another condition.
bool has_conditions(const Plan& plan);
/// Whether these cups are a set to be put in order: one of every rung.
bool is_set(const Plan& plan);
/// The bottle that fills the cups beside the level: empty for the base.
std::string beside_bottle(const Plan& plan);
/// What the fits see of the task: the chance of a right guess.
threshold::Task task_of(const Plan& plan);

/// The rung of the one known clear cup of a line with which the drill begins: the strongest that has a
/// portion to spare. It is poured before the first presentation, uses up a portion and counts as intake.
/// Nothing where none can be spared, none is tasted, or knowing it would sway the answers.
std::optional<std::size_t> known_clear(const Plan& plan, std::size_t line = 0);
/// Known cups in all: clear ones and blanks.
std::size_t known_cups(const Plan& plan);

/// @throws Refused with everything that keeps the plan from being carried out or read back
void check_shape(const Plan& plan);
/// @throws Refused when the worst case crosses a cap
void check_caps(const Plan& plan);
/// Whether any cup holds ethanol, in its level or in its base.
bool holds_ethanol(const Plan& plan);

/// Everything that a cup of this plan may hold, blanks last.
std::vector<Held> every_cup(const Plan& plan);
/// The mark on the bottle that fills such a cup: its letter, or "base".
std::string bottle_of(const Plan& plan, const Held& held);

/// Portions of each rung of a line that presentations may use: not the known clear cup, never more than there
/// are presentations, and served by a helper never more than the card has lines for.
std::vector<int> portions_to_serve(const Plan& plan, std::size_t line = 0);
/// What a presentation of this level gives: its cup and those beside it.
safety::Intake presentation_intake(const Plan& plan, std::size_t level, std::size_t line = 0);
/// What a set of every rung gives.
safety::Intake set_intake(const Plan& plan);
/// What a presentation of the base alone gives.
safety::Intake blank_intake(const Plan& plan);
/// Intake from the known cups.
safety::Intake known_intake(const Plan& plan);
/// The most that the whole drill can give.
safety::Intake worst_intake(const Plan& plan);

}  // namespace sipladder::drills
