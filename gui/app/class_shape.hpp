#pragma once

#include "drills/classroom/class_file.hpp"
#include "engine/content/content.hpp"
#include "gui/app/class_intent.hpp"

#include <string>
#include <vector>

/// How the plan of a class is put together, step by step.
namespace sipladder::gui {

/// The usual drills of a class, for a start: ranking, naming and graded cups (judgement).
drills::classroom::ClassChoice usual_class(const content::Content& content);

/// The choice after one step. What no longer fits a new task goes, and a ladder that fits takes its place.
/// @param all  what is offered to mix with: the content and equipment beside it, which the class then carries
/// @throws Refused for a number that cannot be, and for a drill too many
drills::classroom::ClassChoice shaped(drills::classroom::ClassChoice choice, const ShapeClass& step,
                                      const content::Content& content, const content::Content& all);

/// Ladders of the content that suit a task: close rungs to rank, few and clear ones to name, a wide range to
/// find or to grade (judgement).
std::vector<const solution::Ladder*> ladders_for(drills::classroom::Task task,
                                                 const content::Content& content);

/// The question of a drill about a component, as it stands on the ballot.
std::string class_question(drills::classroom::Task task, solution::Component component);
/// What a drill is called on ballots and labels: tells nothing of a cup.
std::string class_drill_name(drills::classroom::Task task, std::size_t number);

constexpr std::size_t most_class_drills = 6;  // of one evening; judgement
constexpr std::size_t most_class_times = 6;   // that each rung is served to a person; judgement

}  // namespace sipladder::gui
