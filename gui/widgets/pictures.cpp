// Charts, trees and the ladder strip: each is one item that the keyboard can reach, with the words of its
// marks on hover.

#include "engine/chart/frame.hpp"
#include "engine/chart/ticks.hpp"
#include "gui/charts/window_painter.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/picture_parts.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

PictureItem picture_item(const Theme& theme, float width, float height) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    PictureItem item;
    item.is_pressed = ImGui::InvisibleButton("picture", {std::max(width, 1.0F), std::max(height, 1.0F)});
    item.area = {static_cast<double>(at.x), static_cast<double>(at.y), static_cast<double>(width),
                 static_cast<double>(height)};
    item.is_hovered = ImGui::IsItemHovered();
    item.is_focused = ImGui::IsItemFocused() && ImGui::GetIO().NavVisible;
    if (item.is_focused) {                      // an invisible button shows no focus of its own
        const float clear = 0.4F * theme.em();  // words stand at the picture's very edge
        ImGui::GetWindowDrawList()->AddRect(
            {at.x - clear, at.y - 0.5F * clear}, {at.x + width + clear, at.y + height + 0.5F * clear},
            ImGui::GetColorU32(theme.colour.accent), 0.2F * theme.em(), 0, std::max(1.5F, 0.1F * theme.em()));
    }
    return item;
}

chart::Point mouse_point() {
    const ImVec2 at = ImGui::GetMousePos();
    return {static_cast<double>(at.x), static_cast<double>(at.y)};
}

namespace {

int* which_is_told() {
    return ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("which"), -1);
}

/// By keyboard: the mark is framed, and its words stand below it.
void tell_focused(const Theme& theme, const chart::Hit& hit) {
    const float reach = 0.15F * theme.em();
    const ImVec2 top_left{static_cast<float>(hit.box.x) - reach, static_cast<float>(hit.box.y) - reach};
    const ImVec2 bottom_right{static_cast<float>(hit.box.right()) + reach,
                              static_cast<float>(hit.box.bottom()) + reach};
    ImGui::GetWindowDrawList()->AddRect(top_left, bottom_right, ImGui::GetColorU32(theme.colour.accent),
                                        0.15F * theme.em(), 0, std::max(1.5F, 0.1F * theme.em()));
    const float lines = 5.0F * theme.em();  // most have two
    const bool fits = bottom_right.y + lines < ImGui::GetIO().DisplaySize.y;
    ImGui::SetNextWindowPos({top_left.x, fits ? bottom_right.y + reach : top_left.y - reach},
                            ImGuiCond_Always, {0.0F, fits ? 0.0F : 1.0F});
    tooltip(theme, hit.text);
}

}  // namespace

void tell_next(int which) {
    *which_is_told() = which;
}

int told_last() {
    return *which_is_told();
}

int tell_of(const Theme& theme, const PictureItem& item, const std::vector<chart::Hit>& hits) {
    int* const which = which_is_told();
    const auto count = static_cast<int>(hits.size());
    if (item.is_pressed && item.is_focused && count > 0)
        *which = ImGui::GetIO().KeyShift ? (std::max(*which, 0) + count - 1) % count : (*which + 1) % count;
    if (item.is_focused && *which >= 0 && *which < count) {
        tell_focused(theme, hits[static_cast<std::size_t>(*which)]);
        return *which;
    }
    const chart::Hit* pointed = item.is_hovered ? chart::hit_at(hits, mouse_point()) : nullptr;
    if (pointed != nullptr) tooltip(theme, pointed->text);
    return -1;
}

