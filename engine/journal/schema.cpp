// Every row of whatever kind has one line in `row`: that makes ids unique across kinds, gives a strike-out a
// foreign key to its target, and keeps the order of arrival. Tables are STRICT, and triggers forbid UPDATE
// and DELETE: the record is append-only even for who opens it with another tool.

#include "engine/journal/schema.hpp"

#include "engine/journal/migrations.hpp"

#include <array>
#include <cstdint>
#include <map>
#include <string_view>

namespace sipladder::journal {

namespace {

constexpr std::array<std::string_view, 7> tables{"row",   "person", "fact",  "sitting",
                                                 "drill", "entry",  "strike"};

constexpr std::string_view table_statements = R"sql(
CREATE TABLE row (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
    kind TEXT NOT NULL,
    at_utc_ms INTEGER NOT NULL,
    at_offset_min INTEGER NOT NULL,
    at_monotonic_ms INTEGER NOT NULL
) STRICT;
CREATE TABLE person (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    name TEXT NOT NULL,
    invented INTEGER NOT NULL CHECK (invented IN (0, 1))
) STRICT;
CREATE TABLE fact (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    person TEXT NOT NULL REFERENCES person(id),
    kind TEXT NOT NULL,
    body TEXT NOT NULL
) STRICT;
CREATE TABLE sitting (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    person TEXT NOT NULL REFERENCES person(id),
    body TEXT NOT NULL
) STRICT;
CREATE TABLE drill (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    sitting TEXT NOT NULL REFERENCES sitting(id),
    kind TEXT NOT NULL,
    body TEXT NOT NULL
) STRICT;
CREATE TABLE entry (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    drill TEXT NOT NULL REFERENCES drill(id),
    number INTEGER NOT NULL CHECK (number >= 0),
    kind TEXT NOT NULL,
    body TEXT NOT NULL,
    UNIQUE (drill, number)
) STRICT;
CREATE TABLE strike (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    target TEXT NOT NULL REFERENCES row(id),
    strikes INTEGER NOT NULL CHECK (strikes IN (0, 1)),
    reason TEXT NOT NULL
) STRICT;
CREATE INDEX fact_of_person ON fact(person);
CREATE INDEX sitting_of_person ON sitting(person);
CREATE INDEX drill_of_sitting ON drill(sitting);
CREATE INDEX strike_of_target ON strike(target);
)sql";

std::string append_only(std::string_view table) {
    std::string sql;
    for (const std::string_view verb : {"UPDATE", "DELETE"}) {
        sql += "CREATE TRIGGER " + std::string(table) + "_no_" + std::string(verb) + " BEFORE " +
               std::string(verb) + " ON " + std::string(table) +
               " BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;\n";
    }
    return sql;
}

/// Name to statement of everything in the schema that the program made.
std::map<std::string, std::string> parts_of(Database& database) {
    std::map<std::string, std::string> parts;
    Statement statement(database, "SELECT type || ' ' || name, sql FROM sqlite_schema WHERE sql IS NOT NULL");
    while (statement.step()) parts[statement.text(0)] = statement.text(1);
    return parts;
}

}  // namespace

std::string schema_version_1() {
    std::string sql(table_statements);
    for (const std::string_view table : tables) sql += append_only(table);
    return sql;
}

std::string schema_version_2() {
    return "CREATE TABLE erased (person TEXT PRIMARY KEY NOT NULL CHECK (length(person) = 36)) STRICT;\n" +
           append_only("erased");
}

void without_guards(Database& database, const std::function<void()>& change) {
    for (const std::string_view table : tables)
        database.run("DROP TRIGGER " + std::string(table) + "_no_DELETE");
    change();
    for (const std::string_view table : tables) {
        const std::string guards = append_only(table);
        database.run(guards.substr(guards.rfind("CREATE TRIGGER")));
    }
}

std::vector<Problem> schema_problems(Database& database) {
    const std::int64_t version = database.integer("PRAGMA user_version");
    std::vector<Migration> so_far = all_migrations();
    std::erase_if(so_far, [&](const Migration& migration) { return migration.to > version; });
    Database fresh = Database::in_memory();
    migrate(fresh, so_far);
    const auto wanted = parts_of(fresh);
    const auto found = parts_of(database);
    const std::string keep = "keep this file, and go on from a copy of it";
    std::vector<Problem> problems;
    for (const auto& [name, sql] : wanted) {
        const auto part = found.find(name);
        if (part == found.end())
            problems.push_back({database.file().string(), "lacks the " + name, keep});
        else if (part->second != sql)
            problems.push_back(
                {database.file().string(), "has another " + name + " than this program made", keep});
    }
    return problems;
}

}  // namespace sipladder::journal
