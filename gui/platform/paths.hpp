#pragma once

#include <filesystem>
#include <optional>
#include <string>

/// Where things lie on this machine (XDG Base Directory Specification 0.8).
namespace sipladder::gui {

/// SIPLADDER_JOURNAL, else $XDG_DATA_HOME/sipladder/palate.sipladder, else the same under ~/.local/share. The
/// folder is made where it is missing.
/// @throws Failed when the folder cannot be made
std::filesystem::path journal_file(const std::optional<std::string>& asked);
/// What was asked for, else SIPLADDER_CONTENT, the source tree of a development build, the install prefix.
/// @throws Refused naming the folders that were tried when none holds content
std::filesystem::path content_folder(const std::optional<std::string>& asked);
/// Where sheets are printed to: a folder "sheets" beside the journal; for a journal in memory, one in the
/// temporary folder.
std::filesystem::path sheets_folder(const std::filesystem::path& journal);
/// Look and scale of the window: $XDG_CONFIG_HOME/sipladder/window.
std::filesystem::path settings_file();

}  // namespace sipladder::gui
