#include "gui/screens/drill_parts.hpp"

#include "engine/chart/mouth_outline.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>
#include <string>

namespace sipladder::gui {

namespace {

constexpr float widest_ems = 46.0F;

void centred(const Theme& theme, ImFont* font, const std::string& text, ImVec2 at, float width,
             ImVec4 colour) {
    (void)theme;
    const float text_width = font->CalcTextSizeA(font->FontSize, 1e9F, 0.0F, text.c_str()).x;
    ImGui::GetWindowDrawList()->AddText(font, font->FontSize, {at.x + (width - text_width) / 2.0F, at.y},
                                        ImGui::GetColorU32(colour), text.c_str());
}

void frame_of(const Theme& theme, ImVec2 at, ImVec2 size) {
    ImGui::GetWindowDrawList()->AddRect(at, {at.x + size.x, at.y + size.y},
                                        ImGui::GetColorU32(theme.colour.accent), 0.3F * theme.em(), 0,
                                        0.2F * theme.em());
}

/// A tile with its key in the corner; true when it was pressed.
bool part_tile(const Theme& theme, const Part& part, const std::string& key, ImVec2 size) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const bool is_pressed = ImGui::Button("##part", size);
    if (part.is_on) frame_of(theme, at, size);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddText(theme.fonts.small, theme.fonts.small->FontSize,
                 {at.x + 0.4F * theme.em(), at.y + 0.25F * theme.em()},
                 ImGui::GetColorU32(theme.colour.faint), key.c_str());
    ImFont* font = part.is_on ? theme.fonts.strong : ImGui::GetFont();
    list.AddText(font, font->FontSize, {at.x + 1.6F * theme.em(), at.y + (size.y - font->FontSize) / 2.0F},
                 ImGui::GetColorU32(theme.colour.ink), part.name.c_str());
    return is_pressed;
}

/// Rows of tiles; the one that was pressed.
template <class KeyOf, class IsPressed>
std::optional<std::size_t> part_tiles(const Theme& theme, const std::vector<Part>& parts, float room,
                                      KeyOf key_of, IsPressed is_pressed) {
    std::optional<std::size_t> ticked;
    const float em = theme.em();
    float width = 6.0F * em;
    for (const Part& part : parts)
        width = std::max(width, ImGui::CalcTextSize(part.name.c_str()).x + 2.8F * em);
    const float space = 0.5F * em;
    const auto a_row = std::max(1, static_cast<int>((room + space) / (width + space)));
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (static_cast<int>(i) % a_row != 0) ImGui::SameLine(0.0F, space);
        ImGui::PushID(static_cast<int>(i));
        if (part_tile(theme, parts[i], key_of(i), {std::min(width, room), 2.2F * em}) || is_pressed(i))
            ticked = i;
        ImGui::PopID();
    }
    return ticked;
}

float room_of(const Theme& theme) {
    return std::min(ImGui::GetContentRegionAvail().x, widest_ems * theme.em());
}

}  // namespace

std::optional<Intent> draw_set(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    const float em = theme.em();
    const auto count = static_cast<float>(view.set.size());
    const float space = 0.8F * em;
    for (std::size_t i = 0; i < view.set.size(); ++i) {
        if (i > 0) ImGui::SameLine(0.0F, space);
        const ImVec2 size{std::min(8.0F * em, (room_of(theme) + space) / count - space), 6.4F * em};
        ImGui::PushID(static_cast<int>(i));
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const auto placed = std::ranges::find(view.ordered, i);
        const bool is_placed = placed != view.ordered.end();
        if (ImGui::Button("##cup", size) || pressed(digit(static_cast<int>(i) + 1))) intent = PutNext{i};
        if (is_placed) frame_of(theme, at, size);
        ImGui::GetWindowDrawList()->AddText(
            theme.fonts.small, theme.fonts.small->FontSize, {at.x + 0.5F * em, at.y + 0.3F * em},
            ImGui::GetColorU32(theme.colour.faint), std::to_string(i + 1).c_str());
        centred(theme, theme.fonts.large, view.set[i], {at.x, at.y + 1.7F * em}, size.x, theme.colour.ink);
        const auto place = static_cast<std::size_t>(placed - view.ordered.begin()) + 1;
        if (is_placed)
            centred(theme, theme.fonts.strong, place == 1 ? view.least : "place " + std::to_string(place),
                    {at.x, at.y + 4.4F * em}, size.x, theme.colour.accent);
        ImGui::PopID();
    }
    if (!view.ordered.empty() && pressed(Key::backspace)) intent = PutNext{view.ordered.back()};
    if (!view.set.empty()) gap(theme, 0.3F);
    return intent;
}

