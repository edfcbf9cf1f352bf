#pragma once

#include "engine/content/own.hpp"
#include "engine/journal/journal.hpp"

#include <optional>
#include <string>
#include <vector>

/// A person's own equipment, ladders and substances as facts: the body is the text that content::add_own
/// reads.
namespace sipladder::drills::record {

/// "own_equipment", "own_ladder", "own_substance".
std::string kind_of_own(content::OwnKind kind);
/// Nothing for a fact of any other kind.
std::optional<content::OwnKind> own_kind_of(const journal::Fact& fact);
std::vector<std::string> own_kinds();  ///< as facts name them
/// Its id and name; whether it passes the checks shows when it is added.
/// @throws Refused naming the row whose body cannot be read
content::OwnTitle read_own(const journal::Fact& fact);

}  // namespace sipladder::drills::record
