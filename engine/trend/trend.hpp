#pragma once

#include "engine/threshold/estimate.hpp"
#include "engine/threshold/habit_likelihood.hpp"
#include "engine/threshold/posterior.hpp"
#include "engine/units.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

/// One person and one substance over weeks: has the threshold moved beyond noise?
namespace sipladder::trend {

/// What has to stay the same for two sittings to stand on one line.
struct Conditions {
    std::string lot;  ///< the pack of the ingredient
    std::string base;
    std::string blinding;

    bool operator==(const Conditions&) const = default;
};

struct Sitting {
    std::string date;                       ///< as shown: 2026-03-01
    double week{};                          ///< weeks since any moment, fractions allowed; ascending
    std::vector<threshold::Counts> counts;  ///< answers that were right or wrong and no more
    std::string mix;                        ///< which mix was served; sittings of one mix share its error
    double u_shared_log10{};                ///< that mix's common error
    Conditions conditions;
    std::vector<std::string> notes;                  ///< a cold, a new spirit: drawn as flags
    std::vector<threshold::HabitAnswers> told = {};  ///< answers that said more; 3-AFC only
};

struct Settings {
    Scale scale = Scale::g_per_L;
    double walk_log10 = 0.03;        ///< SD of the line's own wandering in one week (judgement)
    double jitter_log10 = 0.08;      ///< SD of a sitting around the line (judgement)
    double drift_sd_log10 = 0.05;    ///< prior SD of the drift a week (judgement)
    double drift_most_log10 = 0.15;  ///< and its cut either way
    std::size_t practice = 2;        ///< first sittings of a substance, outside the baseline
    double false_alarms = 0.05;      ///< of people who do not change, the share that may be told they fell
    double theta_step_log10 = 0.04;
    std::size_t widths = 9;
};

struct Point {
    std::size_t sitting{};    ///< index into what was given
    std::size_t stretch = 0;  ///< index into Trend::stretches; of a practice sitting: the one it came before
    bool practice = false;    ///< outside the line: `line` and `smoothed` are then `own`
    threshold::Estimate own;  ///< this sitting's answers and the prior, nothing earlier or later
    threshold::Estimate smoothed;  ///< the threshold on that day, from all sittings of the stretch
    threshold::Estimate line;      ///< what the sittings vary around
};

/// From the first to the last baseline sitting of a stretch. Below 0: the threshold fell.
struct Change {
    threshold::Estimate change;  ///< of the line; a change of mix is in it, one mix throughout is not
    double probability_fell{};   ///< that the line is lower at the end
    /// A change smaller than this, either way, may be noise: of people who do not change, 95 of 100 seem to
    /// by less, over the same sittings by least squares.
    double noise_log10{};
    threshold::Estimate drift;      ///< log10 a week
    double probability_drifting{};  ///< that the drift is downwards
    double false_alarms{};          ///< share of people without any drift who pass the cut
    double cut{};           ///< of probability_drifting, passed by `false_alarms` of people who do not change
    bool declared = false;  ///< probability_drifting is above the cut
    /// How often a true steady fall as large as the one estimated would stay undeclared.
    double missed{};
    double smallest_seen_half_log10{};  ///< the fall that would be declared every second time
};

struct Stretch {
    std::size_t first{};  ///< index into Trend::points
    std::size_t last{};
    std::string why;               ///< what made it start anew: "new lot", "other water"; empty for the first
    std::optional<Change> change;  ///< nothing with fewer than two baseline sittings
    double width_log10{};          ///< geometric mean, one for the stretch
    double lapse{};
    double log_evidence{};
};

struct Trend {
    Scale scale{};
    std::vector<Point> points;  ///< one a sitting, in time order
    std::vector<Stretch> stretches;
    std::string prior;
    std::vector<std::string> notes;  ///< what cannot be concluded, in sentences
};

/// The line is a random walk with a drift, a sitting lies around it with the jitter; width and lapse are the
/// same in all sittings of a stretch. Filtered and smoothed exactly on the grid, everything integrated.
/// A new lot, base or blinding starts a stretch that is fitted apart.
///
/// @throws Refused  for no sittings, weeks that do not ascend, answers or a prior that cannot be used
/// @checked         tests/trend/trend_test.cpp, tests/published/mixed_model_test.cpp
Trend trend(std::span<const Sitting> sittings, const threshold::Prior& prior, const threshold::Task& task,
            const Settings& settings = {});

/// The prior of the next sitting, forecast from the last stretch: for placing the levels, never for the
/// sitting's own dot.
/// @param week      of the next sitting, not before the last one
/// @param same_mix  served from the last sitting's mix: its common error is then left to the new fit
/// @throws Refused  when there is nothing to forecast from, or for a week before the last sitting
threshold::Prior forecast(std::span<const Sitting> sittings, double week, bool same_mix,
                          const threshold::Prior& prior, const threshold::Task& task,
                          const Settings& settings = {});

/// The change beyond that of an undrilled control: practice with the task itself is in both.
struct AgainstControl {
    threshold::Estimate change;  ///< drilled less control
    double probability_fell_more{};
};
AgainstControl against_control(const Change& drilled, const Change& control);

/// The last stretch in sentences: the change in percent with its interval, how probable, what would be noise,
/// how often such a change stays undeclared, and what else could have done it.
std::vector<std::string> words(const Trend& trend, std::span<const Sitting> sittings);

}  // namespace sipladder::trend
