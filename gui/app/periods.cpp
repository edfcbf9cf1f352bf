#include "gui/app/periods.hpp"

#include "gui/app/handlers.hpp"

#include <utility>

namespace sipladder::gui {

namespace {

void compare(App& app, PeriodsShown shown) {
    const drills::Followed& followed = app.weeks->entries.at(shown.row).followed;
    trend::Settings settings;
    settings.scale = followed.scale;
    shown.found = std::make_shared<const trend::PeriodsCompared>(trend::compare(
        followed.sittings, shown.earlier, shown.later, followed.prior, threshold::three_afc, settings));
    app.periods = std::move(shown);
}

bool is_possible(const PeriodsShown& shown, std::size_t sittings) {
    return shown.earlier.first <= shown.earlier.last && shown.earlier.last < shown.later.first &&
           shown.later.first <= shown.later.last && shown.later.last < sittings;
}

}  // namespace

PeriodsShown moved(const PeriodsShown& shown, PeriodEnd end, bool forward, std::size_t sittings) {
    PeriodsShown next = shown;
    std::size_t* const ends[] = {&next.earlier.first, &next.earlier.last, &next.later.first,
                                 &next.later.last};
    std::size_t& at = *ends[static_cast<std::size_t>(end)];
    if (!forward && at == 0) return shown;
    forward ? ++at : --at;
    return is_possible(next, sittings) ? next : shown;
}

void on(Next& next, const ComparePeriods& intent) {
    App& app = next.app;
    if (!app.weeks || intent.row >= app.weeks->entries.size()) return;
    if (app.periods && app.periods->row == intent.row) {
        app.periods.reset();
        return;
    }
    const std::size_t sittings = app.weeks->entries[intent.row].followed.sittings.size();
    auto halves = trend::halves(sittings, trend::Settings{}.practice);
    if (!halves) halves = trend::halves(sittings, 0);
    if (halves)
        compare(app, {.row = intent.row, .earlier = halves->first, .later = halves->second, .found = {}});
}

void on(Next& next, const MovePeriod& intent) {
    App& app = next.app;
    if (!app.weeks || !app.periods) return;
    const std::size_t sittings = app.weeks->entries.at(app.periods->row).followed.sittings.size();
    compare(app, moved(*app.periods, intent.end, intent.forward, sittings));
}

}  // namespace sipladder::gui
