#pragma once

#include "engine/journal/database.hpp"

#include <string>
#include <vector>

namespace sipladder::journal {

/// Takes a journal from version `to` - 1 to version `to`.
struct Migration {
    int to{};
    std::string sql;
};

/// In order from 1, where version 0 is an empty file. The last one's `to` is the version that this program
/// writes.
const std::vector<Migration>& all_migrations();
int current_version();

/// Runs what the database has not had yet, all in one transaction: a failure leaves the version it had.
void migrate(Database& database, const std::vector<Migration>& migrations);

}  // namespace sipladder::journal
