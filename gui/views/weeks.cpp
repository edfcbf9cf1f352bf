#include "gui/views/weeks.hpp"

#include "engine/chart/seen.hpp"
#include "engine/text.hpp"
#include "engine/trend/change_words.hpp"
#include "gui/app/app.hpp"
#include "gui/app/weeks_charts.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace sipladder::gui {

namespace {

/// How the newest place on the line stands against the goal.
std::string goal_words(const WeeksEntry& entry, double goal) {
    const threshold::Estimate& now = entry.trend.points.back().smoothed;
    const double beyond = (std::log10(goal) - now.log10) / (now.sd_log10 * std::numbers::sqrt2);
    const double probability = 0.5 * std::erfc(-beyond);
    return "Your goal is " + shortest(goal, 3) + " " + unit_text(entry.followed.scale) + ": " +
           trend::of_100(probability) + " that you are there.";
}

PeriodsView periods_view(const PeriodsShown& shown, const WeeksEntry& entry) {
    const std::vector<trend::Sitting>& sittings = entry.followed.sittings;
    const auto differs = [](const PeriodsShown& a, const PeriodsShown& b) {
        return a.earlier != b.earlier || a.later != b.later;
    };
    const auto end = [&](PeriodEnd which, std::size_t at) {
        return PeriodsView::End{.end = which,
                                .date = sittings[at].date,
                                .can_go_back = differs(moved(shown, which, false, sittings.size()), shown),
                                .can_go_on = differs(moved(shown, which, true, sittings.size()), shown)};
    };
    return {.ends = {end(PeriodEnd::earlier_first, shown.earlier.first),
                     end(PeriodEnd::earlier_last, shown.earlier.last),
                     end(PeriodEnd::later_first, shown.later.first),
                     end(PeriodEnd::later_last, shown.later.last)},
            .sentences = trend::words(*shown.found, sittings, entry.followed.scale)};
}

}  // namespace

WeeksView weeks_view(const App& app) {
    WeeksView view;
    view.foot =
        "Filled dots: each sitting by itself, with its 95 % interval; the line and its band: all of them "
        "together. Hollow: the first two sittings, practice with the task itself.";
    view.waits = waits_for(app.weeks_awaited, app.weeks != nullptr);
    if (!app.weeks && app.weeks_awaited) return view;
    if (!app.weeks) {
        view.empty =
            "A drill is left open. Its estimate would tell the next levels, so finish it or close it in "
            "Taste "
            "first.";
        return view;
    }
    if (app.weeks->entries.empty()) {
        view.empty =
            "No threshold is measured yet. Each sitting of detection or of a quick look becomes a dot here; "
            "from the fourth on a line can be told from noise.";
        return view;
    }
    for (std::size_t number = 0; number < app.weeks->entries.size(); ++number) {
        const WeeksEntry& entry = app.weeks->entries[number];
        WeeksRowView row;
        row.title = title_of(entry);
        row.component = entry.followed.substance.component;
        row.chart = weeks_chart(app, number);
        row.chart.note.clear();  // said once, at the foot
        row.whole = row.chart.x;
        std::vector<std::string> sentences = trend::words(entry.trend, entry.followed.sittings);
        if (!sentences.empty()) {
            row.sentence = std::move(sentences.front());
            row.more.assign(std::next(sentences.begin()), sentences.end());
        }
        if (const auto goal = goal_of(app, entry)) row.more.push_back(goal_words(entry, *goal));
        row.can_compare = entry.followed.sittings.size() > 1;
        if (app.periods && app.periods->row == number) row.periods = periods_view(*app.periods, entry);
        view.rows.push_back(std::move(row));
    }
    return view;
}

namespace {

std::shared_ptr<const WeeksView> all_weeks(const App& app) {
    if (!app.weeks) return std::make_shared<const WeeksView>(weeks_view(app));
    WeeksShown& shown = app.weeks->shown;
    const auto periods = app.periods ? app.periods->found : nullptr;
    if (shown.view == nullptr || shown.history != app.history || shown.periods != periods ||
        shown.view->waits != waits_for(app.weeks_awaited, true))
        shown = {std::make_shared<const WeeksView>(weeks_view(app)), app.history, periods};
    return shown.view;
}

/// Made anew only where another part is looked at.
std::shared_ptr<const WeeksView> part_of_weeks(const ChartsSeen& look,
                                               const std::shared_ptr<const WeeksView>& all,
                                               const chart::Seen& seen) {
    if (look.shown && look.shown_of == all && look.shown_part == seen) return look.shown;
    auto part = std::make_shared<WeeksView>(*all);
    for (WeeksRowView& row : part->rows) row.chart = chart::part_of(row.chart, seen);
    look.shown = part;
    look.shown_of = all;
    look.shown_part = seen;
    return part;
}

}  // namespace

std::shared_ptr<const WeeksView> shown_weeks(const App& app) {
    std::shared_ptr<const WeeksView> all = all_weeks(app);
    const auto seen = weeks_seen(app);
    return seen ? part_of_weeks(app.charts_seen, all, *seen) : all;
}

}  // namespace sipladder::gui
