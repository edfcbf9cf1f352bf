#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"
#include "gui/app/periods.hpp"
#include "gui/views/waits.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

struct App;

/// Two periods beside each other.
struct PeriodsView {
    struct End {
        PeriodEnd end{};
        std::string date;
        bool can_go_back = false;
        bool can_go_on = false;
    };
    std::vector<End> ends;  ///< four, in the order of time
    std::vector<std::string> sentences;
};

/// One substance: its chart, and what can be said of it.
struct WeeksRowView {
    std::string title;
    solution::Component component{};
    chart::Chart chart;             ///< as it is seen
    chart::Axis whole;              ///< its time axis
    std::string sentence;           ///< has it moved?
    std::vector<std::string> more;  ///< what would be noise, what would be missed, what else may have done it
    bool can_compare = false;       ///< there are two sittings or more
    std::optional<PeriodsView> periods;
};

/// All on one axis of time.
struct WeeksView {
    std::vector<WeeksRowView> rows;
    Waits waits;
    std::string empty;  ///< why there is none
    std::string foot;
};

WeeksView weeks_view(const App& app);
/// The same, made anew only where something of it has changed.
std::shared_ptr<const WeeksView> shown_weeks(const App& app);

}  // namespace sipladder::gui
