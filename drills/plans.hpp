#pragma once

#include "drills/classroom/service.hpp"
#include "drills/detection.hpp"
#include "engine/content/content.hpp"

#include <optional>
#include <string>
#include <vector>

/// Drill plans from content: everything that a drill needs is copied into its plan, which is then closed.
namespace sipladder::drills {

/// A threshold of the same person, substance and base, to start from.
struct OwnHistory {
    threshold::Threshold last;
    std::string date;    ///< of that sitting, as the report names it: "2026-03-01"
    double weeks_ago{};  ///< 0 or more
    /// The same bottles: their common error is in `last` already, and must not count twice.
    bool same_mix = false;
};

enum class PriorChoice { assumed, flat, own_history };

struct DrillOptions {
    Blinding blinding = Blinding::shuffled_tray;
    std::size_t presentations = 12;
    Millilitres cup{10.0};
    bool spat = true;
    double stop_sd_log10 = 0.0;  ///< see detection::Plan
    PriorChoice prior = PriorChoice::assumed;
    std::optional<OwnHistory> history;  ///< needed for PriorChoice::own_history; of the first substance
    Order order = Order::adaptive;
    std::optional<Seat> seat = {};  ///< class service: one person's
    /// Scaling, mouth map, persistence: the person's own in place of the usual ones.
    std::vector<std::string> words = {};
    std::string sensation = {};  ///< persistence: what is timed; empty: as the substance says
    /// Balance, persistence with a second ladder: what is different about it; empty: "in " and its base.
    std::string condition = {};
    bool same_bottles = false;  ///< the second ladder was poured from the bottles of the first
};
using DetectionOptions = DrillOptions;

/// A plan of any kind of drill. Recognition, naming and the mouth map take several ladders, balance and
/// persistence a second one of the same substance in another base, the others one. Difference: the base of
/// the ladder holds the pedestal, or else the weakest rung is it. What recognition and difference assume is
/// their own.
/// @param taken_this_sitting, taken_today  before this drill; today's holds this sitting's
/// @throws Refused for a substance that content does not know, own history without any, no ladder or too many
Plan drill_plan(const content::Content& content, Kind kind, const std::vector<solution::MixedLadder>& ladders,
                const DrillOptions& options, const safety::Intake& taken_today = {},
                const safety::Intake& taken_this_sitting = {});

/// Portions that each rung has to have, known cups included, for a drill of so many presentations whose cups
/// are drawn beforehand.
/// @param lines  ladders of the drill  @param rungs  of this one
int portions_needed(Kind kind, Blinding blinding, std::size_t presentations, std::size_t lines,
                    std::size_t rungs);

/// Persistence of the flavour of a bottle of one's own, of which so many portions can be poured.
/// @throws Refused for a strength outside 0.1 to 18 % vol
Plan own_wine_plan(const content::Content& content, const std::string& name, PercentVol strength,
                   int portions, const DrillOptions& options, const safety::Intake& taken_today = {},
                   const safety::Intake& taken_this_sitting = {});

/// The same for detection.
detection::Plan detection_plan(const content::Content& content, const solution::MixedLadder& ladder,
                               const DetectionOptions& options, const safety::Intake& taken_today = {},
                               const safety::Intake& taken_this_sitting = {});

/// What one seat gets in one drill of a class service: presentations of three, every rung once, weakest
/// first.
/// @param seat  index into Service::seats
/// @throws Refused for another task, or rungs that come several times
Seat seat_in(const classroom::Service& service, std::size_t drill, std::size_t seat);

/// The same for drills whose cups are drawn beforehand: single cups, or sets to put in order. The plan says
/// which bottles those of the class are; "base" is a blank.
/// @throws Refused for a bottle that is not in the plan
Seat seat_at(const classroom::Service& service, std::size_t drill, std::size_t seat, const Plan& plan);

/// What is assumed of a person of whom nothing is known; its name says centre, spread and whose judgement.
threshold::Prior assumed_prior(const solution::Substance& substance);
/// Flat over the ladder and a factor of ten beyond both its ends.
threshold::Prior flat_prior(const solution::MixedLadder& ladder);
/// The last threshold carried forward: sittings differ by 0.1 log10 units from day to day, and a person may
/// drift by 0.05 (12 %) in a week, 0.1 in four (a random walk); both are judgements.
threshold::Prior own_prior(const OwnHistory& history);

}  // namespace sipladder::drills
