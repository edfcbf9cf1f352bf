#include "gui/app/weeks.hpp"

#include "engine/problem.hpp"
#include "gui/app/app.hpp"
#include "gui/app/handlers.hpp"

#include <map>
#include <memory>
#include <utility>

namespace sipladder::gui {

namespace {

struct Stopped {};

/// From what the history has read, or reads now. @throws Stopped
std::vector<drills::Followed> followed_in(const FitJob& job, const std::stop_token& stop) {
    const History& history = *job.history;
    std::map<Uuid, std::size_t> places;
    for (std::size_t i = 0; i < history.done.size(); ++i) places.emplace(history.done.lines()[i].drill, i);
    std::vector<const drills::record::KeptMix*> mixes;
    for (std::size_t i = history.mixes.size(); i-- > 0;) mixes.push_back(&history.mixes[i]);
    const auto state = [&](const Uuid& drill) -> const drills::State& {
        if (stop.stop_requested()) throw Stopped{};
        const auto place = places.find(drill);
        if (place == places.end())
            throw Refused("journal drill " + drill.text, "was written by another program meanwhile",
                          "choose the person anew (F2), which reads it too");
        return history.done[place->second].state;
    };
    return drills::followed(*job.journal, job.person, state, mixes);
}

void take(App& app, std::shared_ptr<const Weeks> weeks) {
    app.periods.reset();  // of sittings that may have changed
    app.weeks = std::move(weeks);
    app.weeks_awaited.reset();
}

bool is_newest(const Uuid& person, std::size_t journal_rows, const App& app, std::size_t rows) {
    return person == *app.person && journal_rows == rows;
}

}  // namespace

Weeks weeks_of(const FitJob& job, const std::stop_token& stop) {
    Weeks weeks{.person = job.person, .journal_rows = job.journal_rows, .entries = {}};
    try {
        for (drills::Followed& followed : followed_in(job, stop)) {
            if (stop.stop_requested()) throw Stopped{};
            trend::Settings settings;
            settings.scale = followed.scale;
            trend::Trend trend =
                trend::trend(followed.sittings, followed.prior, threshold::three_afc, settings);
            weeks.entries.push_back({std::move(followed), std::move(trend)});
        }
    } catch (const Stopped&) {
        weeks.entries.clear();
    }
    return weeks;
}

void look_at_weeks(App& app) {
    if (!app.person || !app.history || !app.history->unfinished.empty()) {
        app.weeks.reset();
        app.weeks_awaited.reset();
        app.periods.reset();
        return;
    }
    if (app.weeks && app.weeks->person != *app.person) {
        app.weeks.reset();
        app.periods.reset();
    }
    const std::size_t rows = app.journal->rows();
    if (app.weeks && is_newest(app.weeks->person, app.weeks->journal_rows, app, rows))
        app.weeks_awaited.reset();
    else if (app.history->done.size() <= most_at_once)
        take(app, std::make_shared<const Weeks>(weeks_of(fit_job(app))));
    else if (const auto& asked = app.weeks_awaited;
             !asked || !is_newest(asked->job.person, asked->job.journal_rows, app, rows))
        app.weeks_awaited = Awaited{fit_job(app)};
}

void on(Next& next, const WeeksReady& intent) {
    if (auto found = wanted_of(intent, next.app.weeks_awaited, next.app.person))
        take(next.app, std::move(found));
}

}  // namespace sipladder::gui
