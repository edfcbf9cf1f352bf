// Settings of every connection: a rollback journal (one file at rest, nothing to copy beside it),
// synchronous=EXTRA (the folder entry of the deleted rollback journal is synced too, so a commit survives a
// power cut), foreign keys. https://www.sqlite.org/pragma.html#pragma_synchronous

#include "engine/journal/database.hpp"

#include "engine/problem.hpp"

#include <sqlite3.h>

#include <bit>
#include <utility>

namespace sipladder::journal {

namespace {

constexpr int busy_wait_ms =
    2000;  // judgement: a commit takes milliseconds; longer means that somebody holds on to it

std::string shown(const std::filesystem::path& file) {
    return file.empty() ? "journal in memory" : file.string();
}

[[noreturn]] void fail_with(const std::filesystem::path& file, int code, const std::string& message,
                            const std::string& doing) {
    const std::string place = shown(file);
    if (code == SQLITE_READONLY_DBMOVED)
        throw Failed(
            place + ": " + doing +
            ": the file was moved, deleted or replaced while it was open; put it back, or start again "
            "with the one that is there now");
    switch (code & 0xFF) {
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            throw Failed(place + ": " + doing +
                         ": another program is using this journal; close it there and try again");
        case SQLITE_READONLY:
        case SQLITE_PERM:
        case SQLITE_AUTH:
            throw Failed(place + ": " + doing +
                         ": no permission to write here; allow writing to the file and its folder");
        case SQLITE_CANTOPEN:
            throw Failed(place + ": " + doing +
                         ": the file or its folder cannot be opened for this; look at its permissions");
        case SQLITE_FULL:
            throw Failed(place + ": " + doing + ": the disk is full; make room and try again");
        case SQLITE_CORRUPT:
        case SQLITE_NOTADB:
            throw Refused(place, "is damaged (" + message + ")",
                          "nothing was changed; keep this file, and go on from a copy of it");
        default:
            throw Failed(place + ": " + doing + ": " + message);
    }
}

}  // namespace

void Database::Close::operator()(sqlite3* handle) const {
    sqlite3_close(handle);
}
void Database::Finalize::operator()(sqlite3_stmt* statement) const {
    sqlite3_finalize(statement);
}

sqlite3_stmt* Database::prepared(std::string_view sql) const {
    if (const auto rests = at_rest_.find(sql); rests != at_rest_.end()) {
        sqlite3_stmt* statement = rests->second.release();
        at_rest_.erase(rests);
        return statement;
    }
    sqlite3_stmt* raw = nullptr;
    const int code = sqlite3_prepare_v3(handle(), sql.data(), static_cast<int>(sql.size()),
                                        SQLITE_PREPARE_PERSISTENT, &raw, nullptr);
    if (code != SQLITE_OK) fail("reading");
    return raw;
}

void Database::give_back(sqlite3_stmt* statement) const {
    constexpr std::size_t most_at_rest = 64;  // the program has fewer
    std::unique_ptr<sqlite3_stmt, Finalize> owned(statement);
    sqlite3_reset(statement);  // its error, if any, was told when it was stepped
    sqlite3_clear_bindings(statement);
    if (at_rest_.size() < most_at_rest) at_rest_.try_emplace(sqlite3_sql(statement), std::move(owned));
}

Database::Database(const std::filesystem::path& file, Access access) : file_(file) {
    sqlite3* raw = nullptr;
    const int flags = access == Access::read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE;
    const int code = sqlite3_open_v2(file.c_str(), &raw, flags, nullptr);
    handle_.reset(raw);
    if (code != SQLITE_OK) fail("opening");
    set_up();
}

Database Database::in_memory() {
    Database database;
    sqlite3* raw = nullptr;
    const int code = sqlite3_open_v2(":memory:", &raw, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
    database.handle_.reset(raw);
    if (code != SQLITE_OK) database.fail("opening");
    database.set_up();
    return database;
}

void Database::set_up() {
    sqlite3_extended_result_codes(handle(), 1);
    sqlite3_busy_timeout(handle(), busy_wait_ms);
    // A damaged or hostile file must not run functions through its schema.
    sqlite3_db_config(handle(), SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    sqlite3_db_config(handle(), SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    // recursive_triggers: without it INSERT OR REPLACE deletes rows past the triggers that forbid deleting.
    // secure_delete: who is erased leaves no bytes in pages that are free.
    // cache_size: up to 32 MiB of pages; with the usual 2 a long record is read from the file three times
    // over.
    run("PRAGMA foreign_keys=ON; PRAGMA synchronous=EXTRA; PRAGMA recursive_triggers=ON; "
        "PRAGMA secure_delete=ON; PRAGMA cache_size=-32768");
}

void Database::run(const std::string& sql) {
    const Alone only = alone();
    if (sqlite3_exec(handle(), sql.c_str(), nullptr, nullptr, nullptr) != SQLITE_OK) fail("writing");
}

std::int64_t Database::integer(const std::string& sql) {
    Statement statement(*this, sql);
    SIPLADDER_EXPECT(statement.step());
    return statement.integer(0);
}

std::string Database::text(const std::string& sql) {
    Statement statement(*this, sql);
    SIPLADDER_EXPECT(statement.step());
    return statement.text(0);
}

bool Database::is_writable() const {
    return sqlite3_db_readonly(handle(), "main") == 0;
}

void Database::fail(const std::string& doing) const {
    if (!handle_) throw Failed(shown(file_) + ": " + doing + ": out of memory");
    fail_with(file_, sqlite3_extended_errcode(handle()), sqlite3_errmsg(handle()), doing);
}

Statement::Statement(const Database& database, std::string_view sql)
    : database_(database),
      alone_(database.alone()),
      statement_(database.prepared(sql), GiveBack{&database}) {}

Statement& Statement::bind(std::string_view text) {
    // The statement never outlives the call that made it, but the view may, so SQLite takes a copy
    // (SQLITE_TRANSIENT is an old-style cast of -1 to a function; the 64-bit call takes it as a destructor
    // constant).
    const auto copy = std::bit_cast<sqlite3_destructor_type>(std::intptr_t{-1});
    if (sqlite3_bind_text64(statement_.get(), ++bound_, text.data(), text.size(), copy, SQLITE_UTF8) !=
        SQLITE_OK)
        database_.fail("writing");
    return *this;
}

Statement& Statement::bind(std::int64_t number) {
    if (sqlite3_bind_int64(statement_.get(), ++bound_, number) != SQLITE_OK) database_.fail("writing");
    return *this;
}

bool Statement::step() {
    const int code = sqlite3_step(statement_.get());
    if (code == SQLITE_ROW) return true;
    if (code == SQLITE_DONE) return false;
    database_.fail(sqlite3_stmt_readonly(statement_.get()) != 0 ? "reading" : "writing");
}

std::string Statement::text(int column) const {
    const unsigned char* characters = sqlite3_column_text(statement_.get(), column);
    const auto length = static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column));
    return characters == nullptr ? std::string()
                                 : std::string(reinterpret_cast<const char*>(characters), length);
}

std::int64_t Statement::integer(int column) const {
    return sqlite3_column_int64(statement_.get(), column);
}
bool Statement::is_null(int column) const {
    return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
}

Transaction::Transaction(Database& database) : database_(database), alone_(database.alone()) {
    database_.run("BEGIN IMMEDIATE");
}

Transaction::~Transaction() {
    // SQLite rolls back by itself after some errors; then there is nothing left to do.
    if (is_open_ && sqlite3_get_autocommit(database_.handle()) == 0)
        sqlite3_exec(database_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::commit() {
    database_.run("COMMIT");
    is_open_ = false;
}

}  // namespace sipladder::journal
