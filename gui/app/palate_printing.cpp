#include "drills/sheets/personal_report.hpp"
#include "gui/app/printing.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::gui {

namespace {

namespace sheets = drills::sheets;

void print_opened(Next& next) {
    App& app = next.app;
    Notice notice{.lines = {kept_as_files}};
    std::size_t number = 0;
    for (const drills::PalatePicture& picture : app.palate_opened->detail.pictures) {
        const auto seen = chart::can_be_nearer(picture.chart) ? picture_seen(app, number) : std::nullopt;
        chart::Chart chart = seen ? chart::part_of(picture.chart, *seen) : picture.chart;
        if (chart.title.empty()) chart.title = app.palate_opened->detail.title;
        constexpr double line_pt = 10.6;
        notice.lines.push_back(keep_chart(app, std::move(chart), "palate_chart_" + std::to_string(++number),
                                          {.height_pt = std::max(120.0, line_pt * (picture.lines + 2.0))}));
    }
    if (number == 0)
        throw Refused("Print", "this row has no chart", "the report of all six questions, from the rows");
    app.notice = std::move(notice);
}

}  // namespace

void print_palate(Next& next) {
    App& app = next.app;
    if (app.open_row && app.palate_opened) return print_opened(next);
    if (app.palate_awaited)
        throw Refused("Print", "what was done last is still being worked in",
                      "a report in some seconds, when the line above the rows is gone");
    const bool is_empty = !app.palate || std::ranges::all_of(app.palate->palate.rows,
                                                             [](const auto& rows) { return rows.empty(); });
    if (is_empty)
        throw Refused("Print", "no drill is done yet", "one drill at least, for the report to tell of");
    sheets::PersonalInfo info{.for_whom = name_of_person(app), .made = app.now};
    for (const drills::NextDrill& one : app.palate->next) info.next.push_back(one.sentence);
    const std::filesystem::path file = file_for(app, "palate");
    sheets::write_personal_report(app.palate->palate, app.palate->tasted, info, app.paper, file);
    app.notice = Notice{.lines = {"Your report is in " + file.string()}};
}

}  // namespace sipladder::gui
