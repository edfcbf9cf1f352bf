#pragma once

#include "engine/journal/database.hpp"
#include "engine/journal/journal.hpp"
#include "engine/journal/reading.hpp"

#include <cstdint>

/// Rows into the tables, inside a transaction that the caller holds.
namespace sipladder::journal {

enum class Known { absent, same, other };
/// Whether the row is there, compared without `struck`.
Known known(const Database& database, const Person& row);
Known known(const Database& database, const Fact& row);
Known known(const Database& database, const Sitting& row);
Known known(const Database& database, const Drill& row);
Known known(const Database& database, const Entry& row);

bool was_erased(const Database& database, const Uuid& person);
/// The number of a drill's next entry.
std::int64_t next_number(const Database& database, const Uuid& drill);

/// As Journal::append says.
void append_row(const Database& database, const Person& person);
void append_row(const Database& database, const Fact& fact);
void append_row(const Database& database, const Sitting& sitting);
void append_row(const Database& database, const Drill& drill);
void append_row(const Database& database, const Entry& entry);
/// As Journal::strike_out and Journal::put_back say.
void append_strike(const Database& database, const Uuid& id, const Strike& strike);
/// Without asking whether the target is struck out already: two journals may both have struck it.
void insert_strike(const Database& database, const Uuid& id, const Strike& strike);

}  // namespace sipladder::journal