namespace {

template <class Picture>
void draw_picture(const Theme& theme, const char* id, const Picture& picture, float width, float height) {
    ImGui::PushID(id);
    const PictureItem item = picture_item(theme, width, height);
    WindowPainter painter(*ImGui::GetWindowDrawList(), theme);
    tell_of(theme, item, chart::draw(picture, item.area, painter));
    ImGui::PopID();
}

std::optional<Pulled> pulled_by_keys(const std::vector<double>& ends) {
    constexpr double one_press = 1.12;  // about twenty to a factor of ten
    if (pressed(letter('Q'))) return Pulled{false, ends.front() / one_press};
    if (pressed(letter('W'))) return Pulled{false, ends.front() * one_press};
    if (pressed(letter('O'))) return Pulled{true, ends.back() / one_press};
    if (pressed(letter('P')) && !ImGui::GetIO().KeyCtrl) return Pulled{true, ends.back() * one_press};
    return std::nullopt;
}

/// Which end the mouse holds: 0 none, 1 the weakest, 2 the strongest. Taken up where the press began.
int held_end(const chart::Frame& frame, const chart::Chart& chart, const std::vector<double>& ends,
             float reach) {
    int* const held = ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("held"), 0);
    if (!ImGui::IsItemActive() || !ImGui::IsMouseDown(0)) return *held = 0;
    if (ImGui::IsItemActivated()) {
        const double to_weakest = std::abs(mouse_point().x - frame.x(chart.x, ends.front()));
        const double to_strongest = std::abs(mouse_point().x - frame.x(chart.x, ends.back()));
        if (std::min(to_weakest, to_strongest) <= static_cast<double>(reach))
            *held = to_weakest < to_strongest ? 1 : 2;
    }
    return ImGui::IsMouseDragging(0, 1.0F) ? *held : 0;
}

}  // namespace

void draw_chart(const Theme& theme, const char* id, const chart::Chart& chart, float width, float height) {
    draw_picture(theme, id, chart, width, height);
}

std::optional<Pointed> draw_pointed_chart(const Theme& theme, const char* id, const chart::Chart& chart,
                                          float width, float height) {
    ImGui::PushID(id);
    const PictureItem item = picture_item(theme, width, height);
    WindowPainter painter(*ImGui::GetWindowDrawList(), theme);
    const chart::Frame frame = chart::frame_of(chart, item.area, painter);
    const std::vector<chart::Hit> hits = chart::draw(chart, item.area, painter);
    std::optional<Pointed> pointed;
    if (item.is_focused)
        tell_of(theme, item, hits);
    else if (item.is_hovered && frame.plot.width > 0.0 && frame.plot.height > 0.0)
        pointed = Pointed{
            {std::lerp(chart.x.from, chart.x.to, (mouse_point().x - frame.plot.x) / frame.plot.width),
             std::lerp(chart.y.to, chart.y.from, (mouse_point().y - frame.plot.y) / frame.plot.height)},
            item.is_pressed};
    ImGui::PopID();
    return pointed;
}

void draw_tree(const Theme& theme, const char* id, const chart::DilutionTree& tree, float width) {
    const float line = theme.fonts.small->FontSize;
    draw_picture(theme, id, tree, width, static_cast<float>(chart::height_in_lines(tree)) * line);
}

std::optional<Pulled> draw_strip(const Theme& theme, const chart::Chart& chart,
                                 const std::vector<double>& ends, float width, float height) {
    ImGui::PushID("strip");
    const PictureItem item = picture_item(theme, width, height);
    WindowPainter painter(*ImGui::GetWindowDrawList(), theme);
    const chart::Frame frame = chart::frame_of(chart, item.area, painter);
    std::optional<Pulled> pulled;
    if (const int held = held_end(frame, chart, ends, 1.2F * theme.em());
        held != 0 && frame.plot.width > 0.0) {
        const double share = std::clamp((mouse_point().x - frame.plot.x) / frame.plot.width, 0.0, 1.0);
        pulled = Pulled{held == 2, chart.x.from * std::pow(chart.x.to / chart.x.from, share)};
    }
    if (item.is_focused)
        if (const auto by_keys = pulled_by_keys(ends)) pulled = by_keys;
    const std::vector<chart::Hit> hits = chart::draw(chart, item.area, painter);
    if (!pulled) tell_of(theme, item, hits);
    ImGui::PopID();
    return pulled;
}

}  // namespace sipladder::gui
