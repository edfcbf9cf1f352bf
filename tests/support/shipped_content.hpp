#pragma once

#include "engine/content/content.hpp"

#include <filesystem>
#include <memory>

namespace sipladder::tests {

/// The content of the source tree, read once.
inline std::shared_ptr<const content::Content> shipped_content() {
    static const auto content = std::make_shared<const content::Content>(
        content::load(std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content"));
    return content;
}

}  // namespace sipladder::tests
