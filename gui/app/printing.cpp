// What Ctrl+P does: the sheet that belongs to what is shown, as a PDF in the folder of sheets. A file's name
// tells what it is and when it was made, never a level.

#include "gui/app/printing.hpp"

#include "drills/charts.hpp"
#include "drills/sheets/bench_sheet.hpp"
#include "drills/sheets/pour_card.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"
#include "gui/app/weeks_charts.hpp"

#include <algorithm>
#include <filesystem>

namespace sipladder::gui {

std::filesystem::path file_for(const App& app, const std::string& what, const std::string& ending) {
    std::error_code error;
    std::filesystem::create_directories(app.sheets, error);
    if (error) throw Failed("cannot make the folder " + app.sheets.string() + ": " + error.message());
    const std::string time = to_iso8601(app.now);
    const std::string stem = what + "_" + to_date(app.now) + "_" + time.substr(11, 2) + time.substr(14, 2);
    std::filesystem::path file = app.sheets / (stem + ending);
    for (int again = 2; std::filesystem::exists(file); ++again) {
        std::string numbered = stem;
        numbered.append("_").append(std::to_string(again)).append(ending);
        file = app.sheets / numbered;
    }
    return file;
}

std::string name_of_person(const App& app) {
    for (const journal::Person& person : app.people)
        if (app.person && person.id == *app.person)
            return person.name + (person.invented && person.name.find("(invented)") == std::string::npos
                                      ? " (invented)"
                                      : "");
    return {};
}

namespace sheets = drills::sheets;

std::string keep_chart(const App& app, chart::Chart chart, const std::string& what,
                       const sheets::ChartSize& size) {
    chart.title += ", " + name_of_person(app);
    const std::filesystem::path page = file_for(app, what);
    sheets::write_chart_page(chart, app.paper, app.now, page);
    sheets::write_chart_png(chart, size, file_for(app, what, ".png"));
    sheets::write_chart_svg(chart, size, file_for(app, what, ".svg"));
    return page.string();
}

namespace {

/// In full, none twice.
std::vector<std::string> cautions_about(const App& app, const std::vector<std::string>& substances) {
    std::vector<std::string> texts;
    for (const std::string& substance : substances)
        for (const safety::Caution& caution : safety::cautions_for(app.content->cautions, substance))
            if (std::ranges::find(texts, caution.text) == texts.end()) texts.push_back(caution.text);
    return texts;
}

sheets::SheetInfo sheet_info(const App& app, const Prepared& sitting) {
    sheets::SheetInfo info;
    info.for_whom = name_of_person(app);
    const std::size_t people = app.bench.plan->request.demand.people;
    if (people > 1) info.for_whom += ", " + std::to_string(people) + " tasters";
    const drills::Budget budget = drills::budget_of(sitting.plans);
    info.made = app.now;
    info.cups = budget.cups;
    info.minutes = budget.minutes;
    info.most_intake = budget.worst;
    info.volume = app.usual.volume;
    std::vector<std::string> substances;
    for (const Bench* bench : benches(app)) substances.push_back(bench->setup.substance);
    info.cautions = cautions_about(app, substances);
    return info;
}

void print_bench_sheet(Next& next) {
    App& app = next.app;
    const auto sitting = prepared(app);
    std::vector<const solution::MixPlan*> plans;
    for (const Bench* bench : benches(app))
        if (bench->plan) plans.push_back(bench->plan.get());
    if (!sitting || plans.size() <= app.beside.size())
        throw Refused("Print", "a ladder of this sitting has no plan yet", "wait for it, or mend its fields");
    sheets::SheetInfo info = sheet_info(app, *sitting);
    if (plans.size() == 1 && sitting->plans.size() == 1) {
        info.blinding = text_of(sitting->plans.front().blinding);
        const std::filesystem::path file =
            file_for(app, "bench_sheet_" + plans.front()->request.substance.id);
        sheets::write_bench_sheet(*plans.front(), info, app.paper, file);
        app.notice = Notice{.lines = {"The bench sheet is in " + file.string()}};
        return;
    }
    sheets::SittingInfo all{.name = sitting_name(app), .drills = {}, .info = std::move(info)};
    for (const drills::Plan& plan : sitting->plans) all.drills.push_back(line_of(plan));
    const std::filesystem::path file = file_for(app, "bench_sheet_sitting");
    sheets::write_bench_sheet(plans, all, app.paper, file);
    app.notice = Notice{.lines = {"The bench sheet of all ladders is in " + file.string()}};
}

void print_pour_card(Next& next) {
    App& app = next.app;
    const drills::State& state = app.running->state;
    const std::filesystem::path file = file_for(app, "pour_card_" + state.plan.substance.id);
    std::vector<std::string> substances;
    for (std::size_t line = 0; line < drills::line_count(state.plan); ++line)
        substances.push_back(drills::substance_of(state.plan, line).id);
    sheets::write_pour_card(drills::pour_card(state.plan, state.seed),
                            {.what = name_of_drill(state.plan) + ", " + title_of(state.plan),
                             .for_whom = name_of_person(app),
                             .cup = state.plan.cup,
                             .made = app.now,
                             .cautions = cautions_about(app, substances),
                             .volume = app.usual.volume},
                            app.paper, file);
    app.notice =
        Notice{.lines = {"The pour card is in " + file.string(),
                         "It is for your helper alone: let them open and print it, and do not look."}};
}

void print_curve(Next& next, const PastDrill& past) {
    using drills::Kind;
    App& app = next.app;
    const drills::Plan& plan = past.state.plan;
    std::vector<chart::Chart> charts = drills::charts_of(past.state);
    if (charts.empty()) {
        if (plan.kind == Kind::quick_look || plan.kind == Kind::tray_check)
            throw Refused("Print", "this drill has no curve", "a drill with right and wrong answers has one");
        charts.push_back(drills::curve_of(past.state, drills::threshold_so_far(past.state)));
        charts.front().title = title_of(plan);
    }
    Notice notice{.lines = {"On paper now:"}};
    for (std::size_t i = 0; i < charts.size(); ++i) {
        std::string number;  // built up: GCC 12 sees an overlap in "_" + text where there is none
        if (charts.size() > 1) number.append("_").append(std::to_string(i + 1));
        const std::filesystem::path file = file_for(app, "curve_" + plan.substance.id + number);
        charts[i].title += ", " + name_of_person(app) + ", " + to_date(past.started);
        sheets::write_chart_page(charts[i], app.paper, app.now, file);
        notice.lines.push_back(file.string());
    }
    app.notice = std::move(notice);
}

}  // namespace

void on(Next& next, const PrintShown&) {
    App& app = next.app;
    if (app.running) {
        if (app.running->state.plan.blinding == drills::Blinding::served &&
            phase_of(*app.running) == Phase::acquaint)
            return print_pour_card(next);
        throw Refused("Print", "nothing is printed while a drill runs",
                      "print the pour card before the first cup, the curve at the end");
    }
    if (app.place == Place::classroom && app.classroom.kept)
        return app.classroom.step == ClassStep::results ? on(next, WriteClassReports{})
                                                        : on(next, WriteClassSheets{});
    if (app.place == Place::prepare && app.bench.plan) return print_bench_sheet(next);
    if (app.place == Place::palate) return print_palate(next);
    if (app.place == Place::weeks) return print_weeks(next);
    if (app.place == Place::taste && app.just_done)
        if (const PastDrill* past = done_drill(*app.history, *app.just_done)) return print_curve(next, *past);
    throw Refused("Print", "nothing here goes on paper",
                  "a bench sheet prints from Prepare, a report from Palate, charts from Palate and Weeks");
}

}  // namespace sipladder::gui
