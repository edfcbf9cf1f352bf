#pragma once

#include "engine/content/handbook.hpp"
#include "engine/safety/caution.hpp"
#include "engine/solution/base.hpp"
#include "engine/solution/equipment.hpp"
#include "engine/solution/ingredient.hpp"
#include "engine/solution/ladder.hpp"
#include "engine/solution/substance.hpp"

#include <cstddef>
#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace sipladder::content {

class Field;

struct Source {
    std::string key;
    std::string authors;
    int year{};  ///< 0 where none is stated
    std::string title;
    std::string where;
    std::string provenance;  ///< how sure: "published, seen in …", "from memory", "common practice, no
                             ///< source", "judgement"
};

/// What a paper reports for a substance; shown beside a person's own value, never as a norm.
struct ReferenceThreshold {
    std::string substance;
    std::string base;
    std::string kind;  ///< detection, recognition, taste (not said which)
    double lower{};    ///< on the substance's scale; lower == upper for a single value
    double upper{};
    int people{};  ///< 0 where not stated
    std::string method;
    std::string source;
    std::string provenance;
};

/// One drill of a programme, by the names of the files: what drills make of it they know.
struct ProgrammeDrill {
    std::string kind;
    std::vector<std::string> ladders;  ///< ids; several for recognition only
    std::string blinding;
    std::size_t presentations{};
    /// Balance, persistence: the same ladder once more, in this base (an id), or the same bottles otherwise
    /// ("cool"); and how the drill calls it. Empty: only one condition.
    std::string other_base{};
    std::string condition{};
};

/// A sitting of several drills, ready-made.
struct Programme {
    std::string id;
    std::string name;
    std::string why;
    std::string base;  ///< id
    Millilitres cup{10.0};
    int most_minutes{};  ///< what its name promises; 0: only the limit of every sitting
    std::vector<ProgrammeDrill> drills;
};

/// What spoils a sitting: asked for once and kept with it.
struct Spoiler {
    std::string id;
    std::string text;
    int wait_minutes{};  ///< after which it is over; 0: another day
};

struct SittingLimits {
    std::size_t most_cups{};  ///< all cups, blanks and known ones too
    int most_minutes{};
    Celsius coolest;  ///< cups are served at room temperature, from here
    Celsius warmest;  ///< to here
    std::vector<Spoiler> spoilers;
};

/// An equipment and the text that it was read from: one entry of content/equipment.json. What has to stay
/// readable without the content it was made with carries it so.
struct EquipmentEntry {
    solution::Equipment equipment;
    std::string entry;  ///< JSON
};

/// Everything that content/ holds, checked. Its copies and its end are written out once, in content.cpp.
struct Content {
    Content();
    Content(const Content&);
    Content(Content&&) noexcept;
    Content& operator=(const Content&);
    Content& operator=(Content&&) noexcept;
    ~Content();

    std::vector<solution::Substance> substances;
    std::vector<solution::Ingredient> ingredients;
    std::vector<solution::Base> bases;
    std::vector<solution::Equipment> equipment;
    std::map<std::string, std::string> equipment_entries;  ///< by id, as EquipmentEntry has it
    std::vector<solution::Ladder> ladders;
    std::vector<solution::Ladder> pedestals;  ///< for difference: the weakest rung stands in every cup
    std::map<std::string, std::string> ladder_reasons;  ///< by id of either: what its choice rests on
    std::map<std::string, std::string> ladder_bases;    ///< by id, where a ladder is meant for one base
    std::vector<ReferenceThreshold> reference_thresholds;
    safety::Cautions cautions;
    SittingLimits sitting;
    std::vector<Programme> programmes;
    std::vector<Chapter> handbook;
    std::map<std::string, Source> sources;
    /// Substances of a person's own that are struck out: what was made of them still reads, nothing new is.
    std::set<std::string> struck_out;

    /// @throws Refused naming the id and the ids there are, for each of these
    const solution::Substance& substance(const std::string& id) const;
    const solution::Ingredient& ingredient(const std::string& id) const;
    const solution::Base& base(const std::string& id) const;
    const solution::Equipment& kitchen(const std::string& id) const;
    const solution::Ladder& ladder(const std::string& id) const;  ///< or a pedestal's
    const Programme& programme(const std::string& id) const;
    /// Ingredients that hold this substance, in the order of the file.
    std::vector<solution::Ingredient> ingredients_of(const std::string& substance) const;
};

/// Reads and checks a content folder.
/// @throws Refused with every problem found in every file (file, JSON pointer, what was found, what would be
/// right)
Content load(const std::filesystem::path& folder);

/// A person's own ladder or equipment: a file of the same shape as content/ladders.json or
/// content/equipment.json that holds just one, checked in the same way against `content`.
/// @throws Refused with every problem found
solution::Ladder load_ladder(const std::filesystem::path& file, const Content& content);
EquipmentEntry load_equipment(const std::filesystem::path& file, const Content& content);

/// An equipment that stands in a file of another kind, checked as a person's own is: they may have stated its
/// figures themselves. Every problem is noted in the field, and what was read then is not to be used.
EquipmentEntry read_equipment(const Field& field, const Content& content);

}  // namespace sipladder::content
