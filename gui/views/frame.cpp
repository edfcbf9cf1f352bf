#include "gui/views/frame.hpp"

#include "engine/safety/intake.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

void show_places(FrameView& view, const App& app) {
    view.places = {{Place::prepare, "Prepare", "Ctrl+1", app.place == Place::prepare},
                   {Place::taste, "Taste", "Ctrl+2", app.place == Place::taste},
                   {Place::palate, "Palate", "Ctrl+3", app.place == Place::palate},
                   {Place::weeks, "Weeks", "Ctrl+4", app.place == Place::weeks},
                   {Place::classroom, "Class", "Ctrl+5", app.place == Place::classroom},
                   {Place::records, "Records", "Ctrl+6", app.place == Place::records}};
}

std::string clock_of(const Instant& instant) {
    return to_iso8601(instant).substr(11, 5);
}

/// Of the demo, which is made in one go, its newest moment: when its rows were written means nothing.
void show_last_write(FrameView& view, const App& app) {
    std::optional<Instant> last = app.journal->last_write();
    if (!last) return;
    const bool is_invented = app.invented_until && app.invented_until->utc_ms >= last->utc_ms;
    if (is_invented) last = app.invented_until;
    const std::string when = to_date(*last) == to_date(app.now) ? clock_of(*last) : to_date(*last);
    if (is_invented)
        view.status.push_back(
            {"invented up to " + when, "the newest moment in the demo: " + to_iso8601(*last)});
    else
        view.status.push_back(
            {"last write " + when, "the moment of the row that came last: " + to_iso8601(*last)});
}

void show_status(FrameView& view, const App& app) {
    const std::string file =
        app.journal->file().empty() ? "in memory, gone at the end" : app.journal->file().filename().string();
    view.status.push_back({"Journal: " + file, app.journal->file().string()});
    show_last_write(view, app);
    if (!app.history) return;
    std::size_t cups = app.history->cups_today;
    long seconds = app.history->seconds_today;
    if (app.running) {
        // An unfinished drill that was read at the start is in the history already.
        const bool is_counted = std::ranges::any_of(
            app.history->unfinished, [&](const PastDrill& past) { return past.drill == app.running->drill; });
        if (!is_counted) cups += cups_tasted(*app.running);
        seconds += is_counted ? 0 : static_cast<long>((app.now.utc_ms - app.running->started.utc_ms) / 1000);
    }
    view.status.push_back({counted(cups, "cup", "cups") + ", " + std::to_string(seconds / 60) + " min today",
                           "cups served, known ones too, and time in drills since midnight"});
    // Its steps would tell the level, so nothing of it while a drill runs or is left open to be gone on with.
    if (app.running || !app.history->unfinished.empty()) return;
    for (std::string& amount : safety::amounts(app.history->taken_today))
        view.status.push_back({std::move(amount), "today, if all that was served had been swallowed"});
}

/// An invented person is marked wherever the name stands, once.
std::string shown_name(const journal::Person& person) {
    const bool says_so = person.name.find("(invented)") != std::string::npos;
    return person.name + (person.invented && !says_so ? " (invented)" : "");
}

void show_people(FrameView& view, const App& app) {
    view.people.typed_name = app.typed_name;
    view.people.asks_for_name = app.people.empty();
    for (const journal::Person& person : app.people) {
        const bool is_here = app.person && *app.person == person.id;
        view.people.people.push_back({person.id, shown_name(person), is_here});
        if (is_here) view.person = view.people.people.back().name;
    }
}

void show_cautions(FrameView& view, const App& app) {
    for (const safety::Caution& caution : app.content->cautions.texts)
        view.cautions.texts.push_back(caution.text);
    view.cautions.has_person = app.person.has_value();
    view.cautions.already_read = app.history && app.history->cautions_read;
    for (const std::string& reason : app.content->cautions.no_ethanol_reasons) {
        const bool was_ticked = app.history && std::ranges::find(app.history->no_ethanol_reasons, reason) !=
                                                   app.history->no_ethanol_reasons.end();
        view.cautions.reasons.push_back(
            {.label = reason,
             .is_chosen = app.ticked_reasons.contains(reason) || (view.cautions.already_read && was_ticked),
             .note = {},
             .component = {}});
    }
}

