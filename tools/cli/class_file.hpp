#pragma once

#include "drills/sheets/class_sheets.hpp"
#include "engine/content/content.hpp"

#include <string>

/// What a class is to taste, from a file.
namespace sipladder::cli {

struct ClassFile {
    drills::classroom::ClassPlan plan;
    drills::sheets::ClassInfo info;  ///< without the moment
    drills::sheets::LabelGrid labels;
};

/// Reads `sipladder-class/1` and reckons what each person would take in if all were swallowed.
/// @throws Refused  with every problem of the file; where a level is above its cap; where a cap of the
///                  content is crossed: which, by how much, and what would be right
ClassFile read_class_file(const std::string& file, const content::Content& content);

}  // namespace sipladder::cli
