#include "engine/journal/journal.hpp"

#include "engine/journal/appending.hpp"
#include "engine/journal/connection.hpp"
#include "engine/journal/database.hpp"
#include "engine/journal/migrations.hpp"
#include "engine/journal/opening.hpp"
#include "engine/journal/reading.hpp"
#include "engine/journal/schema.hpp"

#include <utility>

namespace sipladder::journal {

namespace {

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

/// The moment of the row that has most of this column.
std::optional<Instant> first_moment(const Database& database, const std::string& most_of) {
    Statement first(database, "SELECT at_utc_ms, at_offset_min, at_monotonic_ms FROM row ORDER BY " +
                                  most_of + " DESC LIMIT 1");
    if (!first.step()) return std::nullopt;
    return Instant{first.integer(0), static_cast<int>(first.integer(1)), first.integer(2)};
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

Journal Journal::open(const std::filesystem::path& file, LookedOver looked) {
    if (!is_there(file)) make_file(file);
    return open_existing(file, looked);
}

Journal Journal::open_existing(const std::filesystem::path& file, LookedOver looked) {
    if (auto problems = problems_on_opening(file, looked); !problems.empty())
        throw Refused(std::move(problems));
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
std::vector<Fact> Journal::facts(const Uuid& person, const std::vector<std::string>& kinds) const {
    SIPLADDER_EXPECT(!kinds.empty());
    std::string condition = "t.person = ? AND t.kind IN (?";
    for (std::size_t i = 1; i < kinds.size(); ++i) condition += ", ?";
    condition += ")";
    return read_facts(connection_->database, {.condition = condition,
                                              .value = person.text,
                                              .order = "own.at_utc_ms, own.number",
                                              .more_values = kinds});
}
std::vector<Fact> Journal::facts_of_kind(const std::string& kind) const {
    return read_facts(connection_->database, {"t.kind = ?", kind, "own.at_utc_ms, own.number"});
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

std::vector<DrillLine> Journal::drill_lines(const Uuid& person) const {
    return read_drill_lines(connection_->database, person);
}
std::vector<FactLine> Journal::fact_lines(const Uuid& person) const {
    return read_fact_lines(connection_->database, person);
}
std::optional<Drill> Journal::drill(const Uuid& id) const {
    std::vector<Drill> found = read_drills(connection_->database, {"t.id = ?", id.text, "own.number"});
    return found.empty() ? std::nullopt : std::optional(std::move(found.front()));
}
std::optional<Fact> Journal::fact(const Uuid& id) const {
    std::vector<Fact> found = read_facts(connection_->database, {"t.id = ?", id.text, "own.number"});
    return found.empty() ? std::nullopt : std::optional(std::move(found.front()));
}

const std::filesystem::path& Journal::file() const {
    return connection_->database.file();
}

std::optional<Instant> Journal::last_write() const {
    return first_moment(connection_->database, "number");
}

std::optional<Instant> Journal::newest() const {
    return first_moment(connection_->database, "at_utc_ms");
}

std::size_t Journal::rows() const {
    return static_cast<std::size_t>(connection_->database.integer("SELECT count(*) FROM row"));
}

}  // namespace sipladder::journal
