#pragma once

#include "engine/content/content.hpp"

#include <filesystem>

/// A person's own additions, in files of the same shape as the shipped ones; they pass the same checks.
namespace sipladder::content {

/// The first ladder of a file with schema "sipladder-ladders/1", checked against the shipped substances.
/// @throws Refused with every problem of the file
solution::Ladder ladder_in(const Content& shipped, const std::filesystem::path& file);
/// The first kitchen of a file with schema "sipladder-equipment/1". @throws Refused with every problem of the
/// file
solution::Equipment kitchen_in(const Content& shipped, const std::filesystem::path& file);

}  // namespace sipladder::content
