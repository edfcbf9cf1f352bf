#include "gui/app/weeks.hpp"

#include "engine/problem.hpp"
#include "gui/app/app.hpp"

#include <map>
#include <memory>
#include <utility>

namespace sipladder::gui {

namespace {

/// From what the history has read, or reads now.
std::vector<drills::Followed> followed_in(const App& app) {
    const History& history = *app.history;
    std::map<Uuid, std::size_t> places;
    for (std::size_t i = 0; i < history.done.size(); ++i) places.emplace(history.done.lines()[i].drill, i);
    std::vector<const drills::record::KeptMix*> mixes;
    for (std::size_t i = history.mixes.size(); i-- > 0;) mixes.push_back(&history.mixes[i]);
    const auto state = [&](const Uuid& drill) -> const drills::State& {
        const auto place = places.find(drill);
        if (place == places.end())
            throw Refused("journal drill " + drill.text, "was written by another program meanwhile",
                          "choose the person anew (F2), which reads it too");
        return history.done[place->second].state;
    };
    return drills::followed(*app.journal, *app.person, state, mixes);
}

}  // namespace

void look_at_weeks(App& app) {
    if (!app.person || !app.history || !app.history->unfinished.empty()) {
        app.weeks.reset();
        app.periods.reset();
        return;
    }
    const std::size_t rows = app.journal->rows();
    if (app.weeks && app.weeks->person == *app.person && app.weeks->journal_rows == rows) return;
    Weeks weeks{.person = *app.person, .journal_rows = rows, .entries = {}};
    for (drills::Followed& followed : followed_in(app)) {
        trend::Settings settings;
        settings.scale = followed.scale;
        trend::Trend trend = trend::trend(followed.sittings, followed.prior, threshold::three_afc, settings);
        weeks.entries.push_back({std::move(followed), std::move(trend)});
    }
    app.periods.reset();  // of sittings that may have changed
    app.weeks = std::make_shared<const Weeks>(std::move(weeks));
}

}  // namespace sipladder::gui
