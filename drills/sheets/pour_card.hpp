#pragma once

#include "drills/drill.hpp"
#include "drills/sheets/paper.hpp"
#include "engine/instant.hpp"
#include "engine/volume.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace sipladder::drills::sheets {

struct CardInfo {
    std::string what;      ///< substance and base; the helper may know
    std::string for_whom;  ///< the assessor; may be empty
    Millilitres cup{10.0};
    Instant made;
    std::vector<std::string> cautions = {};  ///< in full, at the end
    VolumeUnit volume = VolumeUnit::mL;      ///< of the cups
};

/// The helper's card for a served drill: one row a letter, which bottle goes into which cup.
/// The assessor must not see it, and it says so. No row is split between pages.
std::string pour_card_pdf(const std::vector<CardRow>& rows, const CardInfo& info, Paper paper);
/// @throws Failed  when the file cannot be written; nothing is half-written
void write_pour_card(const std::vector<CardRow>& rows, const CardInfo& info, Paper paper,
                     const std::filesystem::path& path);

}  // namespace sipladder::drills::sheets
