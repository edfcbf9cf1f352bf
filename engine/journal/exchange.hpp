#pragma once

#include "engine/journal/journal.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// What a journal holds, as a value and as a file that another journal takes in. Schema
/// "sipladder-exchange/1", a JSON object of three:
///
///     schema  "sipladder-exchange/1"
///     erased  ids of people who were erased and must not come back
///     rows    a list in order of arrival; each row says what it is ("row": person, fact, sitting, drill,
///     entry
///             or strike), its "id" (a UUID) and "at" {utc_ms, offset_min, monotonic_ms}, and beside that
///               person   name, invented
///               fact     person, kind, body
///               sitting  person, body
///               drill    sitting, kind, body
///               entry    drill, number, kind, body
///               strike   target, strikes (false: put back), reason
///
/// What a row belongs to stands before it. A body is the row's own text, to the letter.
namespace sipladder::journal {

/// A strike-out or put-back as it was written.
struct StrikeRow {
    Uuid id;
    Uuid target;
    bool strikes{};
    std::string reason;
    Instant at;

    bool operator==(const StrikeRow&) const = default;
};

using ExchangeRow = std::variant<Person, Fact, Sitting, Drill, Entry, StrikeRow>;

struct Exchange {
    std::vector<ExchangeRow> rows;  ///< in order of arrival; `struck` is empty: strikes are rows of their own
    std::vector<Uuid> erased;

    bool operator==(const Exchange&) const = default;
};

/// Everything, or everything of one person. A view of one moment, even while another program writes.
/// @throws Refused  for an unknown person
Exchange contents(const Journal& journal, const std::optional<Uuid>& person = std::nullopt);

/// Larger files are refused on reading; a journal that gives one is exported person by person.
constexpr std::size_t largest_exchange_bytes = 128u << 20;

/// One row a line. @throws Refused  naming the row whose text is not UTF-8, and over largest_exchange_bytes
std::string exchange_json(const Exchange& exchange);
/// @param file      the name that problems give
/// @throws Refused  with the problems found (the first hundred of them)
Exchange read_exchange_json(std::string_view text, const std::string& file);

/// What to do where one id, or one number in a drill, stands for two things.
enum class OnConflict {
    refuse,    ///< nothing is taken in
    keep_ours  ///< ours stays, and the rest is taken in
};

struct Merged {
    std::vector<ExchangeRow> added;
    std::size_t known{};             ///< rows that were here already
    std::vector<Problem> conflicts;  ///< keep_ours: what was left out, the first hundred of them
    std::size_t left_out{};          ///< rows of conflicts and what hangs on them
    std::size_t of_erased{};         ///< rows left out because their person was erased here
    std::vector<Uuid> erased_there;  ///< people of this journal who were erased in the other one
};

/// Union by id, in one transaction: all of it is on disk when this returns, none of it when anything throws.
/// A second time changes nothing.
///
/// Who was erased here stays out; who was erased there and is not here is noted, and refused from now on; who
/// was erased there and is here stays until they are erased here too.
/// @param accept    looks at the journal as it would become, and throws to prevent that
/// @throws Refused  with every conflict, or when a row lacks what it belongs to
Merged merge(Journal& journal, const Exchange& exchange, OnConflict on_conflict,
             const std::function<void(const Merged&)>& accept = {});

}  // namespace sipladder::journal
