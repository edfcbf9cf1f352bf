#include "gui/platform/paths.hpp"

#include "engine/content/location.hpp"
#include "engine/problem.hpp"

#include <cstdlib>

namespace sipladder::gui {

namespace {

namespace fs = std::filesystem;

std::string environment(const char* name) {
    const char* value = std::getenv(name);
    return value == nullptr ? std::string{} : std::string{value};
}

/// A base directory of the XDG specification: the variable if it is an absolute path, else `below` the home
/// folder.
fs::path base_directory(const char* variable, const char* below) {
    const fs::path given{environment(variable)};
    if (given.is_absolute()) return given;
    const std::string home = environment("HOME");
    return (home.empty() ? fs::temp_directory_path() : fs::path{home}) / below;
}

}  // namespace

fs::path journal_file(const std::optional<std::string>& asked) {
    fs::path file{asked.value_or(environment("SIPLADDER_JOURNAL"))};
    if (file.empty())
        file = base_directory("XDG_DATA_HOME", ".local/share") / "sipladder" / "palate.sipladder";
    file = fs::absolute(file);
    std::error_code error;
    fs::create_directories(file.parent_path(), error);
    if (error) throw Failed("cannot make the folder " + file.parent_path().string() + ": " + error.message());
    return file;
}

fs::path content_folder(const std::optional<std::string>& asked) {
    return content::locate(asked.value_or(environment("SIPLADDER_CONTENT")));
}

fs::path sheets_folder(const fs::path& journal) {
    const bool on_disk = journal.has_parent_path();
    return (on_disk ? journal.parent_path() : fs::temp_directory_path() / "sipladder") / "sheets";
}

fs::path settings_file() {
    return base_directory("XDG_CONFIG_HOME", ".config") / "sipladder" / "window";
}

}  // namespace sipladder::gui