std::optional<Intent> draw_mark_line(const DrillView& view, const Theme& theme) {
    if (!view.line) return std::nullopt;
    std::optional<Intent> intent;
    const float em = theme.em();
    gap(theme, 0.5F);
    paragraph(theme, view.line->text);
    const float width = room_of(theme);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton("##line", {width, 2.2F * em});
    constexpr double whole = 100.0;
    if (ImGui::IsItemActive())
        intent = SetMark{whole * static_cast<double>((ImGui::GetIO().MousePos.x - at.x) / width)};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float middle = at.y + 1.1F * em;
    const ImU32 ink = ImGui::GetColorU32(theme.colour.ink);
    list.AddLine({at.x, middle}, {at.x + width, middle}, ink, 0.12F * em);
    for (const float end : {at.x, at.x + width})
        list.AddLine({end, middle - 0.5F * em}, {end, middle + 0.5F * em}, ink, 0.12F * em);
    if (view.mark) {
        const float x = at.x + width * static_cast<float>(*view.mark / whole);
        const ImU32 accent = ImGui::GetColorU32(theme.colour.accent);
        list.AddLine({x, middle - 0.9F * em}, {x, middle + 0.9F * em}, accent, 0.3F * em);
        list.AddCircleFilled({x, middle}, 0.45F * em, accent, 24);
    }
    ImGui::PushFont(theme.fonts.small);
    const float from = ImGui::GetCursorPosX();
    ImGui::TextUnformatted(view.line->none.c_str());
    ImGui::SameLine();
    ImGui::SetCursorPosX(from + width - ImGui::CalcTextSize(view.line->most.c_str()).x);
    ImGui::TextUnformatted(view.line->most.c_str());
    ImGui::PopFont();
    const auto move = [&](double by) { intent = SetMark{view.mark ? *view.mark + by : whole / 2.0}; };
    if (pressed(Key::left)) move(-1.0);
    if (pressed(Key::right)) move(1.0);
    if (pressed(Key::down)) move(-10.0);
    if (pressed(Key::up)) move(10.0);
    return intent;
}

std::optional<Intent> draw_mouth(const DrillView& view, const Theme& theme) {
    if (view.mouth.size() != chart::mouth_parts) return std::nullopt;
    const float em = theme.em();
    const bool is_wide = ImGui::GetContentRegionAvail().x > 40.0F * em;
    std::optional<std::size_t> clicked;
    if (is_wide) {
        // Grey, whatever is in the cup: its colour would tell.
        chart::MouthOutline outline{
            .title = {}, .component = solution::Component::weight, .parts = {}, .note = {}};
        constexpr double shade = 0.45;
        for (std::size_t i = 0; i < view.mouth.size(); ++i)
            outline.parts.push_back({std::string(1, static_cast<char>('A' + static_cast<int>(i))),
                                     view.mouth[i].is_on ? shade : 0.0,
                                     view.mouth[i].is_on ? "here" : "not here"});
        const auto pointed =
            draw_pointed_chart(theme, "mouth", chart::mouth_outline(outline), 20.0F * em, 13.0F * em);
        if (const auto part = pointed ? chart::mouth_part_at(pointed->at) : std::nullopt) {
            const auto place = static_cast<std::size_t>(*part);
            tooltip(theme, view.mouth[place].name);
            if (pointed->is_clicked) clicked = place;
        }
        ImGui::SameLine(0.0F, 1.0F * em);
    }
    ImGui::BeginGroup();
    auto ticked = part_tiles(
        theme, view.mouth, is_wide ? 25.0F * em : room_of(theme),
        [](std::size_t i) { return std::string(1, static_cast<char>('A' + static_cast<int>(i))); },
        [](std::size_t i) { return pressed(letter(static_cast<char>('A' + static_cast<int>(i)))); });
    ImGui::EndGroup();
    gap(theme, 0.5F);
    if (!ticked) ticked = clicked;
    return ticked ? std::optional<Intent>(TickMouth{*ticked}) : std::nullopt;
}

std::optional<Intent> draw_watch(const DrillView& view, const Theme& theme) {
    using Watch = DrillView::Watch;
    if (view.watch == Watch::none) return std::nullopt;
    std::optional<Intent> intent;
    const float em = theme.em();
    const ImVec2 size{22.0F * em, 5.4F * em};
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const bool can_press = view.watch != Watch::stopped;
    ImGui::BeginDisabled(!can_press);
    if (ImGui::Button("##watch", size) || (can_press && pressed(Key::space))) intent = PressWatch{};
    ImGui::EndDisabled();
    if (view.watch == Watch::running) frame_of(theme, at, size);
    const std::string text = view.watch == Watch::ready     ? "Spit, and press"
                             : view.watch == Watch::running ? "Press when it is gone"
                                                            : view.watch_text;
    centred(theme, theme.fonts.large, text, {at.x, at.y + 1.2F * em}, size.x, theme.colour.ink);
    centred(theme, theme.fonts.small, can_press ? "Space" : "stopped", {at.x, at.y + 3.5F * em}, size.x,
            theme.colour.faint);
    gap(theme, 0.3F);
    if (view.watch != Watch::ready &&
        (quiet(theme, "That was a slip: once more", "R") || pressed(letter('R'))))
        intent = ResetWatch{};
    gap(theme, 0.4F);
    return intent;
}

std::optional<Intent> draw_words_that_fit(const DrillView& view, const Theme& theme) {
    if (view.words.empty()) return std::nullopt;
    faint(theme, "What was it like? Any of these that fit, or none.");
    const auto ticked = part_tiles(
        theme, view.words, room_of(theme),
        [](std::size_t i) { return i < 10 ? std::to_string((i + 1) % 10) : ""; },
        [](std::size_t i) { return i < 10 && pressed(digit(static_cast<int>(i + 1) % 10)); });
    return ticked ? std::optional<Intent>(TickWord{*ticked}) : std::nullopt;
}

}  // namespace sipladder::gui
