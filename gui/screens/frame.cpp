// The frame: rail, the place itself, the side panel, the bottom line. During a drill only the place and the
// line stay.

#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

constexpr float rail_ems = 9.5F;
constexpr float narrow_ems = 44.0F;      ///< below this the rail lies on top
constexpr float lying_rail_ems = 56.0F;  ///< all of it in one row; narrower, it wraps to more
constexpr float help_ems = 19.0F;
// The rail has keys of its own, so the arrows stay within the place and the side panel.
constexpr ImGuiWindowFlags part = ImGuiWindowFlags_NavFlattened;

bool in_drill(const FrameView& view) {
    return view.taste && view.taste->drill && view.dialog == Dialog::none;
}

/// Typing in ballots: letters and arrows are of the grid.
bool in_entry(const FrameView& view) {
    return view.classroom && view.classroom->entry && view.dialog == Dialog::none;
}

/// The key of the item that was just drawn, at its right end.
void rail_key(const Theme& theme, const std::string& key) {
    ImFont* font = theme.fonts.small;
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e9F, 0.0F, key.c_str());
    const ImVec2 top_left = ImGui::GetItemRectMin();
    const ImVec2 bottom_right = ImGui::GetItemRectMax();
    ImGui::GetWindowDrawList()->AddText(
        font, font->FontSize,
        {bottom_right.x - size.x - 0.4F * theme.em(), (top_left.y + bottom_right.y - size.y) / 2.0F},
        ImGui::GetColorU32(theme.colour.faint), key.c_str());
}

std::optional<Intent> rail_items(const FrameView& view, const Theme& theme, bool lies) {
    std::optional<Intent> intent;
    const float em = theme.em();
    bool is_first = true;
    const auto item = [&](const std::string& label, bool is_here, const std::string& key) {
        ImGui::PushStyleColor(ImGuiCol_Button, is_here ? theme.colour.hover : ImVec4{0, 0, 0, 0});
        ImGui::PushStyleColor(ImGuiCol_Border, ImVec4{0, 0, 0, 0});
        ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, ImVec2{0.0F, 0.5F});
        if (lies && !is_first) beside(theme, label, 0.0F);
        is_first = false;
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const bool clicked =
            ImGui::Button(label.c_str(), lies ? ImVec2{0, 0} : ImVec2{(rail_ems - 1.2F) * em, 0});
        if (is_here)
            ImGui::GetWindowDrawList()->AddRectFilled(
                {at.x, at.y + 0.25F * em}, {at.x + 0.2F * em, ImGui::GetItemRectMax().y - 0.25F * em},
                ImGui::GetColorU32(theme.colour.accent));
        ImGui::PopStyleVar();
        ImGui::PopStyleColor(2);
        if (!lies) rail_key(theme, key);
        return clicked;
    };
    if (!view.person.empty() || view.place == Place::classroom)
        for (const PlaceView& place : view.places)
            if (item(place.label, place.is_here && view.dialog == Dialog::none, place.key))
                intent = GoTo{place.place};
    if (!lies) {
        const float lower = ImGui::GetWindowHeight() -
                            4.0F * (ImGui::GetFrameHeight() + ImGui::GetStyle().ItemSpacing.y) - 0.7F * em;
        ImGui::SetCursorPosY(std::max(ImGui::GetCursorPosY() + 0.5F * em, lower));
    }
    const std::string person =
        elided(view.person.empty() ? "Who tastes?" : view.person, (lies ? 4.5F : rail_ems - 3.8F) * em);
    if (item(person + "##person", view.dialog == Dialog::people, "F2")) intent = OpenDialog{Dialog::people};
    if (item(lies ? "    ##cautions" : "      Cautions", view.dialog == Dialog::cautions, "F3"))
        intent = OpenDialog{Dialog::cautions};
    const ImVec2 at = ImGui::GetItemRectMin();
    caution_sign(*ImGui::GetWindowDrawList(), {at.x + 0.55F * em, at.y + 0.3F * em}, 1.0F * em,
                 ImGui::GetColorU32(theme.colour.warning));
    if (item("Settings", view.dialog == Dialog::settings, "F4")) intent = OpenDialog{Dialog::settings};
    if (item("Handbook", view.dialog == Dialog::handbook, "F5")) intent = OpenDialog{Dialog::handbook};
    return intent;
}

