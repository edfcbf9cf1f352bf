#pragma once

#include "engine/volume.hpp"

#include <filesystem>
#include <optional>
#include <string>

namespace sipladder::gui {

/// How the window looks, prints and shows volumes on this machine, and what a new form begins with; no part
/// of the journal.
struct Settings {
    bool dark = false;
    double scale = 1.0;
    bool us_letter = false;  ///< paper of what is printed; A4 otherwise
    VolumeUnit volume = VolumeUnit::mL;
    bool helper_pours = false;  ///< usually; alone otherwise
    double cup_mL = 10.0;       ///< usually
    std::string equipment;      ///< usually, an id; empty: the first there is

    bool operator==(const Settings&) const = default;
};

/// One setting a line, its name and value with a blank between. What is not known or cannot be read is passed
/// over, and the default holds; of two lines with one name the later counts.
/// @return nothing where there is no such file, or none that can be read
std::optional<Settings> load_settings(const std::filesystem::path& file);
/// Written beside and renamed. A failure is of no consequence for the work and is let pass. @return false
/// then
bool save_settings(const Settings& settings, const std::filesystem::path& file);

}  // namespace sipladder::gui
