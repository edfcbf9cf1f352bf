#pragma once

#include "drills/classroom/class_mix.hpp"
#include "drills/sheets/class_sheets.hpp"
#include "engine/content/content.hpp"

#include <optional>
#include <string>
#include <vector>

/// What a class is to taste, from a file.
namespace sipladder::cli {

struct ClassFile {
    drills::classroom::ClassPlan plan;
    drills::sheets::ClassInfo info;  ///< without the moment
    drills::sheets::LabelGrid labels;
    std::optional<solution::Equipment> kitchen;  ///< where something is to be mixed
    std::vector<solution::MixPlan> mixes;        ///< of the drills with ladders
    safety::Intake intake;                       ///< of one person, if every cup is swallowed
};

/// Reads `sipladder-class/1`, plans what is to be mixed, and reckons what each person would take in if all
/// were swallowed.
/// @throws Refused  with every problem of the file; where a level is above its cap; where a cap of the
///                  content is crossed: which, by how much, and what would be right
ClassFile read_class_file(const std::string& file, const content::Content& content, Seed letters);

}  // namespace sipladder::cli
