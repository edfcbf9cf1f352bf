#pragma once

#include "drills/drill.hpp"
#include "drills/rules.hpp"

#include <optional>
#include <string>

/// What drills/drill is put together from; for it alone.
namespace sipladder::drills::parts {

/// Which cap the next cup would cross, in a sentence; nothing where none.
std::optional<std::string> cap_before(const State& drill, const Wanted& wanted);

/// What a fixed drill serves now; nothing once everything is used up.
std::optional<Served> served_beforehand(const State& drill);
/// A level that was chosen, as its blinding has it served.
/// @pre not by sealed key
Served served_at(const State& drill, const Wanted& wanted);
/// The next codes that are called; what stands beneath them nobody knows.
Served serve_by_code(const State& drill);

}  // namespace sipladder::drills::parts
