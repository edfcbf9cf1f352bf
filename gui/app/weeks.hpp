#pragma once

#include "drills/history.hpp"
#include "engine/trend/periods.hpp"
#include "engine/trend/trend.hpp"
#include "gui/app/fit_job.hpp"

#include <cstddef>
#include <memory>
#include <stop_token>
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

/// Fits the lines anew if another person is there or the journal has grown. Done when the place is looked at
/// and not for every frame. A long record is asked for (App::weeks_awaited), and what was found before stays
/// until it is there.
/// A drill that is left open is no part of it, since its estimate would tell the next levels.
void look_at_weeks(App& app);

/// Reads and fits, for any thread.
/// @param stop  once it asks for that, what comes back is not whole and of no use
/// @throws Refused naming the row that cannot be read
Weeks weeks_of(const FitJob& job, const std::stop_token& stop = {});

}  // namespace sipladder::gui
