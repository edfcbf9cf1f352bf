#include "gui/views/palate.hpp"

#include "engine/chart/seen.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

using drills::PalateQuestion;

constexpr std::int64_t ms_a_day = 24LL * 3600 * 1000;

/// Days between two local dates, so that last night's sitting is yesterday's by breakfast.
std::int64_t local_day(const Instant& instant) {
    const std::int64_t local_ms = instant.utc_ms + std::int64_t{instant.offset_min} * 60'000;
    return (local_ms - (local_ms % ms_a_day + ms_a_day) % ms_a_day) / ms_a_day;
}

std::string explains(PalateQuestion question) {
    switch (question) {
        case PalateQuestion::how_little:
            return "Filled: detection, with a pale band for what papers report of the same. Outline: "
                   "recognition, "
                   "its band with dashed ends. Bars: 95 %.";
        case PalateQuestion::how_different:
            return "What has to be added, as a part of what is there, to be put right three times of four.";
        case PalateQuestion::which_one:
            return "Rows: what was in the cup. Columns: what you called it.";
        case PalateQuestion::how_strong:
            return "Your words and marks against what was in the cup; how much one thing hides another; "
                   "weight.";
        case PalateQuestion::where:
            return "Where you felt it, and how far that repeats.";
        case PalateQuestion::how_long:
            break;
    }
    return "Seconds from spitting until it was gone.";
}

std::vector<PalateNumberView> numbers_of(const std::vector<drills::PalateNumber>& numbers,
                                         const PalateFound& found, const Instant& now) {
    std::vector<PalateNumberView> shown;
    shown.reserve(numbers.size());
    for (const drills::PalateNumber& one : numbers)
        shown.push_back({one.what,
                         {one.text, one.whence},
                         one.drill ? age_of(found.tasted[*one.drill].last, now) : std::string{}});
    return shown;
}

/// Of a row whose numbers have none of their own.
std::string age_of_row(const drills::PalateRow& row, const PalateFound& found, const Instant& now) {
    const bool has_own = std::ranges::any_of(
        row.numbers, [](const drills::PalateNumber& one) { return one.drill.has_value(); });
    return has_own ? std::string{} : age_of(found.tasted[row.from.front()].last, now);
}

void show_goals(PalateView& view, const App& app) {
    const auto& rows = app.palate->palate.of(app.question);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const drills::PalateFit& fit = rows[i].fits.front();
        const drills::Plan& plan = app.palate->tasted[fit.drill].state->plan;
        const std::string& substance =
            drills::substance_of(plan, drills::line_of_series(plan, fit.series)).id;
        if (const auto goal = drills::goal_of(app.history->goals, substance, plan.base_name))
            view.rows[i].numbers.push_back(
                {"your goal",
                 {shortest(*goal, 3) + " " + unit_text(fit.threshold.scale), "set by you, in the opened row"},
                 {}});
    }
}

void show_rows(PalateView& view, const App& app) {
    const PalateFound& found = *app.palate;
    for (const drills::PalateRow& row : found.palate.of(app.question))
        view.rows.push_back({.title = row.title,
                             .component = row.component,
                             .numbers = numbers_of(row.numbers, found, app.now),
                             .pictures = row.pictures,
                             .sentences = row.sentences,
                             .warnings = row.warnings,
                             .reported = row.reported,
                             .age = age_of_row(row, found, app.now)});
    if (app.question == PalateQuestion::how_little) show_goals(view, app);
}

void show_next(PalateView& view, const App& app) {
    for (const drills::NextDrill& next : app.palate->next) view.next.push_back(next.sentence);
    view.next_note =
        "± is one standard deviation in log10 units: ±0.1 is a factor of 1.3, ±0.2 of 1.6, ±0.3 of 2. Most "
        "gain "
        "for a cup comes first.";
}

std::optional<Field> goal_field(const App& app) {
    const auto of = goal_of_open_row(app);
    if (!of) return std::nullopt;
    const bool is_blank = trimmed(app.typed_goal).empty();
    const auto read = number_from_typed(app.typed_goal);
    return Field{.text = app.typed_goal,
                 .unit = unit_text(of->scale),
                 .problem = is_blank || (read && *read > 0.0) ? "" : "a number above 0, or nothing"};
}

std::vector<PalatePictureView> pictures_of(const App& app, const drills::PalateDetail& detail) {
    std::vector<PalatePictureView> views;
    for (const drills::PalatePicture& picture : detail.pictures) {
        const auto seen = picture_seen(app, views.size());
        PalatePictureView view{.picture = picture, .whole = {}};
        if (chart::can_be_nearer(picture.chart)) view.whole = picture.chart.x;
        if (seen && view.whole) view.picture.chart = chart::part_of(picture.chart, *seen);
        views.push_back(std::move(view));
    }
    return views;
}

PalateDetailView detail_view(const App& app) {
    const PalateOpened& opened = *app.palate_opened;
    const Instant& now = app.now;
    const drills::PalateDetail& detail = opened.detail;
    const drills::PalateRow& row = opened.found->palate.of(opened.question)[opened.row];
    return {.title = detail.title,
            .component = detail.component,
            .numbers = numbers_of(detail.numbers, *opened.found, now),
            .pictures = pictures_of(app, detail),
            .sentences = detail.sentences,
            .warnings = detail.warnings,
            .facts = numbers_of(detail.facts, *opened.found, now),
            .tables = detail.tables,
            .age = age_of_row(row, *opened.found, now),
            .goal = goal_field(app)};
}

}  // namespace

std::string age_of(const Instant& then, const Instant& now) {
    const std::int64_t days = local_day(now) - local_day(then);
    if (days <= 0) return "today";
    if (days == 1) return "yesterday";
    return std::to_string(days) + " days ago";
}

PalateView palate_view(const App& app) {
    PalateView view;
    for (const PalateQuestion question : drills::every_palate_question)
        view.questions.push_back({.label = drills::text_of(question),
                                  .is_chosen = question == app.question,
                                  .note = {},
                                  .component = {}});
    view.explains = explains(app.question);
    view.foot =
        "Thresholds in water do not predict how strong wine tastes to you. What papers report comes from "
        "other people, other water and other methods; it is no norm.";
    if (app.history && !app.history->unfinished.empty())
        view.left_open =
            "A drill is left open; nothing of it stands here before it is finished or closed in Taste.";
    if (app.palate) {
        show_rows(view, app);
        show_next(view, app);
    }
    view.waits = waits_for(app.palate_awaited, app.palate != nullptr);
    if (view.rows.empty() && (app.palate || !app.palate_awaited)) {
        const PalateOffer offer = offer_for(app.question);
        view.empty = offer.text;
        view.offer = offer.label;
    }
    if (app.open_row && app.palate_opened) view.open = detail_view(app);
    return view;
}

}  // namespace sipladder::gui
