#pragma once

#include "drills/drill.hpp"
#include "engine/content/field.hpp"

#include <nlohmann/json_fwd.hpp>

#include <memory>
#include <string>
#include <vector>

/// The parts that bodies are made of, as JSON and back; for drills/record alone. Reading notes every problem
/// in the Field and never throws.
namespace sipladder::drills::record {

nlohmann::json json_of(const solution::Substance& substance);
solution::Substance read_substance(const content::Field& field);

nlohmann::json json_of(const solution::MixedLadder& ladder);
solution::MixedLadder read_ladder(const content::Field& field);

nlohmann::json json_of(const solution::MixedLevel& level);
solution::MixedLevel read_level(const content::Field& field);

nlohmann::json json_of(const Line& line);
Line read_line(const content::Field& field);

nlohmann::json json_of(const Seat& seat);
Seat read_seat(const content::Field& field);

/// A seed stands as text: JSON numbers are read as doubles by many programs.
Seed read_seed(const content::Field& field);

nlohmann::json json_of(const threshold::Prior& prior);
threshold::Prior read_prior(const content::Field& field);

nlohmann::json json_of(const safety::Cap& cap);
safety::Cap read_cap(const content::Field& field);

nlohmann::json json_of(const safety::Intake& intake);
safety::Intake read_intake(const content::Field& field);

nlohmann::json json_of(const Instant& instant);
Instant read_instant(const content::Field& field);

nlohmann::json json_of(const Presentation& shown);
Presentation read_presentation(const content::Field& field);

nlohmann::json json_of(const Held& held);
Held read_held(const content::Field& field);

nlohmann::json json_of(const Answer& answer, bool about_places);
/// @param choices  how many there are
Answer read_answer(const content::Field& field, std::size_t choices);

std::string text_of(Order order);
Order read_order(const content::Field& field);

std::string text_of(Blinding blinding);
Blinding read_blinding(const content::Field& field);

}  // namespace sipladder::drills::record
