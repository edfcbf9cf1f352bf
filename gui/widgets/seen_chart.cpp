// A chart that is looked at from nearer. What is seen is the caller's value; here is only what the hands
// want.

#include "engine/chart/frame.hpp"
#include "gui/charts/window_painter.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/picture_parts.hpp"
#include "gui/widgets/widgets.hpp"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

using chart::Seen;

constexpr double one_notch = 1.25;  // of the wheel: three halve what is seen
constexpr double one_press = 1.6;
constexpr double one_step = 0.2;  // of what is seen, along

struct Hands {
    const chart::Axis& whole;
    const Seen& seen;
    const chart::Rect& plot;

    double value(double x) const {
        return chart::value_in(whole, seen, std::clamp((x - plot.x) / plot.width, 0.0, 1.0));
    }
    bool sees_all() const { return seen == chart::all_of(whole); }
};

/// The wheel is the chart's, unless the page is being scrolled with it; farther than all scrolls the page on.
/// @pre the chart's item was drawn last
std::optional<Seen> by_wheel(const Hands& hands, const PictureItem& item) {
    if (!item.is_hovered || ImGui::GetCurrentContext()->WheelingWindow != nullptr) return std::nullopt;
    ImGui::SetItemUsingMouseWheel();
    const float wheel = ImGui::GetIO().MouseWheel;
    if (wheel == 0.0F || ImGui::GetIO().KeyCtrl) return std::nullopt;
    if (wheel < 0.0F && hands.sees_all()) {
        constexpr float lines = 5.0F;  // as Dear ImGui scrolls
        ImGui::SetScrollY(ImGui::GetScrollY() - lines * wheel * ImGui::GetFontSize());
        return std::nullopt;
    }
    return chart::nearer(hands.whole, hands.seen, hands.value(mouse_point().x),
                         std::pow(one_notch, static_cast<double>(wheel)));
}

/// @pre the chart's item was drawn last
std::optional<Seen> by_pulling(const Hands& hands) {
    constexpr float least_pull = 2.0F;  // pixels: a click is none
    if (!ImGui::IsItemActive() || !ImGui::IsMouseDragging(0, least_pull)) return std::nullopt;
    const auto pulled = static_cast<double>(ImGui::GetIO().MouseDelta.x);
    if (pulled == 0.0 || hands.sees_all()) return std::nullopt;
    return chart::along(hands.whole, hands.seen, -pulled / hands.plot.width);
}

/// Characters, not keys: + and - lie elsewhere on other keyboards.
/// @param about  what stays where it is
std::optional<Seen> by_keys(const Hands& hands, double about) {
    switch (typed_character()) {
        case '+':
        case '=':  // + without Shift on many
            return chart::nearer(hands.whole, hands.seen, about, one_press);
        case '-':
            return chart::nearer(hands.whole, hands.seen, about, 1.0 / one_press);
        case 'q':
        case 'Q':
            return chart::along(hands.whole, hands.seen, -one_step);
        case 'w':
        case 'W':
            return chart::along(hands.whole, hands.seen, one_step);
        case '0':
            return chart::all_of(hands.whole);
        default:
            return std::nullopt;
    }
}

int print_of(const chart::Hit& hit) {
    return static_cast<int>(ImHashStr(hit.text.c_str()));
}

/// Another part has other marks: the one that was told keeps being told while it is seen.
void follow_told(const std::vector<chart::Hit>& hits, int print) {
    const int last = told_last();
    const bool is_same = last >= 0 && last < static_cast<int>(hits.size()) &&
                         print_of(hits[static_cast<std::size_t>(last)]) == print;
    if (last < 0 || is_same) return;
    const auto found = std::ranges::find(hits, print, print_of);
    tell_next(found == hits.end() ? -1 : static_cast<int>(found - hits.begin()));
}

/// @return whether all is to be shown
bool line_of_keys(const Theme& theme, bool is_part, float width) {
    const float right = ImGui::GetCursorPosX() + width;
    bool shows_all = false;
    if (is_part) {
        shows_all = quiet(theme, "Show all", "0");
        ImGui::SameLine(0.0F, 1.2F * theme.em());
    }
    ImGui::PushFont(theme.fonts.small);
    ImGui::PushStyleColor(ImGuiCol_Text, theme.colour.faint);
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(
        elided("+ - or wheel: nearer, farther     Q W or pull: along     Space: its points",
               right - ImGui::GetCursorPosX())
            .c_str());
    ImGui::PopStyleColor();
    ImGui::PopFont();
    return shows_all;
}

}  // namespace

std::optional<Seen> draw_seen_chart(const Theme& theme, const char* id, const chart::Chart& chart,
                                    const chart::Axis& whole, float width, float height) {
    ImGui::PushID(id);
    const PictureItem item = picture_item(theme, width, height);
    WindowPainter painter(*ImGui::GetWindowDrawList(), theme);
    const chart::Frame frame = chart::frame_of(chart, item.area, painter);
    const Seen seen{chart.x.from, chart.x.to};
    const Hands hands{whole, seen, frame.plot};
    std::optional<Seen> wanted;
    if (frame.plot.width > 0.0) {
        wanted = by_wheel(hands, item);
        if (!wanted) wanted = by_pulling(hands);
    }
    const std::vector<chart::Hit> hits = chart::draw(chart, item.area, painter);
    int* const print = ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("print"), 0);
    follow_told(hits, *print);
    const int told = tell_of(theme, item, hits);
    double about = chart::value_in(whole, seen, 0.5);
    if (told >= 0) {
        const chart::Hit& hit = hits[static_cast<std::size_t>(told)];
        *print = print_of(hit);
        about = hands.value(hit.box.x + 0.5 * hit.box.width);
    }
    if (item.is_focused && keys_are_free() && !wanted) wanted = by_keys(hands, about);
    if (line_of_keys(theme, !hands.sees_all(), width)) wanted = chart::all_of(whole);
    ImGui::PopID();
    if (wanted == seen) wanted.reset();
    return wanted;
}

}  // namespace sipladder::gui
