#pragma once

#include "engine/solution/ladder.hpp"
#include "engine/threshold/habit_posterior.hpp"
#include "engine/threshold/threshold.hpp"

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

/// The quick look: single cups graded in a few steps, a third of them blanks (A - not A of ISO 8588), in the
/// order in which they were tasted. `graded.hpp` is for counts whose order nobody knows.
namespace sipladder::threshold {

constexpr std::size_t quick_look_grades = 4;     ///< nothing, perhaps, yes, clearly: 0 to 3
constexpr double quick_look_blanks = 1.0 / 3.0;  ///< share of the cups

/// One cup as served and graded.
struct GradedCup {
    std::optional<std::size_t> level;  ///< index into the mixed ladder; nothing: a blank
    std::size_t grade{};               ///< 0: nothing there
    bool operator==(const GradedCup&) const = default;
};

/// What is believed before the first cup. First cut, spacing, how the cuts wander from cup to cup, and the
/// noise of clear cups are all open. A coarse grid chooses, a fine one reports.
/// @throws Refused  for a prior that cannot be used, or another number of grades than 2 to 10
HabitPosterior graded_posterior(const Prior& prior, Fineness fineness,
                                std::size_t grades = quick_look_grades);
/// The model of a percept Normal(0, 1) for a blank and Normal(d', 1 + (ratio - 1) min(1, d'/2)) for a spiked
/// cup, graded by how many cut points it exceeds.
/// @source judgement: textbook signal detection (from memory)
std::shared_ptr<const HabitModel> graded_model(std::size_t grades = quick_look_grades);

/// One way of grading, all in units of the blank's noise.
struct GradingHabit {
    double first{};     ///< the first cut point, at the first cup
    double spacing{};   ///< of the cut points, with four grades
    double sd_ratio{};  ///< noise of a clear cup over that of a blank
    double wander{};    ///< SD of what is added to all cut points from each cup to the next
    double weight{};
};
/// Every way that is thought possible before the first cup; the weights sum to 1.
std::vector<GradingHabit> grading_habits();

/// The next cup of a drill that may choose (served).
struct NextCup {
    std::optional<std::size_t> level;  ///< nothing: a blank
};
/// A blank with the chance of `quick_look_blanks`, by `draw`; else the level whose grade is expected to tell
/// most about theta, not a fifth time running, among those with portions left. Nothing when no level is left.
/// @param served  every cup so far, in order
/// @param draw    uniform on [0, 1), the drill's own for this cup
std::optional<NextCup> next_graded_cup(const HabitPosterior& posterior, std::span<const double> levels_log10,
                                       std::span<const int> portions_left, std::span<const GradedCup> served,
                                       double draw);
std::optional<NextCup> next_graded_cup(const HabitPosterior& posterior, const HabitChooser& chooser,
                                       std::span<const int> portions_left, std::span<const GradedCup> served,
                                       double draw);

/// Cups of each kind for a drill whose levels are fixed beforehand (alone, sealed key): a third of them
/// blanks, the rest shared over all levels as evenly as can be, what is left over going to the middle ones.
struct GradedTray {
    std::vector<int> of_level;
    int blanks = 0;
};
/// @pre levels > 0
GradedTray graded_tray(std::size_t levels, std::size_t cups);

/// The threshold with the person's way of grading as it was found.
struct QuickLook {
    Threshold threshold;
    std::vector<double> cut_points;  ///< posterior means at the last cup, percept noise = 1, blanks at 0
    double spacing{};                ///< of the cut points
    double sd_ratio{};               ///< noise of a clear cup over that of a blank
    double wander_per_cup{};         ///< SD of the cuts' wandering from one cup to the next
};
/// @throws Refused  without blanks or without a level, for grades or levels out of range
QuickLook quick_look(const solution::MixedLadder& ladder, std::span<const GradedCup> cups, const Prior& prior,
                     std::size_t grades = quick_look_grades);

/// One 3-AFC presentation that checks the quick look in the same sitting.
struct CheckAnswer {
    std::size_t level{};
    bool correct{};
};
/// The level at which a 3-AFC checks best what the grades say: there three of four answers should be right.
/// Nothing when no level has the portion left.
std::optional<std::size_t> check_level(const HabitPosterior& posterior, std::span<const double> levels_log10,
                                       std::span<const int> portions_left);
/// Do the 3-AFC answers fit what the grades promise?
struct QuickLookCheck {
    std::size_t presentations{};
    std::size_t correct{};
    double expected{};       ///< right answers that the grades promise, on average
    double p_value = 1.0;    ///< two-sided: a count as far out as this one, if grades and picks agree
    bool disagrees = false;  ///< p below 0.05
    std::string text;        ///< in words
};
/// @param posterior  holds the graded cups of the sitting
/// @pre every level lies within `levels_log10`
QuickLookCheck quick_look_check(const HabitPosterior& posterior, std::span<const double> levels_log10,
                                std::span<const CheckAnswer> answers);

}  // namespace sipladder::threshold
