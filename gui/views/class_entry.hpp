#pragma once

#include "gui/views/classroom.hpp"

namespace sipladder::gui {

/// The pile of ballots as far as it is typed in. @pre the class has a design
ClassEntryView class_entry_view(const Classroom& room);

}  // namespace sipladder::gui