void status_line(const FrameView& view, const Theme& theme) {
    ImGui::PushFont(theme.fonts.small);
    ImGui::PushStyleColor(ImGuiCol_Text, theme.colour.faint);
    for (std::size_t i = 0; i < view.status.size(); ++i) {
        const float width = ImGui::CalcTextSize(view.status[i].text.c_str()).x;
        const float used =
            i == 0 ? 0.0F : ImGui::GetItemRectMax().x - ImGui::GetWindowPos().x + 1.4F * theme.em();
        if (i > 0 && used + width > ImGui::GetWindowWidth() - theme.em()) break;
        if (i > 0) ImGui::SameLine(0.0F, 1.4F * theme.em());
        shown(theme, view.status[i]);
    }
    const std::string hint = "F1 explains";
    const float hint_width = ImGui::CalcTextSize(hint.c_str()).x;
    const float edge = ImGui::GetWindowWidth() - hint_width - theme.em();
    if (view.status.empty() || ImGui::GetItemRectMax().x - ImGui::GetWindowPos().x + theme.em() < edge) {
        ImGui::SameLine(edge);
        ImGui::TextUnformatted(hint.c_str());
    }
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

std::optional<Intent> demo_strip(const FrameView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (!view.is_demo) return intent;
    begin_passed_over();  // a new screen does not begin with it, but with its own first control
    caution(theme, "Demo: everything here is invented.");
    if (view.can_leave) {
        beside(theme, "Leave the demo", 0.0F);
        if (quiet(theme, "Leave the demo")) intent = LeaveDemo{};
    }
    end_passed_over();
    gap(theme, 0.6F);
    return intent;
}

/// What has just happened, above the place and not within it: however far down somebody has scrolled, it is
/// there to be read. Its height is that of the frame before; it takes half of the place at most.
std::optional<Intent> notice_strip(const FrameView& view, const Theme& theme, Edit& edit, ImVec2 size) {
    std::optional<Intent> intent;
    const float em = theme.em();
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{1.6F * em, 1.1F * em});
    const bool fits = edit.notice_height <= 0.5F * size.y;
    ImGui::BeginChild("notice", {size.x, fits ? edit.notice_height : 0.5F * size.y}, false,
                      part | ImGuiWindowFlags_AlwaysUseWindowPadding |
                          (fits ? ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse : 0));
    ImGui::PopStyleVar();
    for (const std::string& line : view.notice->lines) {
        if (view.notice->is_problem)
            caution(theme, line);
        else
            paragraph(theme, line);
    }
    // Escape closes it: the arrows and Tab stay in the place.
    ImGui::PushItemFlag(ImGuiItemFlags_NoNav, true);
    if (quiet(theme, "Close this", "Escape")) intent = DismissNotice{};
    ImGui::PopItemFlag();
    gap(theme, 0.3F);
    rule(theme);
    edit.notice_height = ImGui::GetCursorPosY();
    ImGui::EndChild();
    return intent;
}

std::optional<Intent> place(const FrameView& view, const Theme& theme, const Edit& edit) {
    switch (view.dialog) {
        case Dialog::people:
            return draw_people(view.people, theme, edit);
        case Dialog::cautions:
            return draw_cautions(view.cautions, theme);
        case Dialog::settings:
            return draw_settings(*view.settings, theme, edit);
        case Dialog::handbook:
            return draw_handbook(*view.handbook, theme);
        case Dialog::none:
            break;
    }
    if (view.prepare) return draw_prepare(*view.prepare, theme);
    if (view.palate) return draw_palate(*view.palate, theme);
    if (view.weeks) return draw_weeks(*view.weeks, theme);
    if (view.classroom) return draw_classroom(*view.classroom, theme, edit);
    if (view.records) return draw_records(*view.records, theme);
    if (view.taste && view.taste->drill) return draw_drill(*view.taste->drill, theme);
    if (view.taste && view.taste->finding) return draw_finding(*view.taste->finding, theme);
    if (view.taste && view.taste->start) return draw_taste_start(*view.taste->start, theme);
    return draw_first_start(theme);
}

