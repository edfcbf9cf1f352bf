#include "tests/support/shipped_content.hpp"

#include <filesystem>

namespace sipladder::tests {

std::shared_ptr<const content::Content> shipped_content() {
    static const auto content = std::make_shared<const content::Content>(
        content::load(std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content"));
    return content;
}

}  // namespace sipladder::tests
