#include "gui/screens/screens.hpp"
#include "gui/widgets/widgets.hpp"

namespace sipladder::gui {

void draw_waits(const Waits& view, const Theme& theme) {
    for (const std::string& line : view.lines)
        view.is_problem ? caution(theme, line) : paragraph(theme, line);
}

}  // namespace sipladder::gui