/// "Class, Entry": where in the class, and whether something is being worked out.
std::string class_title(const ClassroomView& view) {
    std::string title = "Class";
    for (const ClassStepView& step : view.steps)
        if (step.is_here) title.append(", ").append(step.label);
    if (view.entry && view.entry->is_full && !view.entry->is_nobody) title.append(", typed in");
    return view.waits_for.empty() ? title : title.append(", at work");
}

/// What the window list says. A drill's part tells where it stands and what is to be done, never a level.
std::string title_of(const App& app, const FrameView& view) {
    std::string title = app.is_demo() ? "Sipladder (demo, invented): " : "Sipladder: ";
    if (app.dialog == Dialog::people) return title + "who tastes?";
    if (app.dialog == Dialog::cautions) return title + "cautions";
    if (app.dialog == Dialog::settings) return title + "settings";
    if (app.dialog == Dialog::handbook) return title + "handbook";
    if (view.prepare) return title + (view.prepare->is_planning ? "Prepare, planning" : "Prepare");
    if (view.palate)
        return title + "Palate, " + drills::text_of(app.question) + (view.palate->open ? " one row" : "");
    if (view.weeks) return title + "Weeks";
    if (view.records) return title + (view.records->open ? "Records, a sitting" : "Records");
    if (view.classroom) return title + class_title(*view.classroom);
    if (view.taste && view.taste->finding) return title + "Taste, done";
    if (!view.taste || !view.taste->drill) return title + (view.taste ? "Taste" : "start");
    const DrillView& drill = *view.taste->drill;
    switch (drill.phase) {
        case Phase::acquaint:
            return title + "before the first";
        case Phase::pour:
            return title + drill.heading + ", pour";
        case Phase::answer:
            return title + drill.heading + ", answer";
        case Phase::reveal:
            return title + drill.heading + ", look beneath";
        case Phase::rest:
            return title + drill.heading + ", rest" + (drill.is_poured ? ", poured" : "");
        case Phase::done:
            break;
    }
    return title + drill.heading;
}

}  // namespace

FrameView::FrameView() = default;
FrameView::FrameView(const FrameView&) = default;
FrameView::FrameView(FrameView&&) noexcept = default;
FrameView& FrameView::operator=(const FrameView&) = default;
FrameView& FrameView::operator=(FrameView&&) noexcept = default;
FrameView::~FrameView() = default;

FrameView frame_view(const App& app) {
    FrameView view;
    view.place = app.place;
    view.dialog = app.dialog;
    view.is_demo = app.is_demo();
    view.dark = app.dark;
    view.scale = app.scale;
    view.can_leave = !app.running;
    view.can_take_back = app.running ? app.running->picked || app.running->found || app.running->stop_asked
                                     : (app.place == Place::prepare && !app.earlier.empty()) ||
                                           (app.place == Place::classroom && app.classroom.kept &&
                                            app.classroom.step == ClassStep::entry);
    view.notice = app.notice;
    show_places(view, app);
    show_status(view, app);
    show_people(view, app);
    show_cautions(view, app);
    if (app.help_open) view.help = help_view(app);
    if (app.dialog == Dialog::settings) view.settings = settings_view(app);
    if (app.dialog == Dialog::handbook) view.handbook = handbook_view(app);
    if (app.place == Place::prepare) view.prepare = prepare_view(app);
    if (app.place == Place::taste) view.taste = taste_view(app);
    if (app.place == Place::palate) view.palate = palate_view(app);
    if (app.place == Place::weeks) view.weeks = shown_weeks(app);
    if (app.place == Place::classroom) view.classroom = classroom_view(app);
    if (app.place == Place::records) view.records = records_view(app);
    view.title = title_of(app, view);
    return view;
}

}  // namespace sipladder::gui
