#include "gui/widgets/widgets.hpp"

#include "gui/charts/window_painter.hpp"
#include "gui/widgets/keys.hpp"

#include <imgui_internal.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

constexpr float label_ems = 6.5F;
constexpr float narrow_ems = 34.0F;  ///< below this, labels go above

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// The end of the piece that begins here and must stay on one line: a word, or a number with its unit.
std::size_t end_of_piece(const std::string& text, std::size_t begin) {
    std::size_t end = std::min(text.find(' ', begin), text.size());
    constexpr std::size_t longest_unit = 4;  // "g/L", "mL", "%"
    if (end == begin || end == text.size() || !is_digit(text[end - 1])) return end;
    const std::size_t next = std::min(text.find_first_of(" .,;)", end + 1), text.size());
    const bool is_unit =
        next > end + 1 && next - end - 1 <= longest_unit && !is_digit(text[end + 1]) && text[end + 1] != '(';
    return is_unit ? std::min(text.find(' ', end + 1), text.size()) : end;
}

/// Broken at blanks only: Dear ImGui itself would break "1.01 g" behind its point.
std::string broken_at_blanks(const std::string& text, float width) {
    std::string lines;
    std::string line;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = end_of_piece(text, at);
        const std::string longer =
            line.empty() ? text.substr(at, end - at) : line + text.substr(at - 1, end - at + 1);
        if (!line.empty() && ImGui::CalcTextSize(longer.c_str()).x > width) {
            lines += line + "\n";
            line = text.substr(at, end - at);
        } else {
            line = longer;
        }
        at = end + 1;
    }
    return lines + line;
}

/// @param wrap  x at which lines end, in the window; 0: not at all
void text_in(ImFont* font, const ImVec4& colour, const std::string& text, float wrap) {
    ImGui::PushFont(font);
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    const float width = wrap - ImGui::GetCursorPosX();
    const bool is_short = wrap <= 0.0F || ImGui::CalcTextSize(text.c_str()).x <= width;
    const std::string lines = is_short ? text : broken_at_blanks(text, width);
    ImGui::PushTextWrapPos(wrap);  // for a word that is wider than the line
    ImGui::TextUnformatted(lines.data(), lines.data() + lines.size());
    ImGui::PopTextWrapPos();
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

float wrap_at(const Theme& theme) {
    return ImGui::GetCursorPosX() + reading_width(theme);
}

}  // namespace

void tooltip(const Theme& theme, const std::string& text) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.6F * theme.em(), 0.4F * theme.em()});
    ImGui::BeginTooltip();
    ImGui::PushFont(theme.fonts.body);
    ImGui::PushTextWrapPos(24.0F * theme.em());
    ImGui::TextUnformatted(text.data(), text.data() + text.size());
    ImGui::PopTextWrapPos();
    ImGui::PopFont();
    ImGui::EndTooltip();
    ImGui::PopStyleVar();
}

namespace {

/// The key of the button that was just drawn, level with its middle. Drawn beside it, so that it moves
/// nothing.
void key_hint(const Theme& theme, const std::string& key) {
    const ImVec2 top_left = ImGui::GetItemRectMin();
    const ImVec2 bottom_right = ImGui::GetItemRectMax();
    ImFont* font = theme.fonts.small;
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e9F, 0.0F, key.c_str());
    ImGui::GetWindowDrawList()->AddText(
        font, font->FontSize,
        {bottom_right.x + 0.5F * theme.em(), (top_left.y + bottom_right.y - size.y) / 2.0F},
        ImGui::GetColorU32(theme.colour.faint), key.c_str());
    ImGui::SameLine(0.0F, 0.5F * theme.em());
    ImGui::Dummy({size.x, 0.0F});
}

/// Stays on the line if this much room is left there.
void flow(float width, bool is_first) {
    if (is_first) return;
    const float next = ImGui::GetItemRectMax().x + ImGui::GetStyle().ItemSpacing.x + width;
    const float edge = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (next <= edge) ImGui::SameLine();
}

}  // namespace

std::string elided(const std::string& text, float width) {
    if (ImGui::CalcTextSize(text.c_str()).x <= width) return text;
    std::string cut = text;
    while (!cut.empty() && ImGui::CalcTextSize((cut + "…").c_str()).x > width) {
        do cut.pop_back();
        while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U);
        // What is left of a split character goes as well.
        if (!cut.empty() && static_cast<unsigned char>(cut.back()) >= 0xC0U) cut.pop_back();
    }
    return cut + "…";
}

