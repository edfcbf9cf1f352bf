#pragma once

#include "engine/instant.hpp"
#include "engine/problem.hpp"
#include "engine/uuid.hpp"

#include <cstddef>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::journal {

/// A strike-out is a row that names its target; so is a put-back. The target's own row never changes.
struct Struck {
    std::string reason;
    Instant at;

    bool operator==(const Struck&) const = default;
};

struct Person {
    Uuid id;
    std::string name;
    bool invented = false;  ///< demo people; every screen that shows one says so
    Instant created;

    bool operator==(const Person&) const = default;
};

/// Something a person made or agreed to, kept whole: a mix (plan and readings), cautions read, a note.
struct Fact {
    Uuid id;
    Uuid person;
    std::string kind;  ///< "mix", "cautions_read", "note"
    Instant at;
    std::string body;  ///< JSON, made and read by drills/record
    std::optional<Struck> struck;

    bool operator==(const Fact&) const = default;
};

struct Sitting {
    Uuid id;
    Uuid person;
    Instant started;
    std::string body;  ///< JSON: temperature, spoilers, blinding
    std::optional<Struck> struck;

    bool operator==(const Sitting&) const = default;
};

struct Drill {
    Uuid id;
    Uuid sitting;
    std::string kind;  ///< "detection"
    Instant started;
    std::string body;  ///< JSON: the closed plan and the seed
    std::optional<Struck> struck;

    bool operator==(const Drill&) const = default;
};

/// One row of a drill: an answer locked, a key revealed, a rest cut short, the end. Numbered from 0 within
/// its drill.
struct Entry {
    Uuid id;
    Uuid drill;
    int number{};
    std::string kind;  ///< "lock", "reveal", "rest_cut", "finished", "stopped"
    Instant at;
    std::string body;
    std::optional<Struck> struck;

    bool operator==(const Entry&) const = default;
};

/// A drill without its body, and how far its rows go: for who reads bodies only where they are needed.
struct DrillLine {
    Uuid id;
    Uuid sitting;
    std::string kind;
    Instant started;
    std::optional<Struck> struck;
    bool sitting_is_struck = false;
    int entries{};           ///< how many
    std::string last_kind;   ///< of the last of them; empty: there is none
    Instant last;            ///< moment of the last of them, else of the start
    bool is_mended = false;  ///< an entry was struck out once, put back since or not
};

/// A fact without its body.
struct FactLine {
    Uuid id;
    std::string kind;
    Instant at;
    std::optional<Struck> struck;
};

/// How far a file is looked over before it is opened. `in_short` leaves out the pages of a large file, which
/// take a second to read: for who has them looked over beside, as the window does while it makes the day's
/// copy.
enum class LookedOver { whole, in_short };

/// The permanent record: one SQLite file. Append, strike out, read; nothing is ever changed, but a person may
/// be erased on request. A call that returns has its rows on disk. Knows nothing of drills: bodies are text
/// to it.
///
/// Other threads may read while one writes: they see what was written before or after a transaction, never a
/// part of it.
class Journal {
  public:
    /// Opens, or makes where there is none. The version is read read-only before anything else.
    /// @throws Refused for a newer schema, a damaged file or a file that is no journal; the file stays
    /// untouched
    /// @throws Failed  when it cannot be read or written (locked, full, no permission)
    static Journal open(const std::filesystem::path& file, LookedOver looked = LookedOver::whole);
    /// Refused when there is none.
    static Journal open_existing(const std::filesystem::path& file, LookedOver looked = LookedOver::whole);
    static Journal in_memory();  ///< gone with the value; for a look around and for tests

    Journal(Journal&&) noexcept;
    Journal& operator=(Journal&&) noexcept;
    ~Journal();

    /// Each is one transaction; an id that exists with another body is Refused, with the same body it is a
    /// no-op. What a row belongs to (person, sitting, drill) must be there. `struck` is not written: see
    /// strike_out.
    void append(const Person& person);
    void append(const Fact& fact);
    void append(const Sitting& sitting);
    void append(const Drill& drill);
    void append(const Entry& entry);  ///< @throws Refused unless `number` is the next of its drill
    /// Facts, sittings, drills and entries can be struck out. @throws Refused for an unknown target, an empty
    /// reason, or a target that is struck out already (put_back: that is not)
    void strike_out(const Uuid& row, const Uuid& target, const std::string& reason, const Instant& at);
    void put_back(const Uuid& row, const Uuid& target, const std::string& reason, const Instant& at);
    /// Takes a person and everything of theirs out of this file for good, the one exception to "append only":
    /// the rows are deleted and their bytes overwritten. The id alone stays, and `append` refuses it.
    /// @return how many rows went
    /// @throws Refused  for an unknown person
    std::size_t erase(const Uuid& person);
    /// Ids of people who were erased, in no order.
    std::vector<Uuid> erased() const;
    /// Runs `appends` as one transaction: all of it is on disk when this returns, none of it when anything
    /// throws.
    void together(const std::function<void()>& appends);

    std::vector<Person> people() const;                 ///< in order of arrival
    std::vector<Fact> facts(const Uuid& person) const;  ///< oldest first
    /// Of these kinds alone: a long record has thousands of mixes, whose bodies take long to read.
    /// @pre at least one kind
    std::vector<Fact> facts(const Uuid& person, const std::vector<std::string>& kinds) const;
    std::vector<Fact> facts_of_kind(const std::string& kind) const;  ///< of all people, oldest first
    std::vector<Sitting> sittings(const Uuid& person) const;         ///< oldest first
    std::vector<Drill> drills(const Uuid& sitting) const;            ///< oldest first
    std::vector<Entry> entries(const Uuid& drill) const;             ///< by number
    /// Of all the person's sittings: oldest sitting first, in it oldest drill first.
    std::vector<DrillLine> drill_lines(const Uuid& person) const;
    std::vector<FactLine> fact_lines(const Uuid& person) const;  ///< oldest first
    std::optional<Drill> drill(const Uuid& id) const;
    std::optional<Fact> fact(const Uuid& id) const;

    const std::filesystem::path& file() const;
    std::optional<Instant> last_write() const;  ///< the instant of the row that arrived last
    std::optional<Instant> newest() const;      ///< the newest instant of all; looks at every row
    std::size_t rows() const;                   ///< of every kind, strikes included

  private:
    friend struct Inside;
    struct Connection;
    explicit Journal(std::unique_ptr<Connection> connection);
    std::unique_ptr<Connection> connection_;
};

/// What `journal check` reports: integrity, schema, dangling rows, numbering. Reads only; what makes `open`
/// refuse a file is a problem here. Bodies are text to it and are not looked into.
/// @throws Failed  when the file cannot be read (permission, locked)
struct Checked {
    std::size_t rows{};
    std::vector<Problem> problems;
};
Checked check(const std::filesystem::path& file);

}  // namespace sipladder::journal
