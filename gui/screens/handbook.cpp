#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

/// A text beside its dash or number.
void hanging(const Theme& theme, const std::string& sign, const std::string& text) {
    const float em = theme.em();
    const float left = ImGui::GetCursorPosX();
    ImGui::SetCursorPosX(left + 0.4F * em);
    ImGui::TextUnformatted(sign.c_str());
    ImGui::SameLine(left + 2.0F * em);
    paragraph(theme, text);
}

void draw_block(const HandbookView& view, const content::Block& block, const Theme& theme) {
    using Kind = content::Block::Kind;
    switch (block.kind) {
        case Kind::section:
            section(theme, block.text);
            return;
        case Kind::paragraph:
            paragraph(theme, block.text);
            break;
        case Kind::item:
            hanging(theme, "–", block.text);
            return;
        case Kind::step:
            hanging(theme, std::to_string(block.number) + ".", block.text);
            return;
        case Kind::figure: {
            const auto found = view.figures.find(block.figure);
            if (found == view.figures.end()) return;
            const float width = std::min(reading_width(theme), 40.0F * theme.em());
            draw_chart(theme, block.figure.c_str(), found->second, width, 0.55F * width);
            faint(theme, block.text);
            break;
        }
    }
    gap(theme, 0.3F);
}

}  // namespace

std::optional<Intent> draw_handbook(const HandbookView& view, const Theme& theme) {
    std::optional<Intent> intent;
    std::vector<Choice> numbered = view.chapters;
    for (std::size_t i = 0; i < numbered.size(); ++i)
        numbered[i].label = std::to_string(i + 1) + "  " + numbered[i].label;
    if (const auto chosen = choose(theme, "chapters", numbered)) intent = OpenChapter{*chosen};
    for (std::size_t i = 0; i < std::min(numbered.size(), HandbookView::most_keys); ++i)
        if (pressed(digit(static_cast<int>(i) + 1))) intent = OpenChapter{i};
    gap(theme, 0.4F);
    ImGui::PushID(view.title.c_str());  // a chapter begins at its top
    ImGui::BeginChild("chapter", {0.0F, -3.8F * theme.em()}, false, ImGuiWindowFlags_NavFlattened);
    heading(theme, view.title);
    for (const content::Block& block : view.blocks) draw_block(view, block, theme);
    if (!view.sources.empty()) {
        section(theme, "Sources");
        for (const std::string& source : view.sources) faint(theme, source);
    }
    ImGui::EndChild();
    ImGui::PopID();
    gap(theme, 0.3F);
    if (quiet(theme, "Back", "Escape")) intent = OpenDialog{Dialog::none};
    return intent;
}

}  // namespace sipladder::gui
