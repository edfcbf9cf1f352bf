#include "gui/screens/screens.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

void draw_table(const ClassResultsView::Table& table, const char* id, const Theme& theme) {
    const float em = theme.em();
    const ImGuiTableFlags flags = ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingStretchProp;
    if (!ImGui::BeginTable(id, static_cast<int>(table.columns.size()), flags,
                           {std::min(ImGui::GetContentRegionAvail().x, 60.0F * em), 0.0F}))
        return;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        // As wide as its longest cell asks for, so that the first frame is like the last.
        std::size_t longest = table.columns[i].size();
        for (const auto& row : table.rows) longest = std::max(longest, row[i].size());
        ImGui::TableSetupColumn(table.columns[i].c_str(), ImGuiTableColumnFlags_WidthStretch,
                                static_cast<float>(longest) + 2.0F);
    }
    ImGui::TableHeadersRow();
    for (const auto& row : table.rows)
        for (const std::string& cell : row) {
            ImGui::TableNextColumn();
            cell_text(theme, cell);
        }
    ImGui::EndTable();
    gap(theme, 0.5F);
}

void draw_drill(const ClassResultsView::Drill& drill, const Theme& theme) {
    section(theme, drill.name);
    faint(theme, "\"" + drill.question + "\"");
    for (const std::string& text : drill.sentences) paragraph(theme, text);
    if (drill.chart) {
        const float line = theme.fonts.small->FontSize;
        draw_chart(theme, "class", *drill.chart,
                   std::min(ImGui::GetContentRegionAvail().x, 52.0F * theme.em()),
                   static_cast<float>(drill.chart_lines) * line);
    }
    for (std::size_t i = 0; i < drill.tables.size(); ++i) {
        const std::string id = "table" + std::to_string(i);
        draw_table(drill.tables[i], id.c_str(), theme);
    }
    if (!drill.note.empty()) faint(theme, drill.note);
}

}  // namespace

std::optional<Intent> draw_class_results(const ClassResultsView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (primary(theme, "Write the reports", !view.drills.empty())) intent = WriteClassReports{};
    beside(theme, "for the wall: no names");
    if (tick(theme, "for the wall: no names", view.for_the_wall)) intent = TickWall{!view.for_the_wall};
    faint(theme,
          "The class report, a page for each person, and the ballots as a table. For the wall, nobody's name "
          "stands "
          "in the report; each page tells its person their own name on it.");
    for (const std::string& text : view.missing) faint(theme, text);
    for (std::size_t i = 0; i < view.drills.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        draw_drill(view.drills[i], theme);
        ImGui::PopID();
    }
    return intent;
}

}  // namespace sipladder::gui
