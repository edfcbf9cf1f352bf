#pragma once

#include "engine/journal/database.hpp"
#include "engine/problem.hpp"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace sipladder::journal {

/// Stands in the file's header at byte 68: "Sipl".
constexpr std::int64_t application_id = 0x5369706C;

/// The statements that make version 1 from nothing.
std::string schema_version_1();
/// The statements that take version 1 to version 2: the ids of people who were erased.
std::string schema_version_2();

/// Runs `change` while rows may be deleted; for erasing a person, inside a transaction.
void without_guards(Database& database, const std::function<void()>& change);

/// What a database lacks, or has beyond, the schema that this program gives its version.
std::vector<Problem> schema_problems(Database& database);

}  // namespace sipladder::journal