std::optional<Intent> global_keys(const FrameView& view) {
    if (pressed(Key::f1)) return ToggleHelp{};
    if (view.can_leave) {
        if (pressed(Key::f2)) return OpenDialog{Dialog::people};
        if (pressed(Key::f3)) return OpenDialog{Dialog::cautions};
        if (pressed(Key::f4)) return OpenDialog{Dialog::settings};
        if (pressed(Key::f5)) return OpenDialog{Dialog::handbook};
    }
    for (int i = 0; i < static_cast<int>(view.places.size()); ++i)
        if (pressed_with_ctrl(digit(i + 1))) return GoTo{view.places[static_cast<std::size_t>(i)].place};
    if (pressed_with_ctrl(letter('P'))) return PrintShown{};
    if (pressed_with_ctrl(letter('Z')) && keys_are_free() && view.can_take_back) return TakeBack{};
    if (!pressed(Key::escape)) return std::nullopt;
    if (view.notice) return DismissNotice{};
    if (view.settings && view.settings->list && view.settings->list->asked) return AskToStrike{};
    if (view.dialog != Dialog::none) return OpenDialog{Dialog::none};
    if (view.palate && view.palate->open) return CloseRow{};
    if (view.records && view.records->own && view.records->own->asked) return AskToStrike{};
    if (view.records && view.records->open)
        return view.records->open->asked ? Intent{AskToStrike{}} : Intent{OpenRecord{}};
    return std::nullopt;
}

int screen_number(const FrameView& view) {
    int number = static_cast<int>(view.place) * 8 + static_cast<int>(view.dialog);
    if (view.taste) number += 100 * (view.taste->drill ? 1 : view.taste->finding ? 2 : 3);
    if (view.palate)
        for (std::size_t i = 0; i < view.palate->questions.size(); ++i)
            if (view.palate->questions[i].is_chosen) number += 1000 * (1 + static_cast<int>(i));
    if (view.palate && view.palate->open) number += 10'000;
    if (view.settings)
        number += 10'000'000 * (1 + static_cast<int>(view.settings->part) +
                                (view.settings->form                                 ? 10
                                 : view.settings->list && view.settings->list->asked ? 20
                                                                                     : 0));
    if (view.records)  // what asks for a reason stands at the top, wherever its row was
        number += 1'000'000 * (!view.records->open         ? 1 + static_cast<int>(view.records->part)
                               : view.records->open->asked ? 8
                                                           : 9);
    if (view.classroom) {
        for (const ClassStepView& step : view.classroom->steps)
            if (step.is_here) number += 100'000 + 100 * static_cast<int>(step.step);
        if (!view.classroom->written.empty()) number += 50'000;  // where it was written stands at the top
    }
    return number;
}

std::optional<Intent> main_part(const FrameView& view, const Theme& theme, Edit& edit, ImVec2 size) {
    std::optional<Intent> intent;
    const float em = theme.em();
    if (view.notice) {
        const ImVec2 corner = ImGui::GetCursorPos();
        intent = notice_strip(view, theme, edit, size);
        const float height = std::min(edit.notice_height, 0.5F * size.y);
        ImGui::SetCursorPos({corner.x, corner.y + height});
        size.y -= height;
    }
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{1.6F * em, 1.1F * em});
    ImGui::BeginChild("place", size, false, part | ImGuiWindowFlags_AlwaysUseWindowPadding);
    ImGui::PopStyleVar();
    if (edit.is_new) ImGui::SetScrollY(0.0F);
    // A new screen begins with what it offers first, not with what lies where the last one was left.
    const bool begins_itself = view.dialog == Dialog::people || view.dialog == Dialog::cautions;
    if (edit.is_new && !begins_itself && !in_drill(view)) {
        ImGui::FocusWindow(ImGui::GetCurrentWindow());
        ImGui::NavInitWindow(ImGui::GetCurrentWindow(), true);
        // Dear ImGui hears Enter only where the focus shows; at the first start nobody has pressed a key yet.
        if (edit.by_keys || view.place == Place::first_start) GImGui->NavDisableHighlight = false;
    }
    if (in_drill(view) || in_entry(view)) {  // where Dear ImGui's own keys rest
        const float page = 0.8F * ImGui::GetWindowHeight();
        if (pressed(Key::page_down)) ImGui::SetScrollY(ImGui::GetScrollY() + page);
        if (pressed(Key::page_up)) ImGui::SetScrollY(ImGui::GetScrollY() - page);
    }
    if (std::optional<Intent> wanted = demo_strip(view, theme)) intent = std::move(wanted);
    Theme below = theme;
    below.is_escape_taken = view.notice.has_value();
    if (std::optional<Intent> wanted = place(view, below, edit)) intent = std::move(wanted);
    ImGui::EndChild();
    return intent;
}

