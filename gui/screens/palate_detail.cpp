#include "gui/screens/palate_parts.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

/// Rows can have the focus, so that the keyboard gets past a table that is higher than the window.
void begin_row_of_table(std::size_t row) {
    ImGui::TableNextColumn();
    ImGui::PushID(static_cast<int>(row));
    ImGui::Selectable("##row", false,
                      ImGuiSelectableFlags_SpanAllColumns | ImGuiSelectableFlags_AllowItemOverlap);
    ImGui::SameLine(0.0F, 0.0F);
    ImGui::PopID();
}

void draw_facts(const PalateDetailView& view, const Theme& theme) {
    const float width = std::min(ImGui::GetContentRegionAvail().x, 58.0F * theme.em());
    if (!ImGui::BeginTable("facts", 3, 0, {width, 0.0F})) return;
    ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch, 0.27F);
    ImGui::TableSetupColumn("value", ImGuiTableColumnFlags_WidthStretch, 0.38F);
    ImGui::TableSetupColumn("whence", ImGuiTableColumnFlags_WidthStretch, 0.35F);
    for (std::size_t row = 0; row < view.facts.size(); ++row) {
        const PalateNumberView& fact = view.facts[row];
        begin_row_of_table(row);
        cell_text(theme, fact.what, true);
        ImGui::TableNextColumn();
        ImGui::PushFont(theme.fonts.strong);
        cell_text(theme, fact.number.text);
        ImGui::PopFont();
        ImGui::TableNextColumn();
        cell_text(theme, fact.number.whence, true);
    }
    ImGui::EndTable();
}

/// Columns as wide as their longest text, as far as there is room; the widest gives way.
std::vector<float> widths_of(const drills::PalateTable& table, const Theme& theme, float room) {
    std::vector<float> widths;
    for (std::size_t column = 0; column < table.columns.size(); ++column) {
        float widest = ImGui::CalcTextSize(table.columns[column].c_str()).x;
        for (const auto& row : table.rows)
            widest = std::max(widest, ImGui::CalcTextSize(row[column].c_str()).x);
        widths.push_back(widest + 1.2F * theme.em());
    }
    float all = 0.0F;
    for (const float width : widths) all += width;
    if (all <= room || widths.empty()) return widths;
    const auto widest = std::max_element(widths.begin(), widths.end());
    *widest = std::max(*widest - (all - room), 0.2F * room);
    return widths;
}

void draw_table(const drills::PalateTable& table, const Theme& theme) {
    section(theme, table.title);
    const float room = std::min(ImGui::GetContentRegionAvail().x, 66.0F * theme.em());
    const std::vector<float> widths = widths_of(table, theme, room);
    float all = 0.0F;
    for (const float width : widths) all += width;
    if (!ImGui::BeginTable(table.title.c_str(), static_cast<int>(widths.size()),
                           ImGuiTableFlags_BordersInnerH, {std::min(all, room), 0.0F}))
        return;
    for (std::size_t column = 0; column < widths.size(); ++column)
        ImGui::TableSetupColumn(table.columns[column].c_str(), ImGuiTableColumnFlags_WidthStretch,
                                widths[column]);
    for (const std::string& column : table.columns) {
        ImGui::TableNextColumn();
        cell_text(theme, column, true);
    }
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        for (std::size_t column = 0; column < widths.size(); ++column) {
            if (column == 0)
                begin_row_of_table(row);
            else
                ImGui::TableNextColumn();
            cell_text(theme, table.rows[row][column]);
        }
    ImGui::EndTable();
}

std::optional<Intent> draw_picture(const PalatePictureView& view, std::size_t number, const Theme& theme) {
    constexpr float most_ems = 44.0F;
    if (!view.whole) {
        draw_picture_of(view.picture, "picture", theme, most_ems);
        gap(theme, 0.4F);
        return std::nullopt;
    }
    const float width = std::min(ImGui::GetContentRegionAvail().x, most_ems * theme.em());
    const float height = static_cast<float>(view.picture.lines) * theme.fonts.small->FontSize;
    const auto seen = draw_seen_chart(theme, "picture", view.picture.chart, *view.whole, width, height);
    if (!seen) return std::nullopt;
    return SeePicture{number, *seen == chart::all_of(*view.whole) ? std::nullopt : seen};
}

/// What the advice measures the distance from.
void draw_goal(const Field& goal, const Theme& theme, std::optional<Intent>& intent) {
    word_before(theme, "your goal", 12.0F);
    if (auto text = field(theme, "##goal", goal, 6.0F)) intent = TypeGoal{std::move(*text)};
    beside(theme, "Keep the goal", 0.0F);
    if (quiet(theme, "Keep the goal")) intent = KeepGoal{};
}

}  // namespace

std::optional<Intent> draw_palate_detail(const PalateDetailView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (quiet(theme, "All rows", "Escape")) intent = CloseRow{};
    gap(theme, 0.4F);
    if (view.component) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        mark_at(theme, *view.component, {at.x, at.y + 0.25F * theme.em()});
        ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 1.7F * theme.em());
    }
    heading(theme, view.title);
    draw_numbers(view.numbers, theme);
    if (!view.age.empty()) faint(theme, view.age);
    if (view.goal) draw_goal(*view.goal, theme, intent);
    gap(theme, 0.3F);
    for (std::size_t i = 0; i < view.pictures.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (auto wanted = draw_picture(view.pictures[i], i, theme)) intent = std::move(wanted);
        ImGui::PopID();
    }
    for (const std::string& sentence : view.sentences) paragraph(theme, sentence);
    for (const std::string& warning : view.warnings) caution(theme, warning);
    if (quiet(theme, "Keep these charts", "Ctrl+P")) intent = PrintShown{};
    section(theme, "Where the numbers come from");
    draw_facts(view, theme);
    for (std::size_t i = 0; i < view.tables.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));  // two may bear one title
        draw_table(view.tables[i], theme);
        ImGui::PopID();
    }
    return intent;
}

}  // namespace sipladder::gui
