#pragma once

#include "drills/palate.hpp"
#include "drills/sheets/paper.hpp"
#include "engine/instant.hpp"

#include <filesystem>
#include <span>
#include <string>
#include <vector>

/// What one person's drills tell, on paper: the six questions of the palate, one after the other.
namespace sipladder::drills::sheets {

struct PersonalInfo {
    std::string for_whom;                ///< as the person is called; says so where it is invented
    Instant made;                        ///< the moment that the file states as its own
    std::vector<std::string> next = {};  ///< what to drill next
};

/// @param done  what the palate was made of
/// @checked     tests/sheets/personal_report_test.cpp: the same palate and moment give the same bytes
std::string personal_report_pdf(const Palate& palate, std::span<const Tasted> done, const PersonalInfo& info,
                                Paper paper);
/// @throws Failed  when the file cannot be written
void write_personal_report(const Palate& palate, std::span<const Tasted> done, const PersonalInfo& info,
                           Paper paper, const std::filesystem::path& path);

}  // namespace sipladder::drills::sheets
