#include "engine/content/location.hpp"

#include "engine/problem.hpp"

namespace sipladder::content {

namespace {

bool holds_content(const std::filesystem::path& folder) {
    std::error_code ignored;  // a folder that cannot be read does not hold content
    return std::filesystem::is_regular_file(folder / "substances.json", ignored);
}

}  // namespace

std::filesystem::path locate(const std::string& asked) {
    if (!asked.empty()) {
        if (holds_content(asked)) return asked;
        throw Refused(asked, "holds no substances.json", "name the folder with the content files");
    }
    for (const std::filesystem::path place : {SIPLADDER_SOURCE_CONTENT, SIPLADDER_INSTALLED_CONTENT})
        if (!place.empty() && holds_content(place)) return place;
    throw Refused("content", "not found beside the program",
                  "set SIPLADDER_CONTENT to the folder with the content files, or install the program anew");
}

}  // namespace sipladder::content
