// Looks for what `open` is too quick to look for: indexes against tables, dangling references, gaps in
// numbering, lines of `row` without their row.

#include "engine/journal/database.hpp"
#include "engine/journal/journal.hpp"
#include "engine/journal/opening.hpp"

#include <string>

namespace sipladder::journal {

namespace {

const std::string keep = "keep this file, and go on from a copy of it";

void note_dangling(Database& database, std::vector<Problem>& problems) {
    Statement dangling(database, "PRAGMA foreign_key_check");
    while (dangling.step())
        problems.push_back(
            {database.file().string(),
             "a row of " + dangling.text(0) + " names a row of " + dangling.text(2) + " that is not there",
             keep});
    Statement bare(
        database,
        "SELECT kind, id FROM row WHERE id NOT IN (SELECT id FROM person UNION ALL SELECT id FROM fact UNION "
        "ALL SELECT id FROM sitting UNION ALL SELECT id FROM drill UNION ALL SELECT id FROM entry UNION ALL "
        "SELECT id FROM strike)");
    while (bare.step())
        problems.push_back(
            {database.file().string(), "the " + bare.text(0) + " " + bare.text(1) + " has no content", keep});
}

void note_gaps(Database& database, std::vector<Problem>& problems) {
    Statement gaps(
        database,
        "SELECT drill, count(*), max(number) FROM entry GROUP BY drill HAVING max(number) + 1 <> count(*)");
    while (gaps.step())
        problems.push_back(
            {database.file().string(),
             "drill " + gaps.text(0) + " has " + gaps.text(1) + " entries, numbered up to " + gaps.text(2),
             "entries are numbered from 0 without a gap; " + keep});
}

}  // namespace

Checked check(const std::filesystem::path& file) {
    Checked checked;
    checked.problems = problems_on_opening(file);
    if (!checked.problems.empty()) return checked;
    checked.problems = damage(file, Access::read_only, Depth::indexes);
    if (!checked.problems.empty()) return checked;
    Database database(file, Access::read_only);
    note_dangling(database, checked.problems);
    note_gaps(database, checked.problems);
    checked.rows = static_cast<std::size_t>(database.integer("SELECT count(*) FROM row"));
    return checked;
}

}  // namespace sipladder::journal
