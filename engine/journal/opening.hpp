#pragma once

#include "engine/journal/database.hpp"
#include "engine/journal/journal.hpp"
#include "engine/problem.hpp"

#include <filesystem>
#include <vector>

namespace sipladder::journal {

/// What keeps a file from being opened as a journal, found by reading only: from its header without SQLite
/// first (no journal, of another program, newer), then by a read-only connection (damage, another schema).
/// @throws Failed  when it cannot be read
std::vector<Problem> problems_on_opening(const std::filesystem::path& file,
                                         LookedOver looked = LookedOver::whole);

/// Makes a journal that only its owner can read. It comes to be complete or not at all: it is built under
/// another name in the same folder. Where another program was faster, that one's file stays.
/// @throws Failed  when it cannot be written
void make_file(const std::filesystem::path& file);

/// Whether there is anything of that name, a dangling link too.
/// @throws Failed  when its folder may not be looked into
bool is_there(const std::filesystem::path& file);

/// Whether the header says that a newer program wrote this file.
bool is_newer(const std::filesystem::path& file);

/// Makes sure that the entry of a file in its folder outlives a power cut.
void sync_folder_of(const std::filesystem::path& file);

/// How far is looked for damage: the schema alone, every page too, tables against their indexes too.
enum class Depth { schema, pages, indexes };
/// Damage that SQLite itself finds, one sentence each.
std::vector<Problem> damage(const std::filesystem::path& file, Access access, Depth depth);

}  // namespace sipladder::journal
