#pragma once

#include "drills/drill.hpp"
#include "engine/content/field.hpp"

#include <nlohmann/json_fwd.hpp>

#include <memory>
#include <string>
#include <vector>

/// How bodies of drills and mixes name their schema; for drills/record alone.
namespace sipladder::drills::record {

/// A body while it is read; the Field points into the document.
struct Body {
    std::string name;
    std::shared_ptr<const nlohmann::json> document;
};
/// The document is nothing where a problem was found.
Body parsed(const std::string& text, std::string name, std::vector<Problem>& problems);

/// Notes another schema than this, which a later program may have written.
void want_schema(const content::Field& body, const std::string& schema);
std::string schema_of(Kind kind);
/// The kind of a drill's body; what cannot be read counts as detection, with a problem noted.
Kind read_kind(const content::Field& body);

/// The plan in a drill's body; every problem is noted in the field.
Plan read_plan(const content::Field& body);

}  // namespace sipladder::drills::record
