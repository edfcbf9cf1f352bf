#pragma once

#include "engine/threshold/estimate.hpp"
#include "engine/threshold/habit_likelihood.hpp"
#include "engine/threshold/posterior.hpp"
#include "engine/units.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

/// Several people who were served the same thing: how they spread, and each of them with the others' help.
namespace sipladder::panel {

/// One person and the answers given.
struct Member {
    std::string name;
    std::vector<threshold::Counts> counts;           ///< answers that were right or wrong and no more
    std::vector<threshold::HabitAnswers> told = {};  ///< answers that said more; 3-AFC only
};

struct Settings {
    Scale scale = Scale::g_per_L;
    /// Common to all levels and all people, since all drank from one mix.
    double u_shared_log10 = 0.0;
    /// How far people's widths spread around the panel's own, SD of ln width (judgement). 0: one width for
    /// everybody, as in a mixed model. As wide as the prior's or wider: nothing is learned about widths from
    /// the others.
    double width_between_ln_sd = 0.25;
    /// Scale of the half-normal prior of the spread between people, log10 (judgement).
    double spread_scale_log10 = 0.5;
    /// Of those said to differ from the panel's mean, the share that may be on the wrong side of it.
    double false_share = 0.05;
    double theta_step_log10 = 0.04;
    std::size_t widths = 9;
};

/// Where a person stands towards the panel's mean.
enum class Stand { unclear, more_sensitive, less_sensitive };

struct Person {
    std::string name;
    threshold::Estimate own;       ///< from their own answers and the prior alone
    threshold::Estimate shrunken;  ///< with what the others tell about the panel; mixing included
    double probability_above{};    ///< that their threshold lies above the panel's mean
    Stand stand = Stand::unclear;
};

struct Panel {
    Scale scale{};
    threshold::Estimate mean;         ///< of the people that these are drawn from; mixing included, once
    threshold::Estimate spread;       ///< SD between people, log10
    threshold::Estimate people_mean;  ///< the mean of these very people; mixing included, once
    double mixing_sd_log10{};         ///< the part of the means' SD that comes from mixing
    double width_log10{};             ///< geometric mean over people, 10 to 90 %
    double lapse{};                   ///< posterior mean over people
    double log_likelihood{};          ///< of the counts, at the values above; with binomial coefficients
    std::vector<Person> people;       ///< in the order given
    std::size_t differing = 0;        ///< how many stand clear of the mean
    double expected_wrong{};          ///< how many of those are expected on the wrong side of it
    std::string prior;                ///< what was assumed before the first answer, in words
    std::vector<std::string> notes;   ///< what cannot be concluded, in sentences
};

/// Thresholds as Normal(mean, spread) in the population, each person's exact likelihood on the grid;
/// location, spread and the panel's width integrated on a grid of their own that is narrowed to where the
/// answers leave them. Who differs: the local false sign rates, smallest first, as long as their mean stays
/// within `false_share`.
///
/// @param prior  of the location (its theta), and of widths and lapses; where a person alone would start
/// @throws Refused  for no people, a name given twice, answers or a prior that cannot be used, each named
/// @source          judgement: design of the fit; stephens_2017 for the false sign rate and newton_2004 for
///                  the rule (from memory)
/// @checked         tests/panel/panel_test.cpp, tests/published/mixed_model_test.cpp
Panel pooled(std::span<const Member> members, const threshold::Prior& prior, const threshold::Task& task,
             const Settings& settings = {});

/// The panel in sentences: mean, spread, who stands clear of it, and what the rule allows.
std::vector<std::string> words(const Panel& panel);

}  // namespace sipladder::panel
