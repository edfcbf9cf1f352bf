#pragma once

#include "engine/journal/database.hpp"
#include "engine/journal/journal.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace sipladder::journal {

/// Which rows: `condition` is SQL over `t` (the row's table) and `own` (its line in `row`), with one ? for
/// `value` and one for each of `more_values`.
struct Where {
    std::string_view condition = "? = ''";
    std::string value;
    std::string_view order = "own.number";
    std::string_view joined = {};  ///< more tables
    std::vector<std::string> more_values = {};
};

std::vector<Person> read_people(const Database& database, const Where& where = {});
std::vector<Fact> read_facts(const Database& database, const Where& where);
std::vector<Sitting> read_sittings(const Database& database, const Where& where);
std::vector<Drill> read_drills(const Database& database, const Where& where);
std::vector<Entry> read_entries(const Database& database, const Where& where);
std::vector<DrillLine> read_drill_lines(const Database& database, const Uuid& person);
std::vector<FactLine> read_fact_lines(const Database& database, const Uuid& person);

/// Kind of the row with this id; nothing if there is none.
std::optional<std::string> kind_of(const Database& database, const Uuid& id);
/// One strike-out or put-back as it was written.
struct Strike {
    Uuid target;
    bool strikes{};
    std::string reason;
    Instant at;

    bool operator==(const Strike&) const = default;
};
std::optional<Strike> read_strike(const Database& database, const Uuid& id);
/// The latest strike-out or put-back of a target.
std::optional<Strike> last_strike_of(const Database& database, const Uuid& target);

}  // namespace sipladder::journal
