#pragma once

#include "engine/journal/journal.hpp"

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

/// Copies of a journal: in memory, and one a day beside it, in `<file>-copies/`, for the day when the file
/// itself is damaged or gone.
namespace sipladder::journal {

/// The folder of a journal's daily copies; it need not be there.
std::filesystem::path copies_folder(const std::filesystem::path& file);

/// Copies the journal as it is at one moment, another program's writes included or not, and makes sure that
/// the copy opens as a journal of as many rows. Readable by its owner only; comes to be complete or not at
/// all.
/// @throws Refused  where `to` is there already, or where the copy would be a damaged one
/// @throws Failed   when it cannot be written
void back_up(const Journal& journal, const std::filesystem::path& to);

/// The same rows in memory; what is written to it goes no further.
/// @throws Failed  when there is no memory for it
Journal in_memory_copy(const Journal& journal);

/// What became of a day's copy.
struct DailyCopy {
    std::filesystem::path file;
    bool is_new = false;                        ///< false: the day had its copy
    std::vector<std::filesystem::path> pruned;  ///< older copies that went
};
/// One copy a local calendar day; a day's first is kept. Once it is made, older ones are pruned: the newest
/// `days_kept` stay, and of those before the newest of each month for `months_kept` months. Only files that
/// bear the name of a daily copy are ever deleted.
/// @throws as back_up
DailyCopy copy_daily(const Journal& journal, const Instant& now);
constexpr std::size_t days_kept = 7;     // judgement
constexpr std::size_t months_kept = 12;  // judgement

/// The daily copies of a journal, newest first, good or not.
std::vector<std::filesystem::path> daily_copies(const std::filesystem::path& file);
/// The newest daily copy in which `check` finds no problem.
std::optional<std::filesystem::path> newest_good_copy(const std::filesystem::path& file);

/// Where a file that cannot be opened went, and what stands in its place.
struct Restored {
    std::filesystem::path set_aside;            ///< empty where there was no file
    std::optional<std::filesystem::path> from;  ///< the copy; nothing where there was no good one
};
/// Sets a damaged journal aside under a name of its own, never deleting it, and puts the newest good daily
/// copy in its place. Where there is no good copy nothing is changed.
/// @throws Refused  where the journal opens as it is, or was written by a newer program
/// @throws Failed   when it cannot be done
Restored restore(const std::filesystem::path& file, const Instant& now);

/// Erases a person from the journal, and from its daily copies.
///
/// What cannot be reached, and so is told: copies kept elsewhere, exports, and blocks of the disk that held a
/// rollback journal or a pruned copy which has been deleted since; a disk's spare blocks are out of any
/// program's reach.
struct Erased {
    std::size_t rows{};                            ///< of the journal
    std::size_t copies{};                          ///< copies they were taken out of
    std::vector<std::filesystem::path> unreached;  ///< copies and files set aside that could not be opened
};
/// @throws Refused  for an unknown person
Erased erase_everywhere(Journal& journal, const Uuid& person);

}  // namespace sipladder::journal
