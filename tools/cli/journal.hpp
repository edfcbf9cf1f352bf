#pragma once

#include "engine/journal/journal.hpp"

#include <string>

namespace sipladder::cli {

/// By id, or by a name that only one person has. @throws Refused  naming what there is
journal::Person person_named(const journal::Journal& journal, const std::string& named);

}  // namespace sipladder::cli
