#pragma once

#include <filesystem>
#include <string>

namespace sipladder::content {

/// Where the content folder is: `asked` (a command-line option or the value of SIPLADDER_CONTENT) if not
/// empty, else the source tree of a development build, else the install prefix.
/// @throws Refused when the folder asked for, or none of the places, holds substances.json
std::filesystem::path locate(const std::string& asked);

}  // namespace sipladder::content
