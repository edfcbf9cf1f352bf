#include "gui/views/weeks.hpp"

#include "engine/chart/weeks.hpp"
#include "gui/app/app.hpp"

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

std::string title_of(const WeeksEntry& entry) {
    return entry.followed.substance.name + " in " + entry.followed.sittings.back().conditions.base;
}

}  // namespace

WeeksView weeks_view(const App& app) {
    WeeksView view;
    view.foot =
        "Filled dots: each sitting by itself, with its 95 % interval; the line and its band: all of them "
        "together. Hollow: the first two sittings, practice with the task itself.";
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
    const auto span = span_of(*app.weeks);
    for (const WeeksEntry& entry : app.weeks->entries) {
        WeeksRowView row;
        row.title = title_of(entry);
        row.component = entry.followed.substance.component;
        row.chart = chart::weeks({.title = {},
                                  .component = row.component,
                                  .trend = entry.trend,
                                  .sittings = entry.followed.sittings,
                                  .span = span,
                                  .note = {}});
        row.chart.note.clear();  // said once, at the foot
        std::vector<std::string> sentences = trend::words(entry.trend, entry.followed.sittings);
        if (!sentences.empty()) {
            row.sentence = std::move(sentences.front());
            row.more.assign(std::next(sentences.begin()), sentences.end());
        }
        view.rows.push_back(std::move(row));
    }
    return view;
}

}  // namespace sipladder::gui
