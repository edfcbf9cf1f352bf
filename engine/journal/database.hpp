#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

/// SQLite behind three small classes, for this folder and its tests only.
namespace sipladder::journal {

enum class Access { read_only, read_write };

/// One connection. Every failure is a Failed that says what was tried, except damage, which is Refused.
///
/// Threads may share it: one statement at a time has it, or one transaction with all its statements, and who
/// comes meanwhile waits.
class Database {
  public:
    /// Opens what exists; never makes a file.
    Database(const std::filesystem::path& file, Access access);
    static Database in_memory();

    /// Runs statements that give no rows.
    void run(const std::string& sql);
    std::int64_t integer(const std::string& sql);
    std::string text(const std::string& sql);

    sqlite3* handle() const { return handle_.get(); }
    const std::filesystem::path& file() const { return file_; }
    bool is_writable() const;
    [[noreturn]] void fail(const std::string& doing) const;

  private:
    friend class Statement;
    friend class Transaction;
    using Alone = std::unique_lock<std::recursive_mutex>;
    struct Close {
        void operator()(sqlite3* handle) const;
    };
    struct Finalize {
        void operator()(sqlite3_stmt* statement) const;
    };
    Database() = default;
    void set_up();
    sqlite3_stmt* prepared(std::string_view sql) const;
    void give_back(sqlite3_stmt* statement) const;
    Alone alone() const { return Alone(*guard_); }

    std::unique_ptr<std::recursive_mutex> guard_ = std::make_unique<std::recursive_mutex>();
    std::filesystem::path file_;
    std::unique_ptr<sqlite3, Close> handle_;
    /// By their text, at rest: preparing one takes as long as running it.
    mutable std::map<std::string, std::unique_ptr<sqlite3_stmt, Finalize>, std::less<>> at_rest_;
};

/// One prepared statement; values are bound in order from 1. It goes back to its connection for the next one
/// of the same text.
class Statement {
  public:
    Statement(const Database& database, std::string_view sql);

    Statement& bind(std::string_view text);
    Statement& bind(std::int64_t number);
    /// True while there is a row to read.
    bool step();
    std::string text(int column) const;
    std::int64_t integer(int column) const;
    bool is_null(int column) const;

  private:
    struct GiveBack {
        const Database* database;
        void operator()(sqlite3_stmt* statement) const { database->give_back(statement); }
    };
    const Database& database_;
    Database::Alone alone_;  // before the statement: let go of after it was given back
    std::unique_ptr<sqlite3_stmt, GiveBack> statement_;
    int bound_ = 0;
};

/// Takes the write lock at once, so that what is read inside still holds when it is written; rolls back
/// unless committed.
class Transaction {
  public:
    explicit Transaction(Database& database);
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    void commit();

  private:
    Database& database_;
    Database::Alone alone_;
    bool is_open_ = true;
};

}  // namespace sipladder::journal
