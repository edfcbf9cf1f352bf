#pragma once

#include "gui/views/classroom.hpp"

namespace sipladder::gui {

/// What the ballots tell; empty while they are being counted. @pre the class has a design
ClassResultsView class_results_view(const Classroom& room);

}  // namespace sipladder::gui
