#pragma once

#include "drills/history.hpp"
#include "engine/trend/periods.hpp"
#include "engine/trend/trend.hpp"

#include <cstddef>
#include <memory>
#include <vector>

namespace sipladder::gui {

struct App;
struct History;
struct WeeksView;

/// What was shown last, with what else it was made from; the view's own.
struct WeeksShown {
    std::shared_ptr<const WeeksView> view;
    std::shared_ptr<const History> history;
    std::shared_ptr<const trend::PeriodsCompared> periods;
};

/// One substance over weeks.
struct WeeksEntry {
    drills::Followed followed;
    trend::Trend trend;
};

/// What the journal held of a person when it was last looked at.
struct Weeks {
    Uuid person;
    std::size_t journal_rows{};
    std::vector<WeeksEntry> entries;
    mutable WeeksShown shown = {};  ///< a chart of years is not laid out anew for every frame
};

/// Fits the lines anew if another person is there or the journal has grown; costs some 50 ms for a hundred
/// sittings, so it is done when the place is looked at and not for every frame.
/// A drill that is left open is no part of it, since its estimate would tell the next levels.
void look_at_weeks(App& app);

}  // namespace sipladder::gui
