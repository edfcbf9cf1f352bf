#pragma once

#include "engine/journal/database.hpp"
#include "engine/problem.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace sipladder::journal {

/// Stands in the file's header at byte 68: "Sipl".
constexpr std::int64_t application_id = 0x5369706C;

/// The statements that make version 1 from nothing.
std::string schema_version_1();

/// What a database lacks, or has beyond, the schema of this program.
std::vector<Problem> schema_problems(Database& database);

}  // namespace sipladder::journal
