#include "gui/theme/theme.hpp"

namespace sipladder::gui {

namespace {

ImVec4 rgb(unsigned hex, float alpha = 1.0F) {
    return ImVec4{static_cast<float>(hex >> 16 & 0xFFU) / 255.0F,
                  static_cast<float>(hex >> 8 & 0xFFU) / 255.0F, static_cast<float>(hex & 0xFFU) / 255.0F,
                  alpha};
}

void apply_sizes(ImGuiStyle& style, float em) {
    style.WindowPadding = {0.0F, 0.0F};
    style.FramePadding = {0.6F * em, 0.34F * em};
    style.ItemSpacing = {0.6F * em, 0.5F * em};
    style.ItemInnerSpacing = {0.4F * em, 0.3F * em};
    style.CellPadding = {0.45F * em, 0.28F * em};
    style.IndentSpacing = 1.2F * em;
    style.ScrollbarSize = 0.75F * em;
    style.GrabMinSize = 0.8F * em;
    style.WindowBorderSize = 0.0F;
    style.ChildBorderSize = 0.0F;
    style.FrameBorderSize = 1.0F;
    style.PopupBorderSize = 1.0F;
    style.WindowRounding = 0.0F;
    style.FrameRounding = 0.3F * em;
    style.PopupRounding = 0.3F * em;
    style.ScrollbarRounding = 0.4F * em;
}

void apply_colours(ImGuiStyle& style, const Palette& c) {
    ImVec4* const to = style.Colors;
    to[ImGuiCol_Text] = c.ink;
    to[ImGuiCol_TextDisabled] = c.faint;
    to[ImGuiCol_WindowBg] = c.paper;
    to[ImGuiCol_ChildBg] = {0.0F, 0.0F, 0.0F, 0.0F};
    to[ImGuiCol_PopupBg] = c.raised;
    to[ImGuiCol_Border] = c.hairline;
    to[ImGuiCol_FrameBg] = c.raised;
    to[ImGuiCol_FrameBgHovered] = c.hover;
    to[ImGuiCol_FrameBgActive] = c.hover;
    to[ImGuiCol_ScrollbarBg] = {0.0F, 0.0F, 0.0F, 0.0F};
    to[ImGuiCol_ScrollbarGrab] = c.hairline;
    to[ImGuiCol_ScrollbarGrabHovered] = c.faint;
    to[ImGuiCol_ScrollbarGrabActive] = c.faint;
    to[ImGuiCol_CheckMark] = c.accent;
    to[ImGuiCol_SliderGrab] = c.accent;
    to[ImGuiCol_SliderGrabActive] = c.accent;
    to[ImGuiCol_Button] = c.raised;
    to[ImGuiCol_ButtonHovered] = c.hover;
    to[ImGuiCol_ButtonActive] = c.hairline;
    to[ImGuiCol_Header] = c.hover;
    to[ImGuiCol_HeaderHovered] = c.hover;
    to[ImGuiCol_HeaderActive] = c.hairline;
    to[ImGuiCol_Separator] = c.hairline;
    to[ImGuiCol_TableBorderLight] = c.hairline;
    to[ImGuiCol_TableBorderStrong] = c.hairline;
    to[ImGuiCol_TableHeaderBg] = {0.0F, 0.0F, 0.0F, 0.0F};
    to[ImGuiCol_TextSelectedBg] = {c.accent.x, c.accent.y, c.accent.z, 0.25F};
    to[ImGuiCol_NavHighlight] = c.accent;
    to[ImGuiCol_ModalWindowDimBg] = {0.0F, 0.0F, 0.0F, 0.25F};
}

}  // namespace

Palette palette_of(Look look) {
    if (look == Look::light)
        return {.paper = rgb(0xF8F5EE),
                .raised = rgb(0xFFFDF9),
                .ink = rgb(0x24211C),
                .faint = rgb(0x6A6458),
                .hairline = rgb(0xD3CBBB),
                .accent = rgb(0x7A2C4C),
                .on_accent = rgb(0xFFFDF9),
                .hover = rgb(0xEFE9DC),
                .warning = rgb(0x9A4A00),
                .band = rgb(0xE4DCC9)};
    return {.paper = rgb(0x1D1B19),
            .raised = rgb(0x282522),
            .ink = rgb(0xEDE7DC),
            .faint = rgb(0xA79F92),
            .hairline = rgb(0x4A453E),
            .accent = rgb(0xE3A1B9),
            .on_accent = rgb(0x2B121C),
            .hover = rgb(0x37322D),
            .warning = rgb(0xF0B070),
            .band = rgb(0x3F3A32)};
}

ImVec4 hue_of(solution::Component component, Look look) {
    using solution::Component;
    switch (component) {
        case Component::sweet:
            return rgb(0xE69F00);
        case Component::sour:
            return rgb(0x009E73);
        case Component::alcohol:
            return rgb(0xD55E00);
        case Component::astringent:
            return rgb(0xCC79A7);
        case Component::bitter:
            return rgb(0x0072B2);
        case Component::salty:
            return rgb(0x56B4E9);
        case Component::weight:
            break;
    }
    return look == Look::light ? rgb(0x000000) : rgb(0xEDE7DC);
}

void apply_style(const Theme& theme) {
    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle{};
    apply_sizes(style, theme.em());
    apply_colours(style, theme.colour);
}

}  // namespace sipladder::gui
