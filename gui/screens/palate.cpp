#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

void draw_row(const PalateRowView& row, std::size_t index, const Theme& theme,
              std::optional<Intent>& intent) {
    const float em = theme.em();
    ImGui::PushID(static_cast<int>(index));
    mark(theme, row.component);
    ImGui::SameLine();
    ImGui::PushFont(theme.fonts.strong);
    ImGui::TextUnformatted(row.title.c_str());
    ImGui::PopFont();
    const float width = std::min(ImGui::GetContentRegionAvail().x, 60.0F * em);
    const bool is_wide = width > 40.0F * em;
    const float text_width = is_wide ? 22.0F * em : 0.0F;
    ImGui::BeginGroup();
    draw_chart(theme, "ridge", row.ridge, width - text_width, 4.0F * 0.82F * em + 0.6F * em);
    ImGui::EndGroup();
    if (is_wide) ImGui::SameLine(0.0F, 1.0F * em);
    ImGui::BeginGroup();
    ImGui::PushFont(theme.fonts.strong);
    shown(theme, row.number);
    ImGui::PopFont();
    faint(theme, row.reported);
    faint(theme, row.age);
    const bool has_key = index < 9;
    const int key = digit(static_cast<int>(index) + 1);
    if (quiet(theme, "Open", has_key ? std::to_string(index + 1) : std::string{}) ||
        (has_key && keys_are_free() && pressed(key)))
        intent = OpenRow{index};
    ImGui::EndGroup();
    gap(theme, 0.8F);
    ImGui::PopID();
}

void draw_levels(const PalateDetailView& view, const Theme& theme) {
    if (!ImGui::BeginTable("levels", 3, ImGuiTableFlags_BordersInnerH,
                           {std::min(ImGui::GetContentRegionAvail().x, 32.0F * theme.em()), 0.0F}))
        return;
    ImGui::TableSetupColumn("level as mixed");
    ImGui::TableSetupColumn("right");
    ImGui::TableSetupColumn("mixed within");
    ImGui::TableHeadersRow();
    for (const LevelRow& level : view.levels) {
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(level.level.c_str());
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(level.right.c_str());
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(level.mixed_within.c_str());
    }
    ImGui::EndTable();
}

void draw_facts(const PalateDetailView& view, const Theme& theme) {
    if (!ImGui::BeginTable("facts", 2, 0,
                           {std::min(ImGui::GetContentRegionAvail().x, 46.0F * theme.em()), 0.0F}))
        return;
    ImGui::TableSetupColumn("value", ImGuiTableColumnFlags_WidthFixed, 15.0F * theme.em());
    ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch);
    for (const Shown& fact : view.facts) {
        ImGui::TableNextColumn();
        ImGui::PushFont(theme.fonts.strong);
        ImGui::TextWrapped("%s", fact.text.c_str());
        ImGui::PopFont();
        ImGui::TableNextColumn();
        ImGui::TextWrapped("%s", fact.whence.c_str());
    }
    ImGui::EndTable();
}

std::optional<Intent> draw_detail(const PalateDetailView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (quiet(theme, "All rows", "Escape")) intent = CloseRow{};
    gap(theme, 0.4F);
    heading(theme, view.title);
    large_paragraph(theme, view.number.text);
    gap(theme, 0.3F);
    draw_chart(theme, "curve", view.curve, std::min(ImGui::GetContentRegionAvail().x, 44.0F * theme.em()),
               19.0F * theme.em());
    for (const std::string& warning : view.warnings) caution(theme, warning);
    section(theme, "Where the number comes from");
    draw_facts(view, theme);
    section(theme, "The levels");
    draw_levels(view, theme);
    gap(theme, 0.5F);
    if (quiet(theme, "Print this curve", "Ctrl+P")) intent = PrintShown{};
    return intent;
}

}  // namespace

std::optional<Intent> draw_palate(const PalateView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (view.open) {
        intent = draw_detail(*view.open, theme);
    } else {
        heading(theme, "How little?");
        if (view.rows.empty()) {
            paragraph(theme, "No drill is done yet. The first threshold stands here once one is.");
            gap(theme, 0.5F);
            if (primary(theme, "Prepare a ladder")) intent = GoTo{Place::prepare};
        }
        for (std::size_t i = 0; i < view.rows.size(); ++i) draw_row(view.rows[i], i, theme, intent);
    }
    gap(theme, 0.6F);
    faint(theme, view.foot);
    return intent;
}

}  // namespace sipladder::gui
