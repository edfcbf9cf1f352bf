#pragma once

#include "drills/presentation.hpp"
#include "drills/step.hpp"
#include "engine/instant.hpp"
#include "engine/random.hpp"
#include "engine/safety/caution.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/ladder.hpp"
#include "engine/solution/substance.hpp"
#include "engine/threshold/posterior.hpp"
#include "engine/threshold/threshold.hpp"
#include "engine/units.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

/// Detection by 3-AFC: "which cup holds the acid?", after one known clear cup and one known blank. Adaptive.
namespace sipladder::drills::detection {

/// The rule by which levels, places and letters are drawn. Part of the plan, so that a later rule never
/// rewrites an old sitting. 1: the level that is expected to tell most. 2: the same, with rules against runs
/// and clear cups close together.
constexpr int current_rule = 2;

/// Closed: holds in full what the drill needs, so that a change elsewhere cannot change a drill under way or
/// done.
struct Plan {
    solution::Substance substance;
    std::string base_name;         ///< "still water"
    solution::MixedLadder ladder;  ///< as mixed, with the portions poured of each rung
    threshold::Prior prior;
    Blinding blinding{};
    Millilitres cup{10.0};
    bool spat = true;
    std::size_t most_presentations = 12;
    double stop_sd_log10 = 0.0;  ///< stop when the claimed SD is at or below this; 0: never for this reason
    int most_minutes =
        0;            ///< stop once this long has passed since the first answer; 0: never for this reason
    int rest_s = 30;  ///< between presentations
    std::vector<safety::Cap> caps;
    safety::Intake blank;               ///< one cup of the base: nothing for water
    safety::Intake taken_this_sitting;  ///< before this drill
    safety::Intake taken_today;         ///< before this drill, this sitting included
    int rule_version = current_rule;
};

/// All that the assessor may not see.
struct Key {
    std::size_t level{};  ///< index into Plan::ladder
    std::size_t place{};  ///< 0 left, 1 middle, 2 right

    bool operator==(const Key&) const = default;
};

struct Answer {
    std::size_t place{};  ///< 0 left, 1 middle, 2 right
    Certainty certainty{};
    Instant at;

    bool operator==(const Answer&) const = default;
};

struct Trial {
    Presentation shown;
    std::size_t level{};  ///< as served
    std::optional<std::size_t>
        place;  ///< served: from the card, known when served; shuffled tray: once revealed
    std::optional<Answer> given;
    std::optional<Instant> revealed_at;

    bool is_done() const { return place.has_value() && given.has_value(); }
    bool operator==(const Trial&) const = default;
};

struct State {
    Plan plan;
    Seed seed;
    std::vector<Trial> trials;           ///< the last one may be locked but not yet revealed
    threshold::Posterior posterior;      ///< coarse grid; chooses
    std::optional<std::string> stopped;  ///< why the person ended it early
};

/// The rung of the one known clear cup with which the drill begins: the strongest that has a portion to
/// spare. It is poured before the first presentation, uses up a portion and counts as intake. Nothing where
/// none can be spared.
std::optional<std::size_t> known_clear(const Plan& plan);

/// @throws Refused when the plan cannot be carried out (ladder without portions, caps crossed by the worst
/// case …)
State begin(Plan plan, Seed seed);
/// What to do now; the same state gives the same step, and nothing changes. A Rest step follows every done
/// trial but the last; the caller keeps the clock and goes on with `next_after_rest`.
Step next(const State& drill);
Step next_after_rest(const State& drill);
/// What is on the table now, with what only the pourer may know; nothing unless an answer is wanted. For
/// pourer, record and simulated assessor, never for a screen.
struct Served {
    Presentation shown;
    std::size_t level{};
    std::optional<std::size_t>
        place;  ///< served: from the card; shuffled tray: not known before it is looked at
};
std::optional<Served> serving(const State& drill);

/// The assessor's answer. Served: the trial is done. Shuffled tray: Reveal comes next.
/// @throws Refused when nothing is being served or the place is not 0 to 2
State lock(State drill, const Answer& given);
/// Shuffled tray: where the sign was found.
State reveal(State drill, std::size_t place, const Instant& at);
/// Ends the drill early and keeps what was done.
State stop(State drill, std::string why);
/// From the journal: trusts the trials, not the rule.
State resume(Plan plan, Seed seed, std::vector<Trial> trials,
             std::optional<std::string> stopped = std::nullopt);

bool is_finished(const State& drill);
/// One row of the helper's printed card: when the screen shows `letter`, pour `bottle` into the cup with the
/// code at `place`, base into the other two.
struct CardRow {
    std::string letter;
    std::string bottle;
    std::size_t level{};
    std::size_t place{};
    std::vector<BlindCode> codes;
};
/// The whole card for a served drill, sorted by letter: enough one-time letters for every portion of every
/// rung.
std::vector<CardRow> pour_card(const Plan& plan, Seed seed);

/// Answers for the fits: every done trial, in order.
std::vector<threshold::Answered> answered(const State& drill);
/// The threshold so far; warnings included.
threshold::Threshold result(const State& drill);
/// Cups served so far (three a presentation).
std::size_t cups(const State& drill);
/// Intake so far if all was swallowed.
safety::Intake intake(const State& drill);

}  // namespace sipladder::drills::detection
