#pragma once

#include "drills/classroom/ballots.hpp"
#include "drills/classroom/class_file.hpp"
#include "drills/sheets/paper.hpp"
#include "engine/instant.hpp"
#include "engine/volume.hpp"

#include <filesystem>
#include <string>
#include <vector>

/// All that a class gets on paper, before and after.
namespace sipladder::drills::sheets {

struct ClassPaper {
    std::string name;  ///< of the file
    std::string bytes;
    std::string what;  ///< a few words
};

/// Into a folder, which is made where it is not there; each file is there whole or not at all.
/// @throws Refused where the folder cannot be made; Failed where a file cannot be written
void write_papers(const std::vector<ClassPaper>& papers, const std::filesystem::path& folder);

/// Ballots, key, pour list, tray maps and cup labels; where something is mixed, bench sheet and bottle labels
/// too.
/// @param made  stands on every sheet; the same moment gives the same bytes
std::vector<ClassPaper> class_sheets(const classroom::PreparedClass& planned,
                                     const classroom::Service& service, const Instant& made, Paper paper,
                                     VolumeUnit volume = VolumeUnit::mL);

/// The class report and a page for each person. For the wall, the report names nobody, and each page tells
/// its person's own name on it.
std::vector<ClassPaper> class_reports(const classroom::PreparedClass& planned,
                                      const classroom::Service& service, const classroom::Ballots& ballots,
                                      const content::Content& content, const Instant& made, Paper paper,
                                      bool for_the_wall);

}  // namespace sipladder::drills::sheets
