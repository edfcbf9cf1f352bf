#pragma once

#include "engine/journal/database.hpp"
#include "engine/journal/journal.hpp"

/// What a Journal holds, for the other files of this folder.
namespace sipladder::journal {

struct Journal::Connection {
    Database database;
    bool is_together = false;  ///< appends share the transaction of `together`
};

struct Inside {
    static Database& database(const Journal& journal) { return journal.connection_->database; }
    static bool is_together(const Journal& journal) { return journal.connection_->is_together; }
};

}  // namespace sipladder::journal
