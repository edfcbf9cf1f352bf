#pragma once

#include "engine/solution/as_mixed.hpp"
#include "gui/app/app.hpp"
#include "gui/app/intent.hpp"

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

/// From the Prepare form to a plan request, and from notes at the bench to what is in the bottles.
namespace sipladder::gui {

/// The request that the form stands for, or what is wrong with it, field by field (`where` is the field's
/// label: see `label`).
std::variant<solution::PlanRequest, std::vector<Problem>> request_of(const App& app, const Setup& setup);

/// Labels of the fields, as the screen and its problems call them.
namespace label {
inline constexpr const char* strength = "Strength";
inline constexpr const char* within = "Within";
inline constexpr const char* bicarbonate = "Hydrogen carbonate";
inline constexpr const char* cup = "Cup";
inline constexpr const char* people = "People";
inline constexpr const char* ladder = "Ladder";
inline constexpr const char* lowest = "Lowest";
inline constexpr const char* ratio = "Ratio";
inline constexpr const char* count = "Rungs";
}  // namespace label

/// How strong an ingredient is as its label says it: a percentage, % vol, g in 100 mL, mg a piece.
struct StatedStrength {
    double value{};
    double within{};  ///< half-width
    std::string unit;
    double largest{};  ///< that this program accepts of such an ingredient
};
StatedStrength stated_strength(const solution::Ingredient& ingredient);

/// Numbers with blanks or semicolons between; commas are decimal signs. Nothing if one is no number.
std::optional<std::vector<double>> numbers_typed(const std::string& text);
/// Rungs of one ratio from the weakest up, each with three digits, or what is wrong with which field.
std::variant<std::vector<double>, std::vector<Problem>> rungs_typed(const std::string& lowest,
                                                                    const std::string& ratio,
                                                                    const std::string& count);

/// Does a job: the plan, or why there is none. May take long; runs on the worker.
PlanReady plan_for(const PlanJob& job);

/// Notes that can be read as numbers; the others are problems, by step and by check.
struct ReadNotes {
    solution::BenchRecord record;
    std::map<std::size_t, Problem> problems;  ///< of a reading or of what a spill left
    std::map<std::string, double> checks;     ///< by the check's words
    std::map<std::string, Problem> check_problems;
};
ReadNotes read_notes(const Bench& bench);

/// What is in the bottles after all that. @throws Refused where fewer than two levels are left
solution::AsMixed mixed_after(const solution::MixPlan& plan, const solution::BenchRecord& record);

/// Content with a person's own equipment in it, and that equipment's id.
struct OwnKitchen {
    std::shared_ptr<const content::Content> content;
    std::string id;
};
/// @throws Refused with every problem of the file
OwnKitchen with_kitchen(const App& app, const std::string& file);

}  // namespace sipladder::gui
