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

/// Certainty of a 3-AFC answer as part of the answer. Only where the taster cannot know the level (served,
/// class, sealed key); where the level may be known, give the answers without their certainty.
namespace sipladder::threshold {

/// The outcome of `certainty_model` that this answer is.
std::size_t outcome_of(bool correct, std::optional<Certainty> certainty);

/// Percepts Normal(0, 1) and, of the clear cup, Normal(d', 1); the strongest is picked, and the gap to the
/// second strongest says how sure one is, by two cut points that differ between people. Beside that: people
/// whose certainty is drawn at random, by shares of their own. Made once, then shared.
/// @source judgement: textbook signal detection (from memory)
/// @checked tests/threshold/certainty_test.cpp (Monte Carlo)
std::shared_ptr<const HabitModel> certainty_model();
/// @throws Refused  for a prior that cannot be used
HabitPosterior certainty_posterior(const Prior& prior, Fineness fineness);

/// As `next_level_varied`, for a posterior that listens to certainty.
std::optional<std::size_t> next_level_varied(const HabitPosterior& posterior, const HabitChooser& chooser,
                                             std::span<const int> portions_left,
                                             std::span<const std::size_t> served);

/// What certainty was worth.
struct CertaintyFit {
    Threshold threshold;
    double informative{};          ///< how much of the certainty follows what was tasted, 0 to 1, expected
    std::size_t with_certainty{};  ///< answers that came with one
    std::string text;              ///< in words; empty for few answers
};
/// @throws Refused for a prior that cannot be used
CertaintyFit certainty_threshold(const solution::MixedLadder& ladder, std::span<const Answered> answers,
                                 const Prior& prior);

}  // namespace sipladder::threshold
