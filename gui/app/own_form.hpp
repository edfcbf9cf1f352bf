#pragma once

#include "engine/content/own.hpp"
#include "engine/problem.hpp"
#include "engine/uuid.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

/// The forms by which a person adds equipment, a ladder or a substance: what is asked, what was typed, and
/// the text that comes of it. The checks are those of the content; a form only knows which field a problem
/// stands at.
namespace sipladder::gui {

/// Which list of a form: its head, or one of the tools in an equipment.
enum class OwnList { head, balances, vessels };

/// Where a field stands.
struct OwnPlace {
    OwnList list{};
    std::size_t index{};  ///< among the tools of its list; 0 for the head
    std::string field;

    bool operator==(const OwnPlace&) const = default;
};

/// As typed, by field; what was never touched is not there.
using OwnTyped = std::map<std::string, std::string>;

struct OwnForm {
    content::OwnKind kind{};
    OwnTyped head;
    std::vector<OwnTyped> balances;
    std::vector<OwnTyped> vessels;
    bool was_tried = false;               ///< to keep it: from then on empty fields are told of too
    std::optional<Uuid> changes = {};     ///< the row of the thing that it takes the place of
    std::optional<OwnPlace> begins = {};  ///< the field to go on at: of a new part, or the first wrong one
    int times_begun = 0;                  ///< counted, so that a screen goes there once

    bool operator==(const OwnForm&) const = default;
};
/// As it is first met: an equipment with one scale.
OwnForm new_form(content::OwnKind kind);
/// A kept thing as it would have been typed; what its text does not hold, or cannot be read, is empty.
OwnForm form_of(content::OwnKind kind, const std::string& text, const content::Content& content);
/// To go on at this field.
void begin_at(OwnForm& form, OwnPlace place);
/// What was typed there; empty where nothing was.
std::string typed_at(const OwnForm& form, const OwnPlace& place);
void type_at(OwnForm& form, const OwnPlace& place, const std::string& text);

/// One field as it is asked.
struct OwnField {
    OwnPlace place;
    std::string label;
    std::string unit;
    /// Value and label; none: it is typed.
    std::vector<std::pair<std::string, std::string>> choices = {};
    std::string usual = {};     ///< what an empty field stands for; empty: see `may_be_empty`
    std::string explains = {};  ///< may be empty
    bool may_be_empty = false;
    content::OwnValue::Kind kind = content::OwnValue::Kind::text;
    std::string pointer = {};  ///< in the text; of a field that is worked into others: where they begin
    double scale = 1.0;
    std::string right = {};  ///< of a scaled number: what would be right, as it is typed
};
struct OwnGroup {
    std::string title;
    OwnList list{};
    std::size_t index{};
    std::vector<OwnField> fields;
};
std::vector<OwnGroup> groups_of(const OwnForm& form, const content::Content& content);

/// The text of the thing. @param id  without "own_"
std::string text_of(const OwnForm& form, const content::Content& content, const std::string& id);

/// What is wrong, each with its field; without one: of the whole.
struct OwnProblem {
    OwnPlace place;
    bool is_of_field = false;
    std::string text;
};
std::vector<OwnProblem> problems_of(const OwnForm& form, const content::Content& content);

}  // namespace sipladder::gui
