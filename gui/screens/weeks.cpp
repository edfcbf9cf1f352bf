#include "gui/screens/screens.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

void draw_row(const WeeksRowView& row, const Theme& theme) {
    const float em = theme.em();
    mark(theme, row.component);
    ImGui::SameLine();
    ImGui::PushFont(theme.fonts.strong);
    ImGui::TextUnformatted(row.title.c_str());
    ImGui::PopFont();
    draw_chart(theme, "weeks", row.chart, std::min(ImGui::GetContentRegionAvail().x, 54.0F * em), 13.0F * em);
    ImGui::PushFont(theme.fonts.strong);
    paragraph(theme, row.sentence);
    ImGui::PopFont();
    for (const std::string& text : row.more) faint(theme, text);
    gap(theme, 1.0F);
}

}  // namespace

std::optional<Intent> draw_weeks(const WeeksView& view, const Theme& theme) {
    std::optional<Intent> intent;
    heading(theme, "Has it moved?");
    if (!view.empty.empty()) {
        paragraph(theme, view.empty);
        gap(theme, 0.5F);
        if (primary(theme, "To Taste")) intent = GoTo{Place::taste};
    }
    for (std::size_t i = 0; i < view.rows.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        draw_row(view.rows[i], theme);
        ImGui::PopID();
    }
    if (view.empty.empty()) faint(theme, view.foot);
    return intent;
}

}  // namespace sipladder::gui
