#include "gui/platform/settings.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <fstream>
#include <string>

namespace sipladder::gui {

std::optional<Settings> load_settings(const std::filesystem::path& file) {
    std::ifstream in(file);
    if (!in) return std::nullopt;
    Settings settings;
    std::string key;
    std::string value;
    while (in >> key >> value) {
        if (key == "look") settings.dark = value == "dark";
        if (key == "paper") settings.us_letter = value == "us_letter";
        if (key == "scale") settings.scale = std::clamp(number_from_file(value).value_or(1.0), 0.75, 3.0);
    }
    return settings;
}

bool save_settings(const Settings& settings, const std::filesystem::path& file) {
    std::error_code error;
    std::filesystem::create_directories(file.parent_path(), error);
    const std::filesystem::path beside = file.string() + ".new";
    {
        std::ofstream out(beside);
        out << "look " << (settings.dark ? "dark" : "paper") << "\nscale " << exact(settings.scale)
            << "\npaper " << (settings.us_letter ? "us_letter" : "a4") << "\n";
        if (!out.flush()) return false;
    }
    std::filesystem::rename(beside, file, error);
    return !error;
}

}  // namespace sipladder::gui