void side_panel(const FrameView& view, const Theme& theme, ImVec2 size) {
    const float em = theme.em();
    ImGui::PushStyleColor(ImGuiCol_ChildBg, theme.colour.raised);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{1.1F * em, 1.1F * em});
    ImGui::BeginChild("help", size, false, part | ImGuiWindowFlags_AlwaysUseWindowPadding);
    ImGui::PopStyleVar();
    draw_help(*view.help, theme);
    ImGui::EndChild();
    ImGui::PopStyleColor();
}

std::optional<Intent> rail(const FrameView& view, const Theme& theme, ImVec2 size, bool lies) {
    const float em = theme.em();
    ImGui::PushStyleColor(ImGuiCol_ChildBg, theme.colour.raised);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.6F * em, lies ? 0.3F * em : 1.1F * em});
    ImGui::BeginChild("rail", size, false, part | ImGuiWindowFlags_AlwaysUseWindowPadding);
    ImGui::PopStyleVar();
    ImGui::PushItemFlag(ImGuiItemFlags_NoNav, true);
    ImGui::PushItemFlag(ImGuiItemFlags_NoNavDefaultFocus, true);
    std::optional<Intent> intent = rail_items(view, theme, lies);
    ImGui::PopItemFlag();
    ImGui::PopItemFlag();
    ImGui::EndChild();
    ImGui::PopStyleColor();
    return intent;
}

bool is_on_keys(bool before) {
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsMouseClicked(0)) return false;
    return before || std::ranges::any_of(io.KeysDownDuration, [](float held_s) { return held_s == 0.0F; });
}

}  // namespace

std::optional<Intent> draw_frame(const FrameView& view, const Theme& theme, Edit& edit) {
    std::optional<Intent> intent = global_keys(view);
    const bool is_drill = in_drill(view);
    ImGuiIO& io = ImGui::GetIO();
    // In a drill, and while ballots are typed in, every key has a meaning of its own.
    io.ConfigFlags = is_drill || in_entry(view) ? io.ConfigFlags & ~ImGuiConfigFlags_NavEnableKeyboard
                                                : io.ConfigFlags | ImGuiConfigFlags_NavEnableKeyboard;
    edit.by_keys = is_on_keys(edit.by_keys);
    edit.is_new = edit.screen != screen_number(view);
    edit.screen = screen_number(view);

    const float em = theme.em();
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(io.DisplaySize);
    ImGui::Begin("sipladder", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    const float status_height = 1.9F * em;
    const float height = io.DisplaySize.y - status_height;
    const bool lies = io.DisplaySize.x < narrow_ems * em;
    float top = 0.0F;
    float left = 0.0F;
    const auto take = [&](std::optional<Intent> wanted) {
        if (wanted && !intent) intent = std::move(wanted);
    };
    if (!is_drill) {
        left = lies ? 0.0F : rail_ems * em;
        const float rows = std::ceil(lying_rail_ems * em / io.DisplaySize.x);
        top = lies ? (0.55F + 1.95F * rows) * em : 0.0F;
        ImGui::SetCursorPos({0.0F, 0.0F});
        take(rail(view, theme, lies ? ImVec2{io.DisplaySize.x, top} : ImVec2{left, height}, lies));
    }
    // Where it is narrow the side panel takes the whole place.
    const float whole = io.DisplaySize.x - left;
    const float help_width = !view.help ? 0.0F : lies ? whole : help_ems * em;
    if (whole > help_width) {
        ImGui::SetCursorPos({left, top});
        take(main_part(view, theme, edit, {whole - help_width, height - top}));
    }
    if (view.help) {
        ImGui::SetCursorPos({io.DisplaySize.x - help_width, top});
        side_panel(view, theme, {help_width, height - top});
    }
    ImGui::GetWindowDrawList()->AddLine({0.0F, height}, {io.DisplaySize.x, height},
                                        ImGui::GetColorU32(theme.colour.hairline));
    ImGui::SetCursorPos({1.0F * em, height + 0.45F * em});
    status_line(view, theme);
    ImGui::End();
    return intent;
}

}  // namespace sipladder::gui
