#pragma once

#include "drills/classroom/class_mix.hpp"
#include "drills/label_grid.hpp"
#include "engine/content/content.hpp"
#include "engine/content/field.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

/// What a class is to taste, from a file of shape `sipladder-class/1` and back.
///
/// "equipment", wanted where ladders are to be mixed, is an id of content/equipment.json; or, for scales and
/// vessels that the content has not, the object itself, as its entries are, in which figures may also have
/// "own statement" as their source. A class that carries its equipment so is mixed in the same way on any
/// machine, whatever becomes of the equipment that it was taken from.
///
/// "names", by seat, are those of people who agreed to be recorded, asked by whoever writes the file; "" is
/// the seat of anybody else. The program itself writes names of those only who are ticked on the roster.
namespace sipladder::drills::classroom {

/// As chosen, before anything is planned.
struct ClassChoice {
    std::string title;
    std::size_t people{};  ///< 1 to 200
    std::size_t spares = 2;
    std::size_t groups = 0;          ///< 0: as many as `usual_groups` says
    std::vector<std::string> names;  ///< by seat; missing or empty: a line to write on
    std::string kitchen;             ///< id; empty: nothing is to be mixed
    /// The equipment of that id, where it is not the content's.
    std::optional<content::EquipmentEntry> carried = {};
    std::vector<WantedDrill> drills;  ///< those with bottles of their own have no ladders
    std::optional<LabelGrid> labels;  ///< nothing: the usual grid
};

/// Planned, with all that its sheets need.
struct PreparedClass {
    std::string title;
    std::vector<std::string> names;
    ClassPlan plan;
    std::vector<std::string> cautions;  ///< about what is served, each once, in the order of the content
    std::vector<std::string> taster_cautions;  ///< those of them that concern who tastes
    LabelGrid labels;
    std::vector<solution::MixPlan> mixes;  ///< of the drills with ladders
    safety::Intake intake;                 ///< of one person, if every cup is swallowed
};

/// What it is mixed with; nullptr: there is no equipment of that id.
const solution::Equipment* equipment_of(const ClassChoice& choice, const content::Content& content);

/// Notes every problem in the field; the choice then is not to be used.
ClassChoice read_class(const content::Field& root, const content::Content& content);
/// @throws Refused  with every problem of the file
ClassChoice read_class_file(const std::string& file, const content::Content& content);
/// As read_class_file reads it.
std::string class_json(const ClassChoice& choice);

/// Plans what is to be mixed, and reckons what each person would take in if all were swallowed.
/// @param where  as problems name the choice: the file
/// @throws Refused  where a cap of the content is crossed: which, by how much, and what would be right; and
/// as
///                  mix_class
PreparedClass prepared(const ClassChoice& choice, const content::Content& content, Seed letters,
                       const std::string& where);

/// The choice with its ladders as the bottles that were planned for them, so that no later content changes
/// it.
ClassChoice in_bottles(const ClassChoice& choice, const PreparedClass& planned);

/// A drill whose cups hold ethanol, in its samples or its base.
bool holds_ethanol(const ClassDrill& drill, const content::Content& content);

}  // namespace sipladder::drills::classroom
