#include "gui/screens/palate_parts.hpp"
#include "gui/widgets/keys.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

constexpr std::size_t first_next_key = 7;  // 1 to 6 are the questions
constexpr float wide_ems = 46.0F;          // above it the numbers stand beside a low picture
constexpr float low_lines = 12.0F;         // what is higher has its numbers above it

bool typed(int key) {
    return keys_are_free() && !ImGui::GetIO().KeyCtrl && pressed(key);
}

/// Mark and name, and what opens the row beside them.
bool draw_title(const PalateRowView& row, const std::string& key, const Theme& theme) {
    ImGui::AlignTextToFramePadding();
    if (row.component) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        mark_at(theme, *row.component, {at.x, at.y + ImGui::GetStyle().FramePadding.y});
        ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 1.6F * theme.em());
    }
    ImGui::PushFont(theme.fonts.strong);
    cell_text(theme, row.title);
    ImGui::PopFont();
    beside(theme, "What it rests on", 2.0F);
    return quiet(theme, "What it rests on", key);
}

bool is_low(const PalateRowView& row) {
    return row.pictures.size() == 1 && row.pictures.front().lines < static_cast<double>(low_lines);
}

/// A picture with its numbers at the right, where there is room for both.
void draw_low_row(const PalateRowView& row, const Theme& theme) {
    const float em = theme.em();
    const float width = std::min(ImGui::GetContentRegionAvail().x, 66.0F * em);
    const bool is_wide = width > wide_ems * em;
    const float left = ImGui::GetCursorPosX();
    const float chart_ems = (is_wide ? 0.56F * width : width) / em;
    ImGui::BeginGroup();
    draw_picture_of(row.pictures.front(), "picture", theme, chart_ems);
    ImGui::EndGroup();
    if (is_wide) ImGui::SameLine(left + (chart_ems + 1.2F) * em);
    ImGui::BeginGroup();
    draw_numbers(row.numbers, theme);
    if (!row.age.empty()) faint(theme, row.age);
    ImGui::EndGroup();
    if (!row.reported.empty()) cell_text(theme, row.reported, true);
}

void draw_high_row(const PalateRowView& row, const Theme& theme) {
    draw_numbers(row.numbers, theme);
    for (std::size_t i = 0; i < row.pictures.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        draw_picture_of(row.pictures[i], "picture", theme, 44.0F);
        ImGui::PopID();
    }
    for (const std::string& sentence : row.sentences) paragraph(theme, sentence);
    if (!row.age.empty()) faint(theme, row.age);
}

void draw_row(const PalateRowView& row, std::size_t index, const Theme& theme,
              std::optional<Intent>& intent) {
    constexpr std::size_t letters = 26;
    ImGui::PushID(static_cast<int>(index));
    const bool has_key = index < letters;
    const int key = letter('A') + static_cast<int>(index);
    const std::string name = has_key ? std::string(1, static_cast<char>(key)) : std::string{};
    if (draw_title(row, name, theme) || (has_key && typed(key))) intent = OpenRow{index};
    if (is_low(row)) {
        draw_low_row(row, theme);
        for (const std::string& sentence : row.sentences) faint(theme, sentence);
    } else {
        draw_high_row(row, theme);
    }
    for (const std::string& warning : row.warnings) caution(theme, warning);
    gap(theme, 0.8F);
    ImGui::PopID();
}

void draw_next(const PalateView& view, const Theme& theme, std::optional<Intent>& intent) {
    if (view.next.empty()) return;
    rule(theme, 66.0F);
    section(theme, "What next");
    for (std::size_t i = 0; i < view.next.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        paragraph(theme, view.next[i]);
        const int number = static_cast<int>(first_next_key + i);
        if (quiet(theme, "Prepare it", std::to_string(number)) || typed(digit(number)))
            intent = PrepareNext{i};
        gap(theme, 0.3F);
        ImGui::PopID();
    }
    faint(theme, view.next_note);
}

}  // namespace

void draw_numbers(const std::vector<PalateNumberView>& numbers, const Theme& theme) {
    for (const PalateNumberView& one : numbers) {
        const std::string what = one.what + "  ";
        const float needed = ImGui::CalcTextSize((what + one.number.text).c_str()).x + theme.em();
        const bool fits = needed < ImGui::GetContentRegionAvail().x;
        ImGui::PushStyleColor(ImGuiCol_Text, theme.colour.faint);
        ImGui::TextUnformatted(what.c_str());
        ImGui::PopStyleColor();
        if (fits) ImGui::SameLine(0.0F, 0.0F);
        ImGui::PushFont(theme.fonts.strong);
        shown(theme, one.number);
        ImGui::PopFont();
        if (one.age.empty()) continue;
        beside(theme, one.age, 0.0F);
        faint(theme, one.age);
    }
}

void draw_picture_of(const drills::PalatePicture& picture, const char* id, const Theme& theme,
                     float most_ems) {
    const float width = std::min(ImGui::GetContentRegionAvail().x, most_ems * theme.em());
    const float height = static_cast<float>(picture.lines) * theme.fonts.small->FontSize;
    draw_chart(theme, id, picture.chart, width, height);
}

std::optional<Intent> draw_palate(const PalateView& view, const Theme& theme) {
    std::optional<Intent> intent;
    std::vector<Choice> numbered = view.questions;
    for (std::size_t i = 0; i < numbered.size(); ++i)
        numbered[i].label = std::to_string(i + 1) + "  " + numbered[i].label;
    const auto every = drills::every_palate_question;
    begin_passed_over();
    if (const auto chosen = choose(theme, "questions", numbered)) intent = ChooseQuestion{every.at(*chosen)};
    end_passed_over();
    for (std::size_t i = 0; i < every.size(); ++i)
        if (typed(digit(static_cast<int>(i) + 1))) intent = ChooseQuestion{every.at(i)};
    gap(theme, 0.4F);
    if (view.open) {
        if (auto wanted = draw_palate_detail(*view.open, theme)) intent = std::move(wanted);
        return intent;
    }
    draw_waits(view.waits, theme);
    if (!view.rows.empty()) faint(theme, view.explains);
    if (!view.left_open.empty()) caution(theme, view.left_open);
    gap(theme, 0.4F);
    if (!view.empty.empty()) {
        paragraph(theme, view.empty);
        gap(theme, 0.5F);
        if (primary(theme, view.offer)) intent = PrepareOffer{};
        gap(theme, 0.8F);
    }
    for (std::size_t i = 0; i < view.rows.size(); ++i) draw_row(view.rows[i], i, theme, intent);
    draw_next(view, theme, intent);
    gap(theme, 0.6F);
    faint(theme, view.foot);
    if (!view.rows.empty() || !view.next.empty()) {
        gap(theme, 0.4F);
        if (quiet(theme, "Print my report", "Ctrl+P")) intent = PrintShown{};
    }
    return intent;
}

}  // namespace sipladder::gui
