// Typing in ballots: what is asked stands large above, the class below, one row a person.

#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

using drills::classroom::Pass;
using Mark = ClassEntryView::Mark;

/// What the keys mean; the grid has them all.
std::optional<Intent> keys(const ClassEntryView& view) {
    if (const char c = typed_character(); c != 0) return BallotKey{c};
    if (pressed(Key::backspace)) return BallotBack{};
    if (pressed(Key::enter) || pressed(Key::keypad_enter) || pressed(Key::tab))
        if (!ImGui::GetIO().KeyCtrl) return BallotSkip{};
    if (pressed(Key::del) && view.seat) return SeatCame{*view.seat, !view.came};
    if (pressed(Key::up) && view.up) return BallotGo{*view.up};
    if (pressed(Key::down) && view.down) return BallotGo{*view.down};
    if (pressed(Key::left) && view.left) return BallotGo{*view.left};
    if (pressed(Key::right) && view.right) return BallotGo{*view.right};
    return std::nullopt;
}

std::optional<Intent> draw_asked(const ClassEntryView& view, const Theme& theme) {
    std::optional<Intent> intent;
    faint(theme, view.pass + ": " + view.progress);
    large_paragraph(theme, view.where);
    if (!view.asks.empty()) paragraph(theme, view.asks);
    if (!view.typed.empty()) emphasis(theme, view.typed + "\u2026");
    if (!view.complaint.empty()) caution(theme, view.complaint);
    if (!view.passed_over.empty()) caution(theme, view.passed_over);
    gap(theme, 0.3F);
    if (view.is_nobody) {
        if (primary(theme, "To the roster")) intent = GoToStep{ClassStep::roster};
    } else if (view.is_full && !view.is_second) {
        if (primary(theme, "Go over the pile once more")) intent = BeginPass{Pass::second};
        beside(theme, "To the results");
        if (quiet(theme, "To the results", "F7")) intent = GoToStep{ClassStep::results};
    } else if (view.is_full) {
        if (primary(theme, "To the results")) intent = GoToStep{ClassStep::results};
    } else if (view.is_second) {
        if (quiet(theme, "Back to the first pass")) intent = BeginPass{Pass::first};
    }
    return intent;
}

std::optional<Intent> draw_differences(const ClassEntryView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (view.differs.empty()) return intent;
    section(theme, "Look up on paper: which is right?");
    for (std::size_t i = 0; i < view.differs.size(); ++i) {
        const ClassEntryView::Differs& one = view.differs[i];
        ImGui::PushID(static_cast<int>(i));
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted((one.where + ":").c_str());
        beside(theme, one.first, 0.0F);
        if (quiet(theme, one.first + "##first")) intent = SettleBallot{one.cell, Pass::first};
        beside(theme, one.second, 0.0F);
        if (quiet(theme, one.second + "##second")) intent = SettleBallot{one.cell, Pass::second};
        ImGui::PopID();
    }
    return intent;
}

std::optional<Intent> draw_line(const ClassEntryView::Line& line, const Theme& theme) {
    const bool is_here = line.mark == Mark::here;
    const bool differs = line.mark == Mark::differs;
    ImGui::PushStyleColor(ImGuiCol_Header, is_here ? theme.colour.hover : ImVec4{0, 0, 0, 0});
    ImGui::PushStyleColor(ImGuiCol_Text, differs ? theme.colour.warning : theme.colour.ink);
    const std::string text =
        line.text.empty() ? (is_here ? "?" : "\u00B7") : (differs ? "! " : "") + line.text;
    const bool clicked = ImGui::Selectable(text.c_str(), is_here);
    ImGui::PopStyleColor(2);
    if (is_here) ImGui::SetScrollHereY(0.5F);
    if (clicked) return BallotGo{line.cell};
    return std::nullopt;
}

std::optional<Intent> draw_row(const ClassEntryView::Row& row, std::size_t columns, const Theme& theme) {
    std::optional<Intent> intent;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::Text("%d", static_cast<int>(row.seat + 1));
    ImGui::TableNextColumn();
    std::string name = row.name;
    if (!row.why_not.empty()) name.append(", ").append(row.why_not);
    ImGui::PushFont(row.is_here ? theme.fonts.strong : theme.fonts.body);
    ImGui::PushStyleColor(ImGuiCol_Text, row.came ? theme.colour.ink : theme.colour.faint);
    ImGui::TextUnformatted(elided(name, ImGui::GetContentRegionAvail().x).c_str());
    ImGui::PopStyleColor();
    ImGui::PopFont();
    ImGui::TableNextColumn();
    if (ImGui::SmallButton(row.came ? "not there" : "came")) intent = SeatCame{row.seat, !row.came};
    for (std::size_t i = 0; i < columns; ++i) {
        ImGui::TableNextColumn();
        if (i >= row.lines.size() || !row.came) continue;
        ImGui::PushID(static_cast<int>(i));
        if (auto wanted = draw_line(row.lines[i], theme)) intent = std::move(wanted);
        ImGui::PopID();
    }
    return intent;
}

std::optional<Intent> draw_grid(const ClassEntryView& view, const Theme& theme) {
    std::optional<Intent> intent;
    std::size_t columns = 0;
    for (const ClassEntryView::Row& row : view.rows) columns = std::max(columns, row.lines.size());
    const float em = theme.em();
    const float height = std::max(12.0F * em, ImGui::GetContentRegionAvail().y);
    const ImGuiTableFlags flags =
        ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollX | ImGuiTableFlags_ScrollY;
    if (!ImGui::BeginTable("ballots", static_cast<int>(columns) + 3, flags, {0.0F, height})) return intent;
    ImGui::TableSetupScrollFreeze(2, 1);
    ImGui::TableSetupColumn("seat", ImGuiTableColumnFlags_WidthFixed, 2.2F * em);
    ImGui::TableSetupColumn("who", ImGuiTableColumnFlags_WidthFixed, 10.0F * em);
    ImGui::TableSetupColumn("##came", ImGuiTableColumnFlags_WidthFixed, 4.8F * em);
    for (std::size_t i = 0; i < columns; ++i)
        ImGui::TableSetupColumn(std::to_string(i + 1).c_str(), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableHeadersRow();
    for (const ClassEntryView::Row& row : view.rows) {
        ImGui::PushID(static_cast<int>(row.seat));
        if (auto wanted = draw_row(row, columns, theme)) intent = std::move(wanted);
        ImGui::PopID();
    }
    ImGui::EndTable();
    return intent;
}

}  // namespace

std::optional<Intent> draw_class_entry(const ClassEntryView& view, const Theme& theme) {
    std::optional<Intent> intent = keys(view);
    const auto take = [&](std::optional<Intent> wanted) {
        if (wanted && !intent) intent = std::move(wanted);
    };
    take(draw_asked(view, theme));
    take(draw_differences(view, theme));
    gap(theme, 0.3F);
    std::string shown;
    for (const Choice& drill : view.drills)
        if (drill.is_chosen) shown = drill.label;
    faint(theme, shown + ", one row a person");
    take(draw_grid(view, theme));
    return intent;
}

}  // namespace sipladder::gui
