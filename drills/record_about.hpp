#pragma once

#include "engine/journal/journal.hpp"

#include <optional>
#include <string>

namespace sipladder::drills::record {

/// What a drill is about, without its plan: quick to read.
struct About {
    std::string substance;  ///< id, of the first line
    std::string base_name;
};
/// Nothing where the body cannot be read; `read` says why.
/// @checked tests/drills/record_test.cpp
std::optional<About> about_of(const journal::Drill& drill);

}  // namespace sipladder::drills::record
