#pragma once

#include "drills/drill.hpp"
#include "engine/threshold/best_estimate.hpp"
#include "engine/threshold/certainty.hpp"

/// Detection by 3-AFC: "which cup holds the acid?", after one known clear cup and one known blank. Adaptive,
/// or fixed ascending.
namespace sipladder::drills::detection {

using drills::Answer;
using drills::answered;
using drills::begin;
using drills::CardRow;
using drills::cups;
using drills::current_rule;
using drills::intake;
using drills::is_finished;
using drills::known_clear;
using drills::lock;
using drills::next;
using drills::next_after_rest;
using drills::Plan;
using drills::pour_card;
using drills::resume;
using drills::reveal;
using drills::Served;
using drills::serving;
using drills::State;
using drills::stop;
using drills::Trial;

/// The threshold so far, certainty counted where it may be; warnings included.
threshold::Threshold result(const State& drill);

/// Whether certainty may be part of the answer: only where the taster cannot know the level. In the shuffled
/// tray it is recorded and left out of every fit.
bool certainty_counts(const Plan& plan);
/// What `result` rests on where certainty counts: weighed by the evidence that it means something, in words
/// too. Nothing where certainty does not count, or before the first answer.
std::optional<threshold::CertaintyFit> with_certainty(const State& drill);

/// Ascending: the best-estimate threshold over the series that were carried through to their strongest rung,
/// each a member of the group estimate. Nothing for an adaptive drill, or before the first is through.
/// @source astm_e679_2019
std::optional<threshold::GroupEstimate> best_estimate(const State& drill);

}  // namespace sipladder::drills::detection