void cell_text(const Theme& theme, const std::string& text, bool is_faint) {
    text_in(theme.fonts.body, is_faint ? theme.colour.faint : theme.colour.ink, text,
            ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x);
}

float reading_width(const Theme& theme) {
    return std::min(ImGui::GetContentRegionAvail().x, 40.0F * theme.em());
}

void gap(const Theme& theme, float ems) {
    ImGui::Dummy({0.0F, ems * theme.em()});
}

void heading(const Theme& theme, const std::string& text) {
    text_in(theme.fonts.title, theme.colour.ink, text, wrap_at(theme));
    gap(theme, 0.2F);
}

void section(const Theme& theme, const std::string& text) {
    gap(theme, 0.5F);
    text_in(theme.fonts.strong, theme.colour.ink, text, wrap_at(theme));
}

void paragraph(const Theme& theme, const std::string& text) {
    text_in(theme.fonts.body, theme.colour.ink, text, wrap_at(theme));
}

void rule(const Theme& theme, float most_ems) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = std::min(ImGui::GetContentRegionAvail().x, most_ems * theme.em());
    ImGui::GetWindowDrawList()->AddLine(at, {at.x + width, at.y}, ImGui::GetColorU32(theme.colour.hairline));
    gap(theme, 0.4F);
}

void large_paragraph(const Theme& theme, const std::string& text, float most_ems) {
    text_in(theme.fonts.large, theme.colour.ink, text,
            ImGui::GetCursorPosX() + std::min(ImGui::GetContentRegionAvail().x, most_ems * theme.em()));
}

void emphasis(const Theme& theme, const std::string& text) {
    text_in(theme.fonts.large, theme.colour.accent, text,
            ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x);
}

void faint(const Theme& theme, const std::string& text) {
    text_in(theme.fonts.body, theme.colour.faint, text, wrap_at(theme));
}

void caution_sign(ImDrawList& list, ImVec2 top_left, float size, ImU32 colour) {
    const float x = top_left.x;
    const float y = top_left.y;
    list.AddTriangle({x + size / 2, y + 0.08F * size}, {x + 0.97F * size, y + 0.92F * size},
                     {x + 0.03F * size, y + 0.92F * size}, colour, std::max(1.5F, size / 10.0F));
    list.AddLine({x + size / 2, y + 0.38F * size}, {x + size / 2, y + 0.64F * size}, colour,
                 std::max(1.5F, size / 9.0F));
    list.AddCircleFilled({x + size / 2, y + 0.78F * size}, std::max(1.0F, size / 15.0F), colour);
}

void caution(const Theme& theme, const std::string& text) {
    const float size = 1.05F * theme.em();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    // Beside a button the text is set down to the button's; the sign goes with it.
    const float down = ImGui::GetCurrentWindow()->DC.CurrLineTextBaseOffset + 0.1F * theme.em();
    caution_sign(*ImGui::GetWindowDrawList(), {at.x, at.y + down}, size,
                 ImGui::GetColorU32(theme.colour.warning));
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 1.6F * theme.em());
    text_in(theme.fonts.body, theme.colour.ink, text, wrap_at(theme));
}

void shown(const Theme& theme, const Shown& number) {
    ImGui::TextUnformatted(number.text.data(), number.text.data() + number.text.size());
    if (ImGui::IsItemHovered() && !number.whence.empty()) tooltip(theme, number.whence);
}

bool primary(const Theme& theme, const std::string& label, bool enabled, const std::string& key) {
    ImGui::BeginDisabled(!enabled);
    ImGui::PushStyleColor(ImGuiCol_Button, theme.colour.accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, theme.colour.accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, theme.colour.accent);
    ImGui::PushStyleColor(ImGuiCol_Text, theme.colour.on_accent);
    ImGui::PushFont(theme.fonts.strong);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2{1.0F * theme.em(), 0.5F * theme.em()});
    const bool clicked = ImGui::Button(label.c_str());
    ImGui::PopStyleVar();
    ImGui::PopFont();
    ImGui::PopStyleColor(4);
    ImGui::EndDisabled();
    if (!key.empty()) {
        key_hint(theme, key);
    }
    const bool by_key = key == "Ctrl+Enter" && (pressed_with_ctrl(static_cast<int>(Key::enter)) ||
                                                pressed_with_ctrl(static_cast<int>(Key::keypad_enter)));
    return enabled && (clicked || by_key);
}

bool quiet(const Theme& theme, const std::string& label, const std::string& key) {
    const float room = ImGui::GetContentRegionAvail().x - 2.0F * ImGui::GetStyle().FramePadding.x;
    const bool clicked = ImGui::Button(elided(label, room).c_str());
    const bool is_taken = theme.is_escape_taken && key == "Escape";
    if (!key.empty() && !is_taken) key_hint(theme, key);
    return clicked;
}

