// The header of an SQLite file is fixed (https://www.sqlite.org/fileformat2.html#the_database_header): 16
// bytes of magic, the user version at byte 60 and the application id at byte 68, both big-endian. Reading
// them as bytes means that a newer or foreign file meets no SQLite at all, not even one that would roll back
// its unfinished transaction.

#include "engine/journal/opening.hpp"

#include "engine/journal/draft.hpp"
#include "engine/journal/instant_range.hpp"
#include "engine/journal/migrations.hpp"
#include "engine/journal/schema.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <optional>
#include <string>
#include <string_view>

namespace sipladder::journal {

namespace {

constexpr std::size_t header_size = 100;
constexpr std::string_view magic("SQLite format 3\0", 16);
constexpr std::size_t page_size_at = 16;  // two bytes
constexpr std::size_t pages_at = 28;
constexpr std::size_t version_at = 60;
constexpr std::size_t application_at = 68;

constexpr std::uintmax_t large_bytes =
    16U << 20U;  // judgement: below it the pages are read in a tenth of a second

const std::string keep_and_copy = "keep this file, and go on from a copy of it";
const std::string another_name =
    "choose a journal, or a new file name to begin one; this file was left as it is";

std::int64_t big_endian(const std::string& bytes, std::size_t at) {
    std::uint32_t value = 0;
    for (std::size_t i = at; i < at + 4; ++i) value = value << 8 | static_cast<unsigned char>(bytes[i]);
    return value;
}

std::string first_bytes(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::string bytes(header_size, '\0');
    if (in) in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!in && !in.eof())
        throw Failed(file.string() + ": cannot be read (" + std::strerror(errno) +
                     "); look at its permissions");
    bytes.resize(static_cast<std::size_t>(in.gcount()));
    return bytes;
}

std::optional<Problem> problem_of_header(const std::filesystem::path& file) {
    const std::string where = file.string();
    if (!is_there(file)) return Problem{where, "is not there", "check the path, or begin a new journal"};
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error))
        return Problem{where, "is no file", "choose a journal file"};
    const std::string bytes = first_bytes(file);
    if (bytes.empty())
        return Problem{
            where, "is empty, which a journal never is",
            "if it was copied, copy it again; otherwise choose another name; this file was left as it is"};
    if (bytes.size() < header_size || std::string_view(bytes).substr(0, magic.size()) != magic)
        return Problem{where, "is no Sipladder journal", another_name};
    if (big_endian(bytes, application_at) != application_id)
        return Problem{where, "belongs to another program", another_name};
    const std::int64_t version = big_endian(bytes, version_at);
    if (version > current_version())
        return Problem{where,
                       "was written by a newer Sipladder (schema " + std::to_string(version) +
                           "; this one knows up to " + std::to_string(current_version()) + ")",
                       "open it with that newer program; this file was left as it is"};
    if (version < 1)
        return Problem{where, "is damaged (schema " + std::to_string(version) + ")", keep_and_copy};
    return std::nullopt;
}

/// A transaction that a killed program left half-done must be rolled back before anything can be read.
bool needs_rollback(const std::filesystem::path& file) {
    std::error_code error;
    // SQLite keeps it beside the file itself, not beside a link to it.
    const std::filesystem::path itself = std::filesystem::canonical(file, error);
    if (error) return false;
    const auto size = std::filesystem::file_size(itself.string() + "-journal", error);
    return !error && size > 0;
}

/// SQLite reads a page that is cut short as if zeros followed.
bool is_cut_off(const std::filesystem::path& file) {
    const std::string bytes = first_bytes(file);
    const std::int64_t stated = big_endian(bytes, page_size_at) >> 16;
    const std::int64_t page_size = stated == 1 ? 65536 : stated;
    std::error_code error;
    const auto size = std::filesystem::file_size(file, error);
    return error || static_cast<std::int64_t>(size) < big_endian(bytes, pages_at) * page_size;
}

/// Moments far beyond any calendar, as damage or a hostile hand leaves them; they would overflow one.
bool has_impossible_moments(Database& database) {
    const auto within = [](const std::string& column, std::int64_t from, std::int64_t to) {
        return column + " BETWEEN " + std::to_string(from) + " AND " + std::to_string(to);
    };
    return database.integer("SELECT EXISTS (SELECT 1 FROM row WHERE NOT (" +
                            within("at_utc_ms", earliest_utc_ms, latest_utc_ms) + " AND " +
                            within("at_offset_min", -most_offset_min, most_offset_min) + " AND " +
                            within("at_monotonic_ms", -most_monotonic_ms, most_monotonic_ms) + "))") != 0;
}

}  // namespace

void sync_folder_of(const std::filesystem::path& file) {
    const std::filesystem::path folder = std::filesystem::absolute(file).parent_path();
    const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0)
        return;  // a folder that may be written but not read: the entry is there, only not yet synced
    ::fsync(descriptor);
    ::close(descriptor);
}

bool is_there(const std::filesystem::path& file) {
    std::error_code error;
    const auto status = std::filesystem::symlink_status(file, error);
    if (status.type() == std::filesystem::file_type::none)
        throw Failed(file.string() + ": cannot be looked at (" + error.message() +
                     "); look at the permissions of its folder");
    return std::filesystem::exists(status);
}

bool is_newer(const std::filesystem::path& file) {
    const std::string bytes = first_bytes(file);
    return bytes.size() == header_size && big_endian(bytes, application_at) == application_id &&
           big_endian(bytes, version_at) > current_version();
}

std::vector<Problem> damage(const std::filesystem::path& file, Access access, Depth depth) {
    std::vector<Problem> problems;
    try {
        Database database(file, access);
        if (depth == Depth::schema) return schema_problems(database);
        const bool thorough = depth == Depth::indexes;
        Statement check(database, thorough ? "PRAGMA integrity_check" : "PRAGMA quick_check");
        while (check.step())
            if (check.text(0) != "ok")
                problems.push_back({file.string(), "is damaged (" + check.text(0) + ")", keep_and_copy});
        if (problems.empty()) problems = schema_problems(database);
        if (problems.empty() && has_impossible_moments(database))
            problems.push_back({file.string(), "is damaged (rows at moments that cannot be)", keep_and_copy});
    } catch (
        const Refused& refused) {  // damage that SQLite meets before it can check; a finding here, not an end
        problems.insert(problems.end(), refused.problems().begin(), refused.problems().end());
    }
    return problems;
}

std::vector<Problem> problems_on_opening(const std::filesystem::path& file, LookedOver looked) {
    if (const auto problem = problem_of_header(file)) return {*problem};
    if (needs_rollback(file)) return damage(file, Access::read_write, Depth::pages);
    if (is_cut_off(file)) return {{file.string(), "is damaged (its end is missing)", keep_and_copy}};
    std::error_code error;
    const bool is_large = std::filesystem::file_size(file, error) > large_bytes && !error;
    const bool in_short = looked == LookedOver::in_short && is_large;
    return damage(file, Access::read_only, in_short ? Depth::schema : Depth::pages);
}

void make_file(const std::filesystem::path& file) {
    Draft draft(file);
    {
        Database database(draft.name(), Access::read_write);
        migrate(database, all_migrations());
    }
    draft.keep_as(file);  // where another program was faster, its file is opened
}

}  // namespace sipladder::journal
