#include "engine/journal/migrations.hpp"

#include "engine/journal/journal.hpp"
#include "engine/journal/schema.hpp"
#include "engine/problem.hpp"
#include "tests/journal/rows.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

using namespace sipladder;
using namespace sipladder::journal;

TEST_CASE("migrations are numbered from 1 without a gap and give the schema of this program") {
    int wanted = 1;
    for (const Migration& migration : all_migrations()) CHECK(migration.to == wanted++);
    Database database = Database::in_memory();
    migrate(database, all_migrations());
    CHECK(database.integer("PRAGMA user_version") == current_version());
    CHECK(database.integer("PRAGMA application_id") == application_id);
    CHECK(schema_problems(database).empty());
}

TEST_CASE("an older database gets only what it has not had yet, and keeps its rows") {
    std::vector<Migration> migrations{{1, "CREATE TABLE a (x INTEGER); INSERT INTO a VALUES (1)"}};
    Database database = Database::in_memory();
    migrate(database, migrations);
    migrations.push_back({2, "ALTER TABLE a ADD COLUMN y INTEGER; UPDATE a SET y = x + 1"});
    migrate(database, migrations);
    migrate(database, migrations);
    CHECK(database.integer("PRAGMA user_version") == 2);
    CHECK(database.integer("SELECT count(*) FROM a WHERE x = 1 AND y = 2") == 1);
}

TEST_CASE("a migration that fails half-way leaves the version and the tables as they were") {
    std::vector<Migration> migrations{{1, "CREATE TABLE a (x INTEGER)"}};
    Database database = Database::in_memory();
    migrate(database, migrations);
    migrations.push_back({2, "CREATE TABLE b (x INTEGER)"});
    migrations.push_back({3, "CREATE TABLE c (x INTEGER); SELECT no_such_function()"});
    CHECK_THROWS_AS(migrate(database, migrations), Failed);
    CHECK(database.integer("PRAGMA user_version") == 1);
    CHECK(database.integer("SELECT count(*) FROM sqlite_schema") == 1);
}

TEST_CASE("a file of version 1 is found whole before it is opened, and keeps its rows in this version") {
    const tests::TemporaryFolder folder;
    const auto file = folder / "old.journal";
    tests::write_bytes(file, "");
    Database(file, Access::read_write)
        .run(tests::bytes_of(SIPLADDER_SOURCE_DIR "/tests/journal/version_1.sql"));
    CHECK(check(file).problems.empty());
    CHECK(check(file).rows == 6);
    const Journal opened = Journal::open_existing(file);
    CHECK(opened.people() == std::vector{tests::person});
    CHECK(opened.entries(tests::drill.id) == std::vector{tests::entry(0), tests::entry(1), tests::entry(2)});
    CHECK(opened.erased().empty());
    CHECK(check(file).problems.empty());
    Database database(file, Access::read_only);
    CHECK(database.integer("PRAGMA user_version") == current_version());
}
