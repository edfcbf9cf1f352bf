#include "gui/platform/settings.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <string>

namespace sipladder::gui {

namespace {

/// One of two words; anything else leaves what holds.
void read_either(bool& is_second, const std::string& value, const char* first, const char* second) {
    if (value == first) is_second = false;
    if (value == second) is_second = true;
}

void read_number(double& number, const std::string& value, double least, double most) {
    const std::optional<double> read = number_from_file(value);
    if (read && std::isfinite(*read)) number = std::clamp(*read, least, most);
}

/// An id as content has them: what is no such word names nothing.
bool is_id(const std::string& text) {
    constexpr std::size_t longest = 100;
    return text.size() <= longest && std::all_of(text.begin(), text.end(), [](char c) {
               return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
           });
}

void read_line(Settings& settings, const std::string& key, const std::string& value) {
    if (key == "look") read_either(settings.dark, value, "paper", "dark");
    if (key == "paper") read_either(settings.us_letter, value, "a4", "us_letter");
    if (key == "pours") read_either(settings.helper_pours, value, "alone", "helper");
    if (key == "scale") read_number(settings.scale, value, 0.75, 3.0);
    if (key == "cup_mL") read_number(settings.cup_mL, value, 2.0, 50.0);
    if (key == "equipment" && is_id(value)) settings.equipment = value;
    bool is_us = settings.volume == VolumeUnit::us_fl_oz;
    if (key == "volume") read_either(is_us, value, "mL", "us_fl_oz");
    settings.volume = is_us ? VolumeUnit::us_fl_oz : VolumeUnit::mL;
}

}  // namespace

std::optional<Settings> load_settings(const std::filesystem::path& file) {
    std::ifstream in(file);
    if (!in) return std::nullopt;
    Settings settings;
    for (std::string line; std::getline(in, line);) {
        const std::string whole{trimmed(line)};
        const std::size_t blank = whole.find(' ');
        if (blank == std::string::npos) continue;
        read_line(settings, whole.substr(0, blank),
                  std::string{trimmed(std::string_view(whole).substr(blank))});
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
            << "\npaper " << (settings.us_letter ? "us_letter" : "a4") << "\nvolume "
            << (settings.volume == VolumeUnit::us_fl_oz ? "us_fl_oz" : "mL") << "\npours "
            << (settings.helper_pours ? "helper" : "alone") << "\ncup_mL " << exact(settings.cup_mL) << "\n";
        if (!settings.equipment.empty()) out << "equipment " << settings.equipment << "\n";
        if (!out.flush()) return false;
    }
    std::filesystem::rename(beside, file, error);
    return !error;
}

}  // namespace sipladder::gui
