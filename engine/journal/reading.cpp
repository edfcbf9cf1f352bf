// One select serves every kind of row: its line in `row` for the instant, its latest strike if any, its own
// columns.

#include "engine/journal/reading.hpp"

#include <map>
#include <set>
#include <utility>

namespace sipladder::journal {

namespace {

constexpr int own_columns_from = 9;

Statement select(const Database& database, std::string_view table, std::string_view columns,
                 const Where& where) {
    std::string sql =
        "SELECT t.id, own.at_utc_ms, own.at_offset_min, own.at_monotonic_ms, "
        "coalesce(s.strikes, 0), s.reason, struck.at_utc_ms, struck.at_offset_min, struck.at_monotonic_ms, ";
    sql +=
        std::string(columns) + " FROM " + std::string(table) +
        " t CROSS JOIN row own ON own.id = t.id "  // as written: not all of `row` for the sake of its order
        "LEFT JOIN strike s ON s.id = (SELECT k.id FROM strike k JOIN row n ON n.id = k.id "
        "WHERE k.target = t.id ORDER BY n.number DESC LIMIT 1) "
        "LEFT JOIN row struck ON struck.id = s.id " +
        std::string(where.joined) + "WHERE ";
    sql += std::string(where.condition) + " ORDER BY " + std::string(where.order);
    Statement statement(database, sql);
    statement.bind(where.value);
    for (const std::string& value : where.more_values) statement.bind(value);
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

/// Drills whose entries were struck out or put back.
std::set<Uuid> mended_drills(const Database& database) {
    std::set<Uuid> drills;
    Statement statement(database,
                        "SELECT DISTINCT e.drill FROM strike s CROSS JOIN entry e ON e.id = s.target");
    while (statement.step()) drills.insert(Uuid{statement.text(0)});
    return drills;
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

std::vector<DrillLine> read_drill_lines(const Database& database, const Uuid& person) {
    const std::set<Uuid> mended = mended_drills(database);
    std::map<Uuid, std::vector<DrillLine>> of_sitting;
    // An entry is found by drill and number, so that only the last one of each drill is touched.
    for (DrillLine& line : rows_of<DrillLine>(
             select(database, "drill",
                    "t.sitting, t.kind, e.number, e.kind, last.at_utc_ms, "
                    "last.at_offset_min, last.at_monotonic_ms",
                    {.condition = "t.sitting IN (SELECT id FROM sitting WHERE person = ?)",
                    .value = person.text,
                    .order = "own.at_utc_ms, own.number",
                    .joined = "LEFT JOIN entry e ON e.drill = t.id AND e.number = "
                              "(SELECT max(number) FROM entry WHERE drill = t.id) "
                              "LEFT JOIN row last ON last.id = e.id "}),
             [&](const Statement&row, Uuid id, Instant at) {
                 const bool has_entry = !row.is_null(own_columns_from + 2);
                 const bool is_mended = mended.contains(id);
                 return DrillLine{
                     .id = std::move(id),
                     .sitting = Uuid{row.text(own_columns_from)},
                     .kind = row.text(own_columns_from + 1),
                     .started = at,
                     .struck = struck_of(row),
                     .entries = has_entry ? static_cast<int>(row.integer(own_columns_from + 2)) + 1 : 0,
                     .last_kind = row.text(own_columns_from + 3),
                     .last = has_entry ? instant_at(row, own_columns_from + 4) : at,
                     .is_mended = is_mended};
             })) {
        std::vector<DrillLine>& lines = of_sitting[line.sitting];
        lines.push_back(std::move(line));
    }
    std::vector<DrillLine> all;
    for (const Sitting& sitting :
         read_sittings(database, {"t.person = ?", person.text, "own.at_utc_ms, own.number"}))
        for (DrillLine& line : of_sitting[sitting.id]) {
            line.sitting_is_struck = sitting.struck.has_value();
            all.push_back(std::move(line));
        }
    return all;
}

std::vector<FactLine> read_fact_lines(const Database& database, const Uuid& person) {
    return rows_of<FactLine>(
        select(database, "fact", "t.kind", {"t.person = ?", person.text, "own.at_utc_ms, own.number"}),
        [](const Statement& row, Uuid id, Instant at) {
            return FactLine{std::move(id), row.text(own_columns_from), at, struck_of(row)};
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