void beside(const Theme& theme, const std::string& label, float key_ems) {
    const float padding = 2.0F * ImGui::GetStyle().FramePadding.x;
    flow(ImGui::CalcTextSize(label.c_str(), nullptr, true).x + padding + key_ems * theme.em(), false);
}

bool tick(const Theme& theme, const std::string& label, bool is_on) {
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2{0.2F * theme.em(), 0.05F * theme.em()});
    bool value = is_on;
    bool changed = ImGui::Checkbox("##tick", &value);
    ImGui::SameLine();
    text_in(theme.fonts.body, theme.colour.ink, label, wrap_at(theme));
    changed = changed || ImGui::IsItemClicked();
    ImGui::PopStyleVar();
    return changed;
}

namespace {

/// Below all the choices, or above them where there is no room, so that it covers none of them.
void tooltip_beside(const Theme& theme, const std::string& text, ImVec2 top_left, float bottom) {
    const float em = theme.em();
    ImFont* font = theme.fonts.body;
    const float height = font->CalcTextSizeA(font->FontSize, 1e9F, 24.0F * em, text.c_str()).y + 0.8F * em;
    const bool fits = bottom + height + 0.6F * em < ImGui::GetMainViewport()->Size.y;
    ImGui::SetNextWindowPos({top_left.x, fits ? bottom + 0.3F * em : top_left.y - 0.3F * em},
                            ImGuiCond_Always, {0.0F, fits ? 0.0F : 1.0F});
    tooltip(theme, text);
}

}  // namespace

namespace {

/// The item drawn last has the focus now, and is seen to have it.
void take_focus() {
    ImGui::SetFocusID(ImGui::GetCurrentContext()->LastItemData.ID, ImGui::GetCurrentWindow());
    ImGui::GetCurrentContext()->NavDisableHighlight = false;
}

}  // namespace

void bring_into_view(float top, float bottom) {
    ImGuiWindow* window = ImGui::GetCurrentWindow();
    const float y = window->Pos.y - window->Scroll.y;
    const float x = window->DC.CursorStartPos.x;
    ImGui::ScrollToRect(window, {{x, y + top}, {x + 1.0F, y + bottom}}, ImGuiScrollFlags_KeepVisibleEdgeY);
}

std::optional<std::size_t> choose(const Theme& theme, const char* id, const std::vector<Choice>& choices,
                                  bool takes_focus) {
    std::optional<std::size_t> chosen;
    const std::string* told = nullptr;  // by the one that is pointed at
    const ImVec2 top_left = ImGui::GetCursorScreenPos();
    float bottom = top_left.y;
    ImGui::PushID(id);
    const auto before = std::ranges::find_if(choices, [](const Choice& one) { return one.is_chosen; });
    const auto focused = static_cast<std::size_t>(before == choices.end() ? 0 : before - choices.begin());
    const float em = theme.em();
    const float lead = 1.35F * em;
    const float room = ImGui::GetContentRegionAvail().x - lead - 1.05F * em;  // longer labels wrap
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const Choice& choice = choices[i];
        ImGui::PushFont(choice.is_chosen ? theme.fonts.strong : theme.fonts.body);
        const ImVec2 text = ImGui::CalcTextSize(choice.label.c_str(), nullptr, false, room);
        const ImVec2 size{text.x + lead + 1.0F * em, text.y + 0.4F * em};
        flow(size.x, i == 0);
        ImGui::PushID(static_cast<int>(i));
        ImGui::PushStyleColor(ImGuiCol_Border, choice.is_chosen ? theme.colour.accent : theme.colour.edge);
        ImGui::PushStyleColor(ImGuiCol_Button, choice.is_chosen ? theme.colour.hover : theme.colour.raised);
        const ImVec2 at = ImGui::GetCursorScreenPos();
        if (ImGui::Button("##choice", size)) chosen = i;
        if (takes_focus && i == focused) take_focus();
        ImGui::PopStyleColor(2);
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const ImVec2 centre{at.x + 0.95F * em, at.y + size.y / 2};
        if (choice.component) {
            WindowPainter painter(list, theme);
            painter.marker({static_cast<double>(centre.x), static_cast<double>(centre.y)},
                           0.36 * static_cast<double>(em), chart::shape_of(*choice.component),
                           chart::ink_of(*choice.component), true);
            if (choice.is_chosen)
                list.AddLine({at.x + lead + 0.3F * em, at.y + size.y - 0.24F * em},
                             {at.x + size.x - 0.6F * em, at.y + size.y - 0.24F * em},
                             ImGui::GetColorU32(theme.colour.accent), std::max(1.5F, 0.1F * em));
        } else {
            list.AddCircle(centre, 0.3F * em,
                           ImGui::GetColorU32(choice.is_chosen ? theme.colour.accent : theme.colour.faint), 0,
                           std::max(1.0F, 0.08F * em));
            if (choice.is_chosen)
                list.AddCircleFilled(centre, 0.16F * em, ImGui::GetColorU32(theme.colour.accent));
        }
        ImFont* font = ImGui::GetFont();
        list.AddText(font, font->FontSize, {at.x + lead + 0.3F * em, at.y + 0.2F * em},
                     ImGui::GetColorU32(theme.colour.ink), choice.label.c_str(), nullptr, room + 1.0F);
        // What is chosen says so on the line below.
        if (!choice.note.empty() && !choice.is_chosen && ImGui::IsItemHovered()) told = &choice.note;
        bottom = std::max(bottom, at.y + size.y);
        ImGui::PopID();
        ImGui::PopFont();
    }
    ImGui::PopID();
    if (told != nullptr) tooltip_beside(theme, *told, top_left, bottom);
    return chosen;
}

