#pragma once

#include "engine/journal/exchange.hpp"
#include "engine/journal/journal.hpp"

#include <optional>
#include <string>

/// What a journal gives to other programs, and what it takes in from another journal.
namespace sipladder::drills {

/// Reads every body that came in, within the whole that it is now part of, so that nothing is kept which the
/// program could not read later. Kinds that a later program may know are left to it.
/// @throws Refused  with what cannot be read: at most one problem a row, the first hundred of them
void check_bodies(const journal::Journal& journal, const journal::Merged& merged);

/// The answers of everybody, or of one person, as a table (RFC 4180, UTF-8, a heading, one row an answer that
/// is done), oldest sitting first. Rows that are struck out are left out.
///
///     person_id person invented sitting_id sitting_started spoilers temperature_degC drill_id drill
///     substance base blinding order spat presentation answered_at concentration_g_per_L
///     concentration_pct_vol u_own_rel u_shared_rel is_blank pedestal condition nose cups contents chance
///     correct choice certainty mark seconds places words ranked
///
/// Of the two concentrations, as mixed, one is filled: the scale of the ladder; both are empty for the base
/// alone and for a set of cups, whose `contents` stand left to right. `chance` is that of a right guess where
/// there is a right answer; certainty is 1 guessed, 2 leaning, 3 sure; `ranked` has the places of the cups
/// (1 left), weakest first. A text that a spreadsheet would run as a formula has an apostrophe before it.
/// @throws Refused naming the row whose body cannot be read
/// @checked tests/journal/exchange_test.cpp
std::string answers_csv(const journal::Journal& journal, const std::optional<Uuid>& person = std::nullopt);

/// A text cell that no spreadsheet runs: one that begins with = + - @, a tab or a line break gets an
/// apostrophe before it. Quoted where RFC 4180 wants it.
std::string harmless_cell(const std::string& text);

}  // namespace sipladder::drills
