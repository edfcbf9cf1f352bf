#include "gui/app/charts_seen.hpp"

#include "gui/app/handlers.hpp"

namespace sipladder::gui {

std::optional<chart::Seen> weeks_seen(const App& app) {
    if (app.weeks == nullptr || app.charts_seen.weeks_of != app.weeks) return std::nullopt;
    return app.charts_seen.weeks;
}

std::optional<chart::Seen> picture_seen(const App& app, std::size_t picture) {
    const ChartsSeen& seen = app.charts_seen;
    if (app.palate_opened == nullptr || seen.row_of != app.palate_opened) return std::nullopt;
    const auto found = seen.pictures.find(picture);
    return found == seen.pictures.end() ? std::nullopt : std::optional(found->second);
}

void on(Next& next, const SeeWeeks& intent) {
    next.app.charts_seen.weeks_of = next.app.weeks;
    next.app.charts_seen.weeks = intent.seen;
}

void on(Next& next, const SeePicture& intent) {
    ChartsSeen& seen = next.app.charts_seen;
    if (seen.row_of != next.app.palate_opened) seen.pictures.clear();
    seen.row_of = next.app.palate_opened;
    if (intent.seen)
        seen.pictures[intent.picture] = *intent.seen;
    else
        seen.pictures.erase(intent.picture);
}

}  // namespace sipladder::gui
