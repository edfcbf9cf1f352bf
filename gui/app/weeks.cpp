#include "gui/app/weeks.hpp"

#include "gui/app/app.hpp"

#include <memory>
#include <utility>

namespace sipladder::gui {

void look_at_weeks(App& app) {
    if (!app.person || !app.history || !app.history->unfinished.empty()) {
        app.weeks.reset();
        app.periods.reset();
        return;
    }
    const std::size_t rows = app.journal->rows();
    if (app.weeks && app.weeks->person == *app.person && app.weeks->journal_rows == rows) return;
    Weeks weeks{.person = *app.person, .journal_rows = rows, .entries = {}};
    for (drills::Followed& followed : drills::followed(*app.journal, *app.person)) {
        trend::Settings settings;
        settings.scale = followed.scale;
        trend::Trend trend = trend::trend(followed.sittings, followed.prior, threshold::three_afc, settings);
        weeks.entries.push_back({std::move(followed), std::move(trend)});
    }
    app.periods.reset();  // of sittings that may have changed
    app.weeks = std::make_shared<const Weeks>(std::move(weeks));
}

}  // namespace sipladder::gui
