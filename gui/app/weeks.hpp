#pragma once

#include "drills/history.hpp"
#include "engine/trend/trend.hpp"

#include <cstddef>
#include <vector>

namespace sipladder::gui {

struct App;

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
};

/// Fits the lines anew if another person is there or the journal has grown; costs some 50 ms for a hundred
/// sittings, so it is done when the place is looked at and not for every frame.
/// A drill that is left open is no part of it, since its estimate would tell the next levels.
void look_at_weeks(App& app);

}  // namespace sipladder::gui
