// The version stands in the file's header (PRAGMA user_version), where it can be read without SQLite. A
// migration that has shipped is never edited: a journal out there was made by it.

#include "engine/journal/migrations.hpp"

#include "engine/journal/schema.hpp"

namespace sipladder::journal {

const std::vector<Migration>& all_migrations() {
    static const std::vector<Migration> migrations{{1, schema_version_1()}, {2, schema_version_2()}};
    return migrations;
}

int current_version() {
    return all_migrations().back().to;
}

void migrate(Database& database, const std::vector<Migration>& migrations) {
    Transaction transaction(database);
    const std::int64_t has = database.integer("PRAGMA user_version");
    for (const Migration& migration : migrations) {
        if (migration.to <= has) continue;
        database.run(migration.sql);
        database.run("PRAGMA user_version=" + std::to_string(migration.to));
    }
    database.run("PRAGMA application_id=" + std::to_string(application_id));
    transaction.commit();
}

}  // namespace sipladder::journal
