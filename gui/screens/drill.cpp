// One presentation after another: large, calm, by keyboard. What can be seen comes from the view alone, and
// it holds no level.

#include "gui/screens/drill_parts.hpp"
#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>
#include <array>

namespace sipladder::gui {

namespace {

constexpr float drill_ems = 48.0F;

/// So little room that the keys would fall off the bottom: everything is set smaller then.
bool is_low(const Theme& theme) {
    return ImGui::GetWindowHeight() < 27.0F * theme.em();
}

/// @param indent_ems  what stands to the left of it
void say(const Theme& theme, const std::string& text, float indent_ems = 0.0F) {
    if (is_low(theme))
        paragraph(theme, text);
    else
        large_paragraph(theme, text, drill_ems - indent_ems);
}

void pause(const Theme& theme, float ems) {
    gap(theme, is_low(theme) ? 0.3F * ems : ems);
}

constexpr std::size_t digit_keys = 10;  // 0 is the tenth

/// The next tile that begins with the letter pressed: "D", then "D2".
std::optional<std::size_t> picked_by_letter(const DrillView& view) {
    const std::size_t count = view.tiles.size();
    for (char key = 'A'; key <= 'Z'; ++key) {
        if (!pressed(letter(key))) continue;
        const std::size_t first = view.picked ? *view.picked + 1 : 0;
        for (std::size_t step = 0; step < count; ++step) {
            const std::string& name = view.tiles[(first + step) % count].name;
            const char begins = name.empty() ? '\0' : name.front();
            if (begins == key || begins == key - 'A' + 'a') return (first + step) % count;
        }
    }
    return std::nullopt;
}

/// The keys of what is picked: a digit or a bottle's own letter, and the arrows.
std::optional<std::size_t> picked_by_key(const DrillView& view) {
    std::optional<std::size_t> picked;
    const std::size_t count = view.tiles.size();
    if (view.tiles_by_letter)
        if (const auto by_letter = picked_by_letter(view)) return by_letter;
    for (std::size_t i = 0; i < std::min(count, digit_keys) && !view.tiles_by_letter; ++i)
        if (pressed(digit(static_cast<int>(i + 1) % 10))) picked = i;
    if (view.line) return picked;  // the arrows move the mark
    if (pressed(Key::left)) picked = view.picked ? *view.picked - (*view.picked > 0 ? 1 : 0) : 0;
    if (pressed(Key::right)) picked = view.picked ? std::min(*view.picked + 1, count - 1) : count - 1;
    if (pressed(Key::down) && !view.picked) picked = count / 2;
    return picked;
}

/// Words to choose from: wrapping rows of equal tiles, each with its key and its mark.
std::optional<std::size_t> draw_words(const DrillView& view, const Theme& theme) {
    std::optional<std::size_t> picked;
    const float em = theme.em();
    const float room = std::min(ImGui::GetContentRegionAvail().x, drill_ems * em);
    float width = (view.tiles_by_letter ? 4.6F : 6.0F) * em;
    for (const Tile& tile : view.tiles)
        width = std::max(width, ImGui::CalcTextSize(tile.name.c_str()).x + (tile.component         ? 6.0F
                                                                            : view.tiles_by_letter ? 1.6F
                                                                                                   : 4.2F) *
                                                                               em);
    width = std::min(width, room);
    const ImVec2 size{width, (is_low(theme) ? 2.6F : 3.4F) * em};
    const float space = 0.8F * em;
    const auto a_row = std::max(1, static_cast<int>((room + space) / (width + space)));
    for (std::size_t i = 0; i < view.tiles.size(); ++i) {
        if (static_cast<int>(i) % a_row != 0) ImGui::SameLine(0.0F, space);
        ImGui::PushID(static_cast<int>(i));
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const bool is_picked = view.picked == i;
        if (ImGui::Button("##tile", size)) picked = i;
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const ImU32 ink = ImGui::GetColorU32(theme.colour.ink);
        if (is_picked)
            list.AddRect(at, {at.x + size.x, at.y + size.y}, ImGui::GetColorU32(theme.colour.accent),
                         0.3F * em, 0, 0.22F * em);
        const std::string key =
            view.tiles_by_letter || i >= digit_keys ? std::string() : std::to_string((i + 1) % 10);
        list.AddText(theme.fonts.small, theme.fonts.small->FontSize, {at.x + 0.5F * em, at.y + 0.3F * em},
                     ImGui::GetColorU32(theme.colour.faint), key.c_str());
        ImFont* font = theme.fonts.strong;
        const float name_width =
            font->CalcTextSizeA(font->FontSize, 1e9F, 0.0F, view.tiles[i].name.c_str()).x;
        const float left = view.tiles_by_letter ? at.x + (size.x - name_width) / 2 : at.x + 1.9F * em;
        const float line = ImGui::GetTextLineHeight();
        if (view.tiles[i].component)
            mark_at(theme, *view.tiles[i].component, {left, at.y + (size.y - line) / 2});
        const float text_left = left + (view.tiles[i].component ? 1.7F * em : 0.0F);
        list.AddText(font, font->FontSize, {text_left, at.y + (size.y - font->FontSize) / 2.0F}, ink,
                     view.tiles[i].name.c_str());
        ImGui::PopID();
    }
    return picked;
}

/// Large cups from left to right.
std::optional<std::size_t> draw_cups(const DrillView& view, const Theme& theme) {
    std::optional<std::size_t> picked;
    const float em = theme.em();
    const float space = 1.4F * em;
    const auto count = static_cast<float>(view.tiles.size());
    const float width =
        std::min(10.0F * em, (ImGui::GetContentRegionAvail().x - space * (count - 1.0F)) / count);
    const float height = is_low(theme) ? 4.4F : 6.6F;
    const ImVec2 size{width, height * em};
    for (std::size_t i = 0; i < view.tiles.size(); ++i) {
        if (i > 0) ImGui::SameLine(0.0F, space);
        ImGui::PushID(static_cast<int>(i));
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const bool is_picked = view.picked == i;
        ImGui::PushStyleColor(ImGuiCol_Border, is_picked ? theme.colour.accent : theme.colour.edge);
        if (ImGui::Button("##cup", size)) picked = i;
        ImGui::PopStyleColor();
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const ImU32 ink = ImGui::GetColorU32(theme.colour.ink);
        if (is_picked)
            list.AddRect({at.x, at.y}, {at.x + size.x, at.y + size.y},
                         ImGui::GetColorU32(theme.colour.accent), 0.3F * em, 0, 0.22F * em);
        const ImVec2 centre{at.x + size.x / 2, at.y + (height - 4.2F + (is_low(theme) ? 1.3F : 0.0F)) * em};
        list.AddCircle(centre, (is_low(theme) ? 0.9F : 1.5F) * em,
                       is_picked ? ImGui::GetColorU32(theme.colour.accent) : ink, 64, 0.13F * em);
        if (is_picked)
            list.AddCircleFilled(centre, (is_low(theme) ? 0.5F : 0.9F) * em,
                                 ImGui::GetColorU32(theme.colour.accent), 48);
        ImFont* large = is_low(theme) ? theme.fonts.strong : theme.fonts.large;
        const std::string& name = view.tiles[i].name;
        const ImVec2 text = large->CalcTextSizeA(large->FontSize, 1e9F, 0.0F, name.c_str());
        list.AddText(large, large->FontSize,
                     {at.x + (size.x - text.x) / 2, at.y + (height - (is_low(theme) ? 1.7F : 2.4F)) * em},
                     ink, name.c_str());
        const std::string key = std::to_string(i + 1);
        list.AddText(theme.fonts.small, theme.fonts.small->FontSize, {at.x + 0.5F * em, at.y + 0.35F * em},
                     ImGui::GetColorU32(theme.colour.faint), key.c_str());
        ImGui::PopID();
    }
    return picked;
}

std::optional<std::size_t> draw_tiles(const DrillView& view, const Theme& theme) {
    std::optional<std::size_t> picked =
        view.tiles_are_cups ? draw_cups(view, theme) : draw_words(view, theme);
    if (const auto by_key = picked_by_key(view)) picked = by_key;
    return picked;
}

void draw_nose(const DrillView& view, const Theme& theme) {
    if (!view.nose.empty()) emphasis(theme, view.nose);
}

std::optional<Intent> draw_certainty(const DrillView& view, const Theme& theme) {
    using drills::Certainty;
    constexpr std::array<Certainty, 3> all{Certainty::guessed, Certainty::leaning, Certainty::sure};
    const std::array<const char*, 3> labels{"guessed  (G)", "leaning  (L)", "sure  (S)"};
    constexpr std::array<char, 3> keys{'G', 'L', 'S'};
    std::optional<Intent> intent;
    std::vector<Choice> choices;
    for (std::size_t i = 0; i < all.size(); ++i)
        choices.push_back(
            {.label = labels.at(i), .is_chosen = view.certainty == all.at(i), .note = {}, .component = {}});
    if (const auto chosen = choose(theme, "certainty", choices)) intent = PickCertainty{all.at(*chosen)};
    for (std::size_t i = 0; i < keys.size(); ++i)
        if (pressed(letter(keys.at(i)))) intent = PickCertainty{all.at(i)};
    return intent;
}

std::optional<Intent> draw_answer(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    draw_nose(view, theme);
    for (const std::string& line : view.instruction) paragraph(theme, line);
    pause(theme, 0.3F);
    say(theme, view.question);
    pause(theme, 0.4F);
    if (const auto part = draw_watch(view, theme)) intent = part;
    if (const auto part = draw_set(view, theme)) intent = part;
    if (const auto part = draw_mouth(view, theme)) intent = part;
    if (!view.tiles.empty())
        if (const auto picked = draw_tiles(view, theme)) intent = PickCup{*picked};
    if (const auto part = draw_words_that_fit(view, theme)) intent = part;
    if (const auto part = draw_mark_line(view, theme)) intent = part;
    pause(theme, 0.5F);
    if (view.asks_certainty)
        if (const auto sure = draw_certainty(view, theme)) intent = sure;
    pause(theme, 0.6F);
    if (primary(theme, "Lock", view.can_lock, "Enter") || (view.can_lock && pressed_enter()))
        intent = LockAnswer{};
    if (!view.hint.empty()) faint(theme, view.hint);
    return intent;
}

std::optional<Intent> draw_reveal(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    say(theme, view.locked);
    pause(theme, 0.2F);
    say(theme, view.question);
    pause(theme, 0.4F);
    if (const auto picked = draw_tiles(view, theme)) intent = FoundSign{*picked};
    pause(theme, 0.6F);
    const char* label = view.tiles_are_cups ? "It was there" : "That is beneath";
    if (primary(theme, label, view.can_lock, "Enter") || (view.can_lock && pressed_enter()))
        intent = LockSign{};
    if (!view.hint.empty()) faint(theme, view.hint);
    return intent;
}

std::optional<Intent> draw_rest(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    const bool is_wide = ImGui::GetContentRegionAvail().x > 30.0F * theme.em();
    ImGui::BeginGroup();
    countdown_ring(theme, view.rest_share, view.rest_left);
    ImGui::EndGroup();
    if (is_wide) ImGui::SameLine(0.0F, 1.5F * theme.em());
    const float ring_ems = is_wide ? 10.3F : 0.0F;
    ImGui::BeginGroup();
    for (const std::string& line : view.instruction) {
        say(theme, line, ring_ems);
        pause(theme, 0.1F);
    }
    if (!view.pours_meanwhile)
        faint(theme, "It goes on when the rest is over.");
    else if (view.is_poured)
        faint(theme, "Poured. It goes on when the rest is over.");
    else if (primary(theme, "Poured", true, "Space") || pressed(Key::space))
        intent = Poured{};
    pause(theme, 0.3F);
    if (quiet(theme, "Cut this rest short", "C") || pressed(letter('C'))) intent = CutRest{};
    faint(theme, "That a rest was cut is noted with the sitting.");
    ImGui::EndGroup();
    return intent;
}

/// The codes of a sealed key, in columns.
void draw_codes(const DrillView& view, const Theme& theme) {
    if (view.codes.empty()) return;
    constexpr float column_ems = 4.0F;
    const float room_ems = ImGui::GetWindowWidth() / theme.em() - column_ems;
    const auto a_row = static_cast<std::size_t>(std::clamp(room_ems / column_ems, 1.0F, 10.0F));
    const float left = ImGui::GetCursorPosX();
    ImGui::PushFont(theme.fonts.strong);
    for (std::size_t i = 0; i < view.codes.size(); ++i) {
        const auto column = static_cast<float>(i % a_row);
        if (i % a_row != 0) {
            ImGui::SameLine();
            ImGui::SetCursorPosX(left + column * column_ems * theme.em());
        }
        ImGui::TextUnformatted(view.codes[i].c_str());
    }
    ImGui::PopFont();
}

std::optional<Intent> draw_one_key(const DrillView& view, const Theme& theme, const char* label,
                                   Intent then) {
    std::optional<Intent> intent;
    draw_nose(view, theme);
    for (const std::string& line : view.instruction) {
        say(theme, line);
        pause(theme, 0.15F);
    }
    draw_codes(view, theme);
    pause(theme, 0.6F);
    if (primary(theme, label, true, "Space") || pressed(Key::space)) intent = std::move(then);
    if (view.prints_card) {
        pause(theme, 0.4F);
        if (quiet(theme, "Print the pour card", "Ctrl+P")) intent = PrintShown{};
    }
    return intent;
}

std::optional<Intent> draw_stop(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    pause(theme, 1.4F);
    rule(theme, drill_ems);
    pause(theme, 0.2F);
    if (!view.stop_asked) {
        if (quiet(theme, "Stop here, keep what I did", "X") || pressed(letter('X'))) intent = AskToStop{true};
        return intent;
    }
    paragraph(theme, view.stop_text);
    if (quiet(theme, "Stop it", "Y") || pressed(letter('Y'))) intent = StopDrill{};
    beside(theme, "Go on");
    if (quiet(theme, "Go on", "N") || pressed(letter('N'))) intent = AskToStop{false};
    return intent;
}

}  // namespace

std::optional<Intent> draw_drill(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    const float em = theme.em();
    const float width = std::min(ImGui::GetContentRegionAvail().x, drill_ems * em);
    // A little above the middle, where there is room to spare.
    const float tall_ems = view.phase == Phase::answer && !view.mouth.empty() ? 42.0F : 30.0F;
    ImGui::Dummy({0.0F, std::max(0.0F, 0.5F * (ImGui::GetContentRegionAvail().y - tall_ems * em))});
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + (ImGui::GetContentRegionAvail().x - width) / 2.0F);
    ImGui::BeginGroup();
    ImGui::PushItemWidth(width);
    ImGui::PushFont(theme.fonts.strong);
    ImGui::TextUnformatted(view.heading.c_str());
    ImGui::PopFont();
    ImGui::SameLine(0.0F, 2.0F * em);
    ImGui::PushStyleColor(ImGuiCol_Text, theme.colour.faint);
    ImGui::TextUnformatted(view.cups.c_str());
    ImGui::PopStyleColor();
    pause(theme, 1.2F);
    switch (view.phase) {
        case Phase::acquaint:
            intent = draw_one_key(view, theme, "Done, begin", Acquainted{});
            break;
        case Phase::pour:
            intent = draw_one_key(view, theme, "Done", Poured{});
            break;
        case Phase::answer:
            intent = draw_answer(view, theme);
            break;
        case Phase::reveal:
            intent = draw_reveal(view, theme);
            break;
        case Phase::rest:
            intent = draw_rest(view, theme);
            break;
        case Phase::done:
            break;
    }
    if (view.can_stop)
        if (std::optional<Intent> stop = draw_stop(view, theme)) intent = std::move(stop);
    ImGui::PopItemWidth();
    ImGui::EndGroup();
    return intent;
}

}  // namespace sipladder::gui
