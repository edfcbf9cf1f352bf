// An append looks before it writes, inside the same transaction: what it finds cannot change until it
// commits.

#include "engine/journal/appending.hpp"

#include "engine/journal/reading.hpp"
#include "engine/problem.hpp"

namespace sipladder::journal {

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

Where by_id(const Uuid& id) {
    return {"t.id = ?", id.text};
}

std::vector<Person> read_one(const Database& database, const Person& row) {
    return read_people(database, by_id(row.id));
}
std::vector<Fact> read_one(const Database& database, const Fact& row) {
    return read_facts(database, by_id(row.id));
}
std::vector<Sitting> read_one(const Database& database, const Sitting& row) {
    return read_sittings(database, by_id(row.id));
}
std::vector<Drill> read_one(const Database& database, const Drill& row) {
    return read_drills(database, by_id(row.id));
}
std::vector<Entry> read_one(const Database& database, const Entry& row) {
    return read_entries(database, by_id(row.id));
}

template <class Row>
Known look_up(const Database& database, Row row) {
    if (!kind_of(database, row.id)) return Known::absent;
    const std::vector<Row> found = read_one(database, row);
    if constexpr (!std::is_same_v<Row, Person>)
        row.struck = found.empty() ? std::nullopt : found.front().struck;
    return !found.empty() && found.front() == row ? Known::same : Known::other;
}

/// True if the row is there already, just like this. @throws Refused if the id stands for something else.
template <class Row>
bool is_known(const Database& database, const Row& row, std::string_view kind) {
    if (!is_uuid(row.id.text))
        throw Refused("journal: id of a " + std::string(kind), "is \"" + row.id.text + "\"",
                      "a UUID in lower case is wanted");
    const Known known = look_up(database, row);
    if (known == Known::other)
        throw Refused("journal: " + std::string(kind) + " " + row.id.text,
                      "is there already with other content",
                      "rows never change: strike the old one out and write a new one with an id of its own");
    return known == Known::same;
}

void insert_strike_row(const Database& database, const Uuid& id, const Strike& strike) {
    insert_row(database, id, "strike", strike.at);
    Statement(database, "INSERT INTO strike (id, target, strikes, reason) VALUES (?, ?, ?, ?)")
        .bind(id.text)
        .bind(strike.target.text)
        .bind(std::int64_t{strike.strikes ? 1 : 0})
        .bind(strike.reason)
        .step();
}

}  // namespace

bool was_erased(const Database& database, const Uuid& person) {
    return Statement(database, "SELECT 1 FROM erased WHERE person = ?").bind(person.text).step();
}

std::int64_t next_number(const Database& database, const Uuid& drill) {
    Statement count(database, "SELECT count(*) FROM entry WHERE drill = ?");
    count.bind(drill.text).step();
    return count.integer(0);
}

Known known(const Database& database, const Person& row) {
    return look_up(database, row);
}
Known known(const Database& database, const Fact& row) {
    return look_up(database, row);
}
Known known(const Database& database, const Sitting& row) {
    return look_up(database, row);
}
Known known(const Database& database, const Drill& row) {
    return look_up(database, row);
}
Known known(const Database& database, const Entry& row) {
    return look_up(database, row);
}

void append_row(const Database& database, const Person& person) {
    if (is_known(database, person, "person")) return;
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
    if (is_known(database, fact, "fact")) return;
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
    if (is_known(database, sitting, "sitting")) return;
    require(database, sitting.person, "person");
    insert_row(database, sitting.id, "sitting", sitting.started);
    Statement(database, "INSERT INTO sitting (id, person, body) VALUES (?, ?, ?)")
        .bind(sitting.id.text)
        .bind(sitting.person.text)
        .bind(sitting.body)
        .step();
}

void append_row(const Database& database, const Drill& drill) {
    if (is_known(database, drill, "drill")) return;
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
    if (is_known(database, entry, "entry")) return;
    require(database, entry.drill, "drill");
    const std::int64_t next = next_number(database, entry.drill);
    if (entry.number != next)
        throw Refused("journal: entry " + entry.id.text,
                      "has number " + std::to_string(entry.number) + " in its drill",
                      "the next is " + std::to_string(next) +
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
    insert_strike_row(database, id, strike);
}

void insert_strike(const Database& database, const Uuid& id, const Strike& strike) {
    insert_strike_row(database, id, strike);
}

}  // namespace sipladder::journal
