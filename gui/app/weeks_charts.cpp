#include "gui/app/weeks_charts.hpp"

#include "drills/palate_next.hpp"
#include "engine/chart/seen.hpp"
#include "engine/chart/weeks.hpp"
#include "engine/problem.hpp"
#include "gui/app/app.hpp"
#include "gui/app/charts_seen.hpp"
#include "gui/app/printing.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::gui {

namespace {

/// From the first sitting of any substance to the last.
std::pair<double, double> span_of(const Weeks& weeks) {
    std::pair<double, double> span{weeks.entries.front().followed.sittings.front().week,
                                   weeks.entries.front().followed.sittings.back().week};
    for (const WeeksEntry& entry : weeks.entries) {
        span.first = std::min(span.first, entry.followed.sittings.front().week);
        span.second = std::max(span.second, entry.followed.sittings.back().week);
    }
    return span;
}

}  // namespace

std::string title_of(const WeeksEntry& entry) {
    return entry.followed.substance.name + " in " + entry.followed.sittings.back().conditions.base;
}

std::optional<double> goal_of(const App& app, const WeeksEntry& entry) {
    return drills::goal_of(app.history->goals, entry.followed.substance.id,
                           entry.followed.sittings.back().conditions.base);
}

chart::Chart weeks_chart(const App& app, std::size_t number) {
    const WeeksEntry& entry = app.weeks->entries.at(number);
    const bool is_compared = app.periods && app.periods->row == number;
    return chart::weeks({.title = {},
                         .component = entry.followed.substance.component,
                         .trend = entry.trend,
                         .sittings = entry.followed.sittings,
                         .span = span_of(*app.weeks),
                         .note = {},
                         .goal = goal_of(app, entry),
                         .periods = is_compared ? std::optional(*app.periods->found) : std::nullopt});
}

void print_weeks(Next& next) {
    App& app = next.app;
    if (app.weeks_awaited)
        throw Refused("Print", "what was done last is still being worked in",
                      "the charts in some seconds, when the line above them is gone");
    if (!app.weeks || app.weeks->entries.empty())
        throw Refused("Print", "there is no chart yet", "one threshold measured and its drill closed");
    const std::optional<chart::Seen> seen = weeks_seen(app);
    Notice notice{.lines = {kept_as_files}};
    for (std::size_t number = 0; number < app.weeks->entries.size(); ++number) {
        const WeeksEntry& entry = app.weeks->entries[number];
        chart::Chart chart = weeks_chart(app, number);
        if (seen) chart = chart::part_of(chart, *seen);
        chart.title = title_of(entry);
        notice.lines.push_back(keep_chart(app, std::move(chart), "weeks_" + entry.followed.substance.id));
    }
    app.notice = std::move(notice);
}

}  // namespace sipladder::gui
