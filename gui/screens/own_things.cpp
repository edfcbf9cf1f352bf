// A list of own things, each to be struck out, and the form that makes one.

#include "gui/screens/own_things.hpp"

#include "engine/text.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

std::optional<Intent> draw_asked(const RecordAskedView& asked, const Theme& theme) {
    std::optional<Intent> intent;
    section(theme, asked.title);
    faint(theme, asked.explains);
    word_before(theme, "Why", 24.0F);
    if (const auto text =
            field(theme, "##reason", Field{.text = asked.reason, .unit = {}, .problem = {}}, 24.0F))
        intent = TypeReason{*text};
    const bool entered = ImGui::IsItemFocused() && pressed_enter();
    gap(theme, 0.3F);
    const bool can = !trimmed(asked.reason).empty();
    if (primary(theme, asked.label, can, "Enter") || (entered && can)) intent = StrikeOut{};
    beside(theme, "Let it be");
    if (quiet(theme, "Let it be", "Escape")) intent = AskToStrike{};
    gap(theme, 0.3F);
    rule(theme);
    return intent;
}

std::optional<Intent> draw_own_list(const OwnListView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (view.asked) {
        intent = draw_asked(*view.asked, theme);
        gap(theme, 0.4F);
    }
    if (!view.empty.empty()) paragraph(theme, view.empty);
    for (std::size_t i = 0; i < view.lines.size(); ++i) {
        const OwnLine& line = view.lines[i];
        const bool is_struck = !line.struck.empty();
        ImGui::PushID(static_cast<int>(i));
        if (is_struck)
            faint(theme, line.name + ", " + line.kind);
        else
            section(theme, line.name);
        if (!line.about.empty()) paragraph(theme, line.about);
        faint(theme, is_struck ? line.struck : "since " + line.since);
        if (!line.problem.empty()) caution(theme, "Not offered: " + line.problem);
        if (line.can_change) {
            if (quiet(theme, "Change it")) intent = ChangeOwn{line.fact};
            beside(theme, "Strike out", 0.0F);
        }
        if (quiet(theme, is_struck ? "Put back" : "Strike out")) intent = AskToStrike{line.fact, is_struck};
        gap(theme, 0.4F);
        ImGui::PopID();
    }
    return intent;
}

namespace {

float width_of(const OwnFieldView& view) {
    constexpr float number_ems = 6.0F;
    constexpr float text_ems = 20.0F;
    return view.field.unit.empty() ? text_ems : number_ems;
}

/// @param takes_focus  it is what the form goes on at
std::optional<Intent> draw_own_field(const OwnFieldView& view, bool takes_focus, const Theme& theme) {
    std::optional<Intent> intent;
    begin_row(theme, view.label);
    if (view.choices.empty()) {
        if (const auto text =
                field(theme, ("##" + view.place.field).c_str(), view.field, width_of(view), takes_focus))
            intent = TypeOwn{view.place, *text};
    } else {
        if (const auto chosen = choose(theme, view.place.field.c_str(), view.choices, takes_focus))
            intent = TypeOwn{view.place, view.values[*chosen]};
        if (!view.field.problem.empty()) caution(theme, view.field.problem);
    }
    if (!view.explains.empty()) faint(theme, view.explains);
    end_row();
    return intent;
}

/// The whole group is to be seen, or as much of it as there is room for from its row on.
void go_on_at(float top, float row, const Theme& theme) {
    const float bottom = ImGui::GetCursorPosY();
    const float room = ImGui::GetWindowHeight() - 3.0F * theme.em();
    if (bottom - top <= room)
        bring_into_view(top, bottom);
    else
        bring_into_view(row, std::min(bottom, row + 0.5F * room));
}

}  // namespace

std::optional<Intent> draw_own_form(const OwnFormView& view, const Theme& theme, const Edit& edit) {
    std::optional<Intent> intent;
    section(theme, view.title);
    paragraph(theme, view.explains);
    int* const seen = ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("times_begun"), view.times_begun);
    const bool goes_on = *seen < view.times_begun;
    *seen = view.times_begun;
    if (edit.is_new) ImGui::SetKeyboardFocusHere();  // its name is the first thing to type
    for (std::size_t i = 0; i < view.groups.size(); ++i) {
        const OwnGroupView& group = view.groups[i];
        ImGui::PushID(static_cast<int>(i));
        const float top = ImGui::GetCursorPosY();
        std::optional<float> row;  // that the form goes on at
        if (i > 0) section(theme, group.title);
        for (const OwnFieldView& one : group.fields) {
            const bool takes_focus = goes_on && one.begins;
            if (takes_focus) row = ImGui::GetCursorPosY();
            if (auto wanted = draw_own_field(one, takes_focus, theme)) intent = std::move(wanted);
        }
        if (group.can_remove && quiet(theme, "Leave this one out"))
            intent = RemoveOwnTool{group.list, group.index};
        if (row) go_on_at(top, *row, theme);
        ImGui::PopID();
    }
    gap(theme, 0.5F);
    for (std::size_t i = 0; i < view.adds.size(); ++i) {
        if (i > 0) beside(theme, view.adds[i].label, 0.0F);
        if (quiet(theme, view.adds[i].label)) intent = AddOwnTool{view.adds[i].list};
    }
    if (!view.adds.empty()) gap(theme, 0.4F);
    for (const std::string& problem : view.problems) caution(theme, problem);
    if (primary(theme, view.label)) intent = KeepOwn{};
    beside(theme, view.leaves, 0.0F);
    if (quiet(theme, view.leaves)) intent = LeaveOwn{};
    return intent;
}

}  // namespace sipladder::gui
