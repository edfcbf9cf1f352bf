#pragma once

#include "engine/content/content.hpp"

#include <memory>

namespace sipladder::tests {

/// The content of the source tree, read once.
std::shared_ptr<const content::Content> shipped_content();

}  // namespace sipladder::tests
