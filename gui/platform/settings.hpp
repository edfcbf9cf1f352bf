#pragma once

#include <filesystem>
#include <optional>

namespace sipladder::gui {

/// How the window looks and prints on this machine; no part of the journal.
struct Settings {
    bool dark = false;
    double scale = 1.0;
    bool us_letter = false;  ///< paper of what is printed; A4 otherwise

    bool operator==(const Settings&) const = default;
};

/// Nothing where there is no such file, or none that can be read: the defaults then hold.
std::optional<Settings> load_settings(const std::filesystem::path& file);
/// Written beside and renamed. A failure is of no consequence for the work and is let pass. @return false
/// then
bool save_settings(const Settings& settings, const std::filesystem::path& file);

}  // namespace sipladder::gui
