#pragma once

#include "gui/app/own_form.hpp"

#include <map>
#include <string>
#include <vector>

/// What each of the three forms asks, and what it works into the text beyond its fields. Used by own_form
/// only.
namespace sipladder::gui {

using OwnValues = std::map<std::string, content::OwnValue>;

std::vector<OwnGroup> equipment_groups(const OwnForm& form);
std::vector<OwnGroup> ladder_groups(const OwnForm& form, const content::Content& content);
std::vector<OwnGroup> substance_groups(const OwnForm& form);

void work_in_equipment(OwnValues& values, const OwnForm& form, const std::string& id);
void work_in_ladder(OwnValues& values, const OwnForm& form, const content::Content& content,
                    const std::string& id);
void work_in_substance(OwnValues& values, const OwnForm& form, const std::string& id);

/// What no check of the content can see: a name that is taken, and what of a ladder is no number yet. `where`
/// is a field of the head.
std::vector<Problem> problems_beyond(const OwnForm& form, const content::Content& content);

/// A text that no field holds.
inline content::OwnValue said(std::string text) {
    return {content::OwnValue::Kind::text, std::move(text), 1.0};
}
inline content::OwnValue counted_as_number(std::string text) {
    return {content::OwnValue::Kind::number, std::move(text), 1.0};
}
/// What stands in the head's field; its trimmed text.
std::string head_text(const OwnForm& form, const std::string& field);

}  // namespace sipladder::gui
