#pragma once

#include "engine/solution/recipe.hpp"

#include <string>
#include <vector>

/// A recipe as sentences for the bench, and back: a plan's steps hold all that the sum needs.
namespace sipladder::solution {

/// Two steps a making: the load, then filling up.
std::vector<Step> steps_of(const PlanRequest& request, const std::vector<Making>& makings);

/// The recipe that these steps tell. @throws Refused for steps that are no pairs of load and filling up, or
/// name what the request lacks
std::vector<Making> makings_of(const PlanRequest& request, const std::vector<Step>& steps);

/// An instrument's name as its equipment has it; "by counting" where there is none.
std::string instrument_name(const Equipment& equipment, const Instrument& instrument);

/// An instrument's name within a sentence: one with a comma in it has another behind it, so that "the scale,
/// 0.1 g, shows 2.5 g" is not read as two readings.
std::string within_sentence(const std::string& instrument);

/// A reading with the digits that the instrument shows: "1.00 g", "12.5 mL".
std::string shown(const Equipment& equipment, const Reading& reading);

}  // namespace sipladder::solution
