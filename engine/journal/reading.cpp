// One select serves every kind of row: its line in `row` for the instant, its latest strike if any, its own
// columns.

#include "engine/journal/reading.hpp"

namespace sipladder::journal {

namespace {

constexpr int own_columns_from = 9;

Statement select(const Database& database, std::string_view table, std::string_view columns,
                 const Where& where) {
    std::string sql =
        "SELECT t.id, own.at_utc_ms, own.at_offset_min, own.at_monotonic_ms, "
        "coalesce(s.strikes, 0), s.reason, struck.at_utc_ms, struck.at_offset_min, struck.at_monotonic_ms, ";
    sql += std::string(columns) + " FROM " + std::string(table) +
           " t JOIN row own ON own.id = t.id "
           "LEFT JOIN strike s ON s.id = (SELECT k.id FROM strike k JOIN row n ON n.id = k.id "
           "WHERE k.target = t.id ORDER BY n.number DESC LIMIT 1) "
           "LEFT JOIN row struck ON struck.id = s.id WHERE ";
    sql += std::string(where.condition) + " ORDER BY " + std::string(where.order);
    Statement statement(database, sql);
    statement.bind(where.value);
    return statement;
}

Instant instant_at(const Statement& row, int column) {
    return Instant{row.integer(column), static_cast<int>(row.integer(column + 1)), row.integer(column + 2)};
}

std::optional<Struck> struck_of(const Statement& row) {
    if (row.integer(4) == 0) return std::nullopt;
    return Struck{row.text(5), instant_at(row, 6)};
}

template <class Row, class Make>
std::vector<Row> rows_of(Statement statement, Make make) {
    std::vector<Row> rows;
    while (statement.step())
        rows.push_back(make(statement, Uuid{statement.text(0)}, instant_at(statement, 1)));
    return rows;
}

std::optional<Strike> first_strike(Statement statement) {
    if (!statement.step()) return std::nullopt;
    return Strike{Uuid{statement.text(0)}, statement.integer(1) != 0, statement.text(2),
                  instant_at(statement, 3)};
}

constexpr std::string_view strike_select =
    "SELECT s.target, s.strikes, s.reason, own.at_utc_ms, own.at_offset_min, own.at_monotonic_ms "
    "FROM strike s JOIN row own ON own.id = s.id WHERE ";

}  // namespace

std::vector<Person> read_people(const Database& database, const Where& where) {
    return rows_of<Person>(select(database, "person", "t.name, t.invented", where), [](const Statement& row,
                                                                                       Uuid id, Instant at) {
        return Person{std::move(id), row.text(own_columns_from), row.integer(own_columns_from + 1) != 0, at};
    });
}

std::vector<Fact> read_facts(const Database& database, const Where& where) {
    return rows_of<Fact>(select(database, "fact", "t.person, t.kind, t.body", where),
                         [](const Statement& row, Uuid id, Instant at) {
                             return Fact{std::move(id),
                                         Uuid{row.text(own_columns_from)},
                                         row.text(own_columns_from + 1),
                                         at,
                                         row.text(own_columns_from + 2),
                                         struck_of(row)};
                         });
}

std::vector<Sitting> read_sittings(const Database& database, const Where& where) {
    return rows_of<Sitting>(select(database, "sitting", "t.person, t.body", where),
                            [](const Statement& row, Uuid id, Instant at) {
                                return Sitting{std::move(id), Uuid{row.text(own_columns_from)}, at,
                                               row.text(own_columns_from + 1), struck_of(row)};
                            });
}

std::vector<Drill> read_drills(const Database& database, const Where& where) {
    return rows_of<Drill>(select(database, "drill", "t.sitting, t.kind, t.body", where),
                          [](const Statement& row, Uuid id, Instant at) {
                              return Drill{std::move(id),
                                           Uuid{row.text(own_columns_from)},
                                           row.text(own_columns_from + 1),
                                           at,
                                           row.text(own_columns_from + 2),
                                           struck_of(row)};
                          });
}

std::vector<Entry> read_entries(const Database& database, const Where& where) {
    return rows_of<Entry>(select(database, "entry", "t.drill, t.number, t.kind, t.body", where),
                          [](const Statement& row, Uuid id, Instant at) {
                              return Entry{std::move(id),
                                           Uuid{row.text(own_columns_from)},
                                           static_cast<int>(row.integer(own_columns_from + 1)),
                                           row.text(own_columns_from + 2),
                                           at,
                                           row.text(own_columns_from + 3),
                                           struck_of(row)};
                          });
}

std::optional<std::string> kind_of(const Database& database, const Uuid& id) {
    Statement statement(database, "SELECT kind FROM row WHERE id = ?");
    statement.bind(id.text);
    if (!statement.step()) return std::nullopt;
    return statement.text(0);
}

std::optional<Strike> read_strike(const Database& database, const Uuid& id) {
    Statement statement(database, std::string(strike_select) + "s.id = ?");
    statement.bind(id.text);
    return first_strike(std::move(statement));
}

std::optional<Strike> last_strike_of(const Database& database, const Uuid& target) {
    Statement statement(database,
                        std::string(strike_select) + "s.target = ? ORDER BY own.number DESC LIMIT 1");
    statement.bind(target.text);
    return first_strike(std::move(statement));
}

}  // namespace sipladder::journal