namespace {

/// A screen that has just been opened begins with the item drawn last. ImGui::SetItemDefaultFocus knows
/// windows only, and a place is part of one.
void begin_here() {
    ImGuiContext& context = *ImGui::GetCurrentContext();
    ImGuiWindow* window = ImGui::GetCurrentWindow();
    if (context.NavWindow != window || (!context.NavInitRequest && context.NavInitResultId == 0)) return;
    context.NavInitRequest = false;
    context.NavInitResultId = context.LastItemData.ID;
    context.NavInitResultRectRel = ImGui::WindowRectAbsToRel(window, context.LastItemData.Rect);
}

}  // namespace

void begin_passed_over() {
    ImGui::PushItemFlag(ImGuiItemFlags_NoNavDefaultFocus, true);
}

void end_passed_over() {
    ImGui::PopItemFlag();
}

std::optional<std::size_t> choose_part(const Theme& theme, const std::vector<Choice>& parts) {
    begin_passed_over();
    std::optional<std::size_t> chosen = choose(theme, "parts", parts);
    end_passed_over();
    const auto here = static_cast<std::size_t>(
        std::ranges::find_if(parts, [](const Choice& part) { return part.is_chosen; }) - parts.begin());
    if (pressed(Key::f6) && here > 0) chosen = here - 1;
    if (pressed(Key::f7) && here + 1 < parts.size()) chosen = here + 1;
    return chosen;
}

std::optional<std::size_t> choose_line(const Theme& theme, const char* id,
                                       const std::vector<Choice>& choices) {
    std::optional<std::size_t> chosen;
    ImGui::PushID(id);
    const float em = theme.em();
    const float lead = 1.65F * em;
    const float width = std::min(ImGui::GetContentRegionAvail().x, 58.0F * em);
    const float height = ImGui::GetTextLineHeight() + 0.36F * em;
    float names = 0.0F;
    for (const Choice& choice : choices)
        names = std::max(
            names,
            theme.fonts.strong->CalcTextSizeA(theme.fonts.strong->FontSize, 1e9F, 0.0F, choice.label.c_str())
                .x);
    const float notes_at = lead + names + 1.2F * em;
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const Choice& choice = choices[i];
        ImGui::PushID(static_cast<int>(i));
        ImGui::PushStyleColor(ImGuiCol_Border, ImVec4{0, 0, 0, 0});
        ImGui::PushStyleColor(ImGuiCol_Button, choice.is_chosen ? theme.colour.hover : ImVec4{0, 0, 0, 0});
        ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2{0.0F, 0.1F * em});
        const ImVec2 at = ImGui::GetCursorScreenPos();
        if (ImGui::Button("##line", {width, height})) chosen = i;
        if (choice.is_chosen) begin_here();
        ImGui::PopStyleVar();
        ImGui::PopStyleColor(2);
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const ImVec2 centre{at.x + 0.85F * em, at.y + height / 2};
        list.AddCircle(centre, 0.3F * em,
                       ImGui::GetColorU32(choice.is_chosen ? theme.colour.accent : theme.colour.faint), 0,
                       std::max(1.0F, 0.08F * em));
        if (choice.is_chosen)
            list.AddCircleFilled(centre, 0.16F * em, ImGui::GetColorU32(theme.colour.accent));
        ImFont* font = choice.is_chosen ? theme.fonts.strong : theme.fonts.body;
        const float top = at.y + 0.18F * em;
        list.AddText(font, font->FontSize, {at.x + lead, top}, ImGui::GetColorU32(theme.colour.ink),
                     choice.label.c_str());
        const std::string note = elided(choice.note, width - notes_at - 0.5F * em);
        if (width > notes_at + 6.0F * em)
            list.AddText({at.x + notes_at, top}, ImGui::GetColorU32(theme.colour.faint), note.c_str());
        if ((note != choice.note || width <= notes_at + 6.0F * em) && ImGui::IsItemHovered())
            tooltip(theme, choice.note);
        ImGui::PopID();
    }
    ImGui::PopID();
    return chosen;
}

