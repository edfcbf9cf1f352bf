// An append looks before it writes, inside the same transaction: what it finds cannot change until it
// commits.

#include "engine/journal/journal.hpp"

#include "engine/journal/database.hpp"
#include "engine/journal/migrations.hpp"
#include "engine/journal/opening.hpp"
#include "engine/journal/reading.hpp"
#include "engine/journal/schema.hpp"

#include <utility>

namespace sipladder::journal {

struct Journal::Connection {
    Database database;
    bool is_together = false;  ///< appends share the transaction of `together`
};

namespace {

void insert_row(const Database& database, const Uuid& id, std::string_view kind, const Instant& at) {
    Statement(database,
              "INSERT INTO row (id, kind, at_utc_ms, at_offset_min, at_monotonic_ms) VALUES (?, ?, ?, ?, ?)")
        .bind(id.text)
        .bind(kind)
        .bind(at.utc_ms)
        .bind(std::int64_t{at.offset_min})
        .bind(at.monotonic_ms)
        .step();
}

/// @throws Refused unless `id` is of the kind that the new row belongs to.
void require(const Database& database, const Uuid& id, const std::string& kind) {
    if (kind_of(database, id) != kind)
        throw Refused("journal: " + kind + " " + id.text, "is not in this journal",
                      "write the " + kind + " first");
}

/// True if the row is there already, just like this. @throws Refused if the id stands for something else.
template <class Row>
bool is_known(const Database& database, Row row, std::string_view kind, const std::vector<Row>& found) {
    if (!is_uuid(row.id.text))
        throw Refused("journal: id of a " + std::string(kind), "is \"" + row.id.text + "\"",
                      "a UUID in lower case is wanted");
    if (!kind_of(database, row.id)) return false;
    if constexpr (!std::is_same_v<Row, Person>)
        row.struck = found.empty() ? std::nullopt : found.front().struck;
    if (!found.empty() && found.front() == row) return true;
    throw Refused("journal: " + std::string(kind) + " " + row.id.text, "is there already with other content",
                  "rows never change: strike the old one out and write a new one with an id of its own");
}

Where by_id(const Uuid& id) {
    return {"t.id = ?", id.text};
}

bool was_erased(const Database& database, const Uuid& person) {
    return Statement(database, "SELECT 1 FROM erased WHERE person = ?").bind(person.text).step();
}

void append_row(const Database& database, const Person& person) {
    if (is_known(database, person, "person", read_people(database, by_id(person.id)))) return;
    if (was_erased(database, person.id))
        throw Refused("journal: person " + person.id.text, "was erased from this journal on request",
                      "leave them out; if they want to come back, add them as a new person");
    insert_row(database, person.id, "person", person.created);
    Statement(database, "INSERT INTO person (id, name, invented) VALUES (?, ?, ?)")
        .bind(person.id.text)
        .bind(person.name)
        .bind(std::int64_t{person.invented ? 1 : 0})
        .step();
}

void append_row(const Database& database, const Fact& fact) {
    if (is_known(database, fact, "fact", read_facts(database, by_id(fact.id)))) return;
    require(database, fact.person, "person");
    insert_row(database, fact.id, "fact", fact.at);
    Statement(database, "INSERT INTO fact (id, person, kind, body) VALUES (?, ?, ?, ?)")
        .bind(fact.id.text)
        .bind(fact.person.text)
        .bind(fact.kind)
        .bind(fact.body)
        .step();
}

void append_row(const Database& database, const Sitting& sitting) {
    if (is_known(database, sitting, "sitting", read_sittings(database, by_id(sitting.id)))) return;
    require(database, sitting.person, "person");
    insert_row(database, sitting.id, "sitting", sitting.started);
    Statement(database, "INSERT INTO sitting (id, person, body) VALUES (?, ?, ?)")
        .bind(sitting.id.text)
        .bind(sitting.person.text)
        .bind(sitting.body)
        .step();
}

void append_row(const Database& database, const Drill& drill) {
    if (is_known(database, drill, "drill", read_drills(database, by_id(drill.id)))) return;
    require(database, drill.sitting, "sitting");
    insert_row(database, drill.id, "drill", drill.started);
    Statement(database, "INSERT INTO drill (id, sitting, kind, body) VALUES (?, ?, ?, ?)")
        .bind(drill.id.text)
        .bind(drill.sitting.text)
        .bind(drill.kind)
        .bind(drill.body)
        .step();
}

void append_row(const Database& database, const Entry& entry) {
    if (is_known(database, entry, "entry", read_entries(database, by_id(entry.id)))) return;
    require(database, entry.drill, "drill");
    Statement count(database, "SELECT count(*) FROM entry WHERE drill = ?");
    count.bind(entry.drill.text).step();
    if (entry.number != count.integer(0))
        throw Refused("journal: entry " + entry.id.text,
                      "has number " + std::to_string(entry.number) + " in its drill",
                      "the next is " + std::to_string(count.integer(0)) +
                          "; if another window writes to this drill, go on there or reopen the drill here");
    insert_row(database, entry.id, "entry", entry.at);
    Statement(database, "INSERT INTO entry (id, drill, number, kind, body) VALUES (?, ?, ?, ?, ?)")
        .bind(entry.id.text)
        .bind(entry.drill.text)
        .bind(std::int64_t{entry.number})
        .bind(entry.kind)
        .bind(entry.body)
        .step();
}

void append_strike(const Database& database, const Uuid& id, const Strike& strike) {
    const std::string verb = strike.strikes ? "strike out" : "put back";
    const std::string where = "journal: " + verb + " " + strike.target.text;
    if (!is_uuid(id.text))
        throw Refused(where, "has the id \"" + id.text + "\"", "a UUID in lower case is wanted");
    if (kind_of(database, id)) {
        if (read_strike(database, id) == strike) return;
        throw Refused(where, "has the id of another row", "every row has an id of its own");
    }
    if (strike.reason.empty()) throw Refused(where, "has no reason", "say in a few words why");
    const auto kind = kind_of(database, strike.target);
    if (!kind || kind == "person" || kind == "strike")
        throw Refused(where, kind ? "is a " + *kind : "is not in this journal",
                      "a fact, sitting, drill or entry can be struck out and put back");
    const auto last = last_strike_of(database, strike.target);
    const bool is_struck = last && last->strikes;
    if (is_struck == strike.strikes)
        throw Refused(where, is_struck ? "is struck out already" : "is not struck out",
                      "nothing needs to be done");
    insert_row(database, id, "strike", strike.at);
    Statement(database, "INSERT INTO strike (id, target, strikes, reason) VALUES (?, ?, ?, ?)")
        .bind(id.text)
        .bind(strike.target.text)
        .bind(std::int64_t{strike.strikes ? 1 : 0})
        .bind(strike.reason)
        .step();
}

/// Deletes what hangs on a person, leaves first; `row` is the table that every other refers to.
void delete_rows_of(Database& database, const Uuid& person) {
    database.run("CREATE TEMP TABLE going (id TEXT PRIMARY KEY)");
    constexpr std::string_view drills = "drill d JOIN sitting s ON d.sitting = s.id WHERE s.person = ?";
    const std::string entries = std::string("SELECT e.id FROM entry e JOIN drill d ON e.drill = d.id ")
                                    .append("JOIN sitting s ON d.sitting = s.id WHERE s.person = ?");
    for (const std::string& ids : {std::string("SELECT id FROM person WHERE id = ?"),
                                   std::string("SELECT id FROM fact WHERE person = ?"),
                                   std::string("SELECT id FROM sitting WHERE person = ?"),
                                   std::string("SELECT d.id FROM ").append(drills), entries})
        Statement(database, "INSERT INTO going " + ids).bind(person.text).step();
    database.run("INSERT INTO going SELECT id FROM strike WHERE target IN (SELECT id FROM going)");
    for (const std::string_view table : {"strike", "entry", "drill", "sitting", "fact", "person", "row"})
        database.run(std::string("DELETE FROM ").append(table).append(" WHERE id IN (SELECT id FROM going)"));
    database.run("DROP TABLE going");
}

template <class Write>
void write(Database& database, bool is_together, Write rows) {
    if (is_together) return rows();
    Transaction transaction(database);
    rows();
    transaction.commit();
}

}  // namespace

Journal::Journal(std::unique_ptr<Connection> connection) : connection_(std::move(connection)) {}
Journal::Journal(Journal&&) noexcept = default;
Journal& Journal::operator=(Journal&&) noexcept = default;
Journal::~Journal() = default;

Journal Journal::open(const std::filesystem::path& file) {
    if (!std::filesystem::exists(file)) make_file(file);
    return open_existing(file);
}

Journal Journal::open_existing(const std::filesystem::path& file) {
    if (auto problems = problems_on_opening(file); !problems.empty()) throw Refused(std::move(problems));
    auto connection = std::make_unique<Connection>(Connection{Database(file, Access::read_write)});
    Database& database = connection->database;
    if (!database.is_writable())
        throw Failed(file.string() + ": no permission to write; allow writing to it, or open a copy");
    if (database.integer("PRAGMA user_version") < current_version()) migrate(database, all_migrations());
    return Journal(std::move(connection));
}

Journal Journal::in_memory() {
    auto connection = std::make_unique<Connection>(Connection{Database::in_memory()});
    migrate(connection->database, all_migrations());
    return Journal(std::move(connection));
}

void Journal::append(const Person& person) {
    write(connection_->database, connection_->is_together,
          [&] { append_row(connection_->database, person); });
}
void Journal::append(const Fact& fact) {
    write(connection_->database, connection_->is_together, [&] { append_row(connection_->database, fact); });
}
void Journal::append(const Sitting& sitting) {
    write(connection_->database, connection_->is_together,
          [&] { append_row(connection_->database, sitting); });
}
void Journal::append(const Drill& drill) {
    write(connection_->database, connection_->is_together, [&] { append_row(connection_->database, drill); });
}
void Journal::append(const Entry& entry) {
    write(connection_->database, connection_->is_together, [&] { append_row(connection_->database, entry); });
}

void Journal::strike_out(const Uuid& row, const Uuid& target, const std::string& reason, const Instant& at) {
    write(connection_->database, connection_->is_together, [&] {
        append_strike(connection_->database, row, Strike{target, true, reason, at});
    });
}
void Journal::put_back(const Uuid& row, const Uuid& target, const std::string& reason, const Instant& at) {
    write(connection_->database, connection_->is_together, [&] {
        append_strike(connection_->database, row, Strike{target, false, reason, at});
    });
}

std::size_t Journal::erase(const Uuid& person) {
    SIPLADDER_EXPECT(!connection_->is_together);
    Database& database = connection_->database;
    Transaction transaction(database);
    if (kind_of(database, person) != "person")
        throw Refused("journal: person " + person.text, "is not in this journal",
                      "one of the people that `people` names");
    const std::size_t before = rows();
    without_guards(database, [&] { delete_rows_of(database, person); });
    Statement(database, "INSERT INTO erased (person) VALUES (?)").bind(person.text).step();
    const std::size_t gone = before - rows();
    transaction.commit();
    return gone;
}

std::vector<Uuid> Journal::erased() const {
    std::vector<Uuid> ids;
    Statement all(connection_->database, "SELECT person FROM erased");
    while (all.step()) ids.push_back(Uuid{all.text(0)});
    return ids;
}

void Journal::together(const std::function<void()>& appends) {
    SIPLADDER_EXPECT(!connection_->is_together);
    Transaction transaction(connection_->database);
    struct Flag {
        bool& is_on;
        explicit Flag(bool& flag) : is_on(flag) { is_on = true; }
        ~Flag() { is_on = false; }
    } const flag(connection_->is_together);
    appends();
    transaction.commit();
}

std::vector<Person> Journal::people() const {
    return read_people(connection_->database);
}
std::vector<Fact> Journal::facts(const Uuid& person) const {
    return read_facts(connection_->database, {"t.person = ?", person.text, "own.at_utc_ms, own.number"});
}
std::vector<Sitting> Journal::sittings(const Uuid& person) const {
    return read_sittings(connection_->database, {"t.person = ?", person.text, "own.at_utc_ms, own.number"});
}
std::vector<Drill> Journal::drills(const Uuid& sitting) const {
    return read_drills(connection_->database, {"t.sitting = ?", sitting.text, "own.at_utc_ms, own.number"});
}
std::vector<Entry> Journal::entries(const Uuid& drill) const {
    return read_entries(connection_->database, {"t.drill = ?", drill.text, "t.number"});
}

const std::filesystem::path& Journal::file() const {
    return connection_->database.file();
}

std::optional<Instant> Journal::last_write() const {
    Statement last(connection_->database,
                   "SELECT at_utc_ms, at_offset_min, at_monotonic_ms FROM row ORDER BY number DESC LIMIT 1");
    if (!last.step()) return std::nullopt;
    return Instant{last.integer(0), static_cast<int>(last.integer(1)), last.integer(2)};
}

std::size_t Journal::rows() const {
    return static_cast<std::size_t>(connection_->database.integer("SELECT count(*) FROM row"));
}

}  // namespace sipladder::journal
