#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"

#include <string>
#include <vector>

namespace sipladder::gui {

struct App;

/// One substance: its chart, and what can be said of it.
struct WeeksRowView {
    std::string title;
    solution::Component component{};
    chart::Chart chart;
    std::string sentence;           ///< has it moved?
    std::vector<std::string> more;  ///< what would be noise, what would be missed, what else may have done it
};

/// All on one axis of time.
struct WeeksView {
    std::vector<WeeksRowView> rows;
    std::string empty;  ///< why there is none
    std::string foot;
};

WeeksView weeks_view(const App& app);

}  // namespace sipladder::gui
