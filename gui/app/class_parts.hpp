#pragma once

#include "gui/app/handlers.hpp"

#include <cstddef>
#include <string>

/// What the handlers of the Class place share; used by them alone.
namespace sipladder::gui {

/// @throws Refused  where no class is open
Classroom& open_room(Next& next);
/// @throws Refused  where no design is kept
const KeptDesign& kept_of(const Classroom& room);

/// The typing-in from now on; each line that it changes, in either pass, is written down.
void enter(Next& next, drills::classroom::Entry after);

/// The choice follows the roster, and is to be written.
void choice_changed(Next& next);

/// Somebody new among the people of the journal.
Uuid add_person(Next& next, const std::string& name);
/// What is known of a member, as it is now.
void write_member(Next& next, const ClassMember& member, bool is_listed = true);

}  // namespace sipladder::gui