std::optional<std::string> bare_field(const Theme& theme, const char* id, const Field& field, float width_em,
                                      bool takes_focus) {
    std::string text = field.text;
    ImGui::SetNextItemWidth(std::min(width_em * theme.em(), ImGui::GetContentRegionAvail().x));
    if (!field.problem.empty()) ImGui::PushStyleColor(ImGuiCol_Border, theme.colour.warning);
    const bool changed = ImGui::InputText(id, &text);
    if (takes_focus) take_focus();
    if (!field.problem.empty()) ImGui::PopStyleColor();
    if (!changed) return std::nullopt;
    return text;
}

std::optional<std::string> field(const Theme& theme, const char* id, const Field& field, float width_em,
                                 bool takes_focus) {
    std::optional<std::string> changed = bare_field(theme, id, field, width_em, takes_focus);
    if (!field.unit.empty()) {
        flow(ImGui::CalcTextSize(field.unit.c_str()).x, false);
        ImGui::TextUnformatted(field.unit.c_str());
    }
    if (!field.problem.empty()) caution(theme, field.problem);
    return changed;
}

void word_before(const Theme& theme, const std::string& text, float width_em) {
    ImGui::AlignTextToFramePadding();
    text_in(theme.fonts.body, theme.colour.faint, text,
            ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x);
    flow(width_em * theme.em(), false);
}

void begin_row(const Theme& theme, const std::string& label) {
    const bool is_wide = ImGui::GetContentRegionAvail().x > narrow_ems * theme.em();
    const float x = ImGui::GetCursorPosX();
    if (is_wide) {
        ImGui::AlignTextToFramePadding();
        text_in(theme.fonts.strong, theme.colour.faint, label, 0.0F);
        ImGui::SameLine(x + label_ems * theme.em());
    } else {
        text_in(theme.fonts.strong, theme.colour.faint, label, 0.0F);
    }
    ImGui::BeginGroup();
}

void end_row() {
    ImGui::EndGroup();
}

void mark_at(const Theme& theme, solution::Component component, ImVec2 at) {
    const float em = theme.em();
    WindowPainter painter(*ImGui::GetWindowDrawList(), theme);
    painter.marker({static_cast<double>(at.x + 0.5F * em), static_cast<double>(at.y + 0.55F * em)},
                   0.4 * static_cast<double>(em), chart::shape_of(component), chart::ink_of(component), true);
}

void mark(const Theme& theme, solution::Component component) {
    mark_at(theme, component, ImGui::GetCursorScreenPos());
    ImGui::Dummy({1.0F * theme.em(), 1.0F * theme.em()});
}

void countdown_ring(const Theme& theme, double share, const std::string& text) {
    const float em = theme.em();
    const float radius = (ImGui::GetWindowHeight() < 27.0F * em ? 2.6F : 4.0F) * em;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 centre{at.x + radius + 0.4F * em, at.y + radius + 0.4F * em};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddCircle(centre, radius, ImGui::GetColorU32(theme.colour.hairline), 96, 0.35F * em);
    if (share > 0.0) {
        constexpr float top = -1.5707963F;
        list.PathArcTo(centre, radius, top, top + 6.2831853F * static_cast<float>(share), 96);
        list.PathStroke(ImGui::GetColorU32(theme.colour.accent), 0, 0.35F * em);
    }
    ImFont* font = theme.fonts.large;
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e9F, 0.0F, text.c_str());
    list.AddText(font, font->FontSize, {centre.x - size.x / 2, centre.y - size.y / 2},
                 ImGui::GetColorU32(theme.colour.ink), text.c_str());
    ImGui::Dummy({2.0F * radius + 0.8F * em, 2.0F * radius + 0.8F * em});
}

}  // namespace sipladder::gui
