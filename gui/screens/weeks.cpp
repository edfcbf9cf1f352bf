#include "gui/screens/screens.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

/// A date between two buttons that take it to the sitting before and after.
std::optional<Intent> draw_end(const PeriodsView::End& end, const Theme& theme) {
    std::optional<Intent> intent;
    ImGui::PushID(static_cast<int>(end.end));
    ImGui::BeginDisabled(!end.can_go_back);
    if (quiet(theme, "-")) intent = MovePeriod{end.end, false};
    ImGui::EndDisabled();
    if (ImGui::IsItemHovered()) tooltip(theme, "the sitting before");
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(end.date.c_str());
    ImGui::SameLine();
    ImGui::BeginDisabled(!end.can_go_on);
    if (quiet(theme, "+")) intent = MovePeriod{end.end, true};
    ImGui::EndDisabled();
    if (ImGui::IsItemHovered()) tooltip(theme, "the sitting after");
    ImGui::PopID();
    return intent;
}

std::optional<Intent> draw_periods(const PeriodsView& view, const Theme& theme) {
    std::optional<Intent> intent;
    for (std::size_t period = 0; period < 2; ++period) {
        begin_row(theme, period == 0 ? "Earlier" : "Later");
        if (auto wanted = draw_end(view.ends.at(2 * period), theme)) intent = std::move(wanted);
        ImGui::SameLine();
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted("to");
        ImGui::SameLine();
        if (auto wanted = draw_end(view.ends.at(2 * period + 1), theme)) intent = std::move(wanted);
        end_row();
    }
    for (std::size_t i = 0; i < view.sentences.size(); ++i) {
        ImGui::PushFont(i == 0 ? theme.fonts.strong : theme.fonts.body);
        paragraph(theme, view.sentences[i]);
        ImGui::PopFont();
    }
    return intent;
}

std::optional<Intent> draw_row(const WeeksRowView& row, std::size_t number, const Theme& theme) {
    std::optional<Intent> intent;
    const float em = theme.em();
    mark(theme, row.component);
    ImGui::SameLine();
    ImGui::PushFont(theme.fonts.strong);
    ImGui::TextUnformatted(row.title.c_str());
    ImGui::PopFont();
    const float width = std::min(ImGui::GetContentRegionAvail().x, 54.0F * em);
    if (const auto seen = draw_seen_chart(theme, "weeks", row.chart, row.whole, width, 13.0F * em))
        intent = SeeWeeks{*seen == chart::all_of(row.whole) ? std::nullopt : seen};
    ImGui::PushFont(theme.fonts.strong);
    paragraph(theme, row.sentence);
    ImGui::PopFont();
    for (const std::string& text : row.more) faint(theme, text);
    if (row.can_compare && quiet(theme, row.periods ? "Compare no more" : "Compare two periods"))
        intent = ComparePeriods{number};
    if (row.periods)
        if (auto wanted = draw_periods(*row.periods, theme)) intent = std::move(wanted);
    gap(theme, 1.0F);
    return intent;
}

}  // namespace

std::optional<Intent> draw_weeks(const WeeksView& view, const Theme& theme) {
    std::optional<Intent> intent;
    heading(theme, "Has it moved?");
    draw_waits(view.waits, theme);
    if (!view.empty.empty()) {
        paragraph(theme, view.empty);
        gap(theme, 0.5F);
        if (primary(theme, "To Taste")) intent = GoTo{Place::taste};
    }
    for (std::size_t i = 0; i < view.rows.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (auto wanted = draw_row(view.rows[i], i, theme)) intent = std::move(wanted);
        ImGui::PopID();
    }
    if (view.rows.empty()) return intent;
    faint(theme, view.foot);
    gap(theme, 0.4F);
    if (quiet(theme, "Keep these charts", "Ctrl+P")) intent = PrintShown{};
    return intent;
}

}  // namespace sipladder::gui
