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
    style.FramePadding = {0.6F * em, 0.2F * em};
    style.ItemSpacing = {0.6F * em, 0.42F * em};
    style.ItemInnerSpacing = {0.4F * em, 0.3F * em};
    style.CellPadding = {0.45F * em, 0.22F * em};
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
    to[ImGuiCol_Border] = c.edge;
    to[ImGuiCol_FrameBg] = c.raised;
    to[ImGuiCol_FrameBgHovered] = c.hover;
    to[ImGuiCol_FrameBgActive] = c.hover;
    to[ImGuiCol_ScrollbarBg] = {0.0F, 0.0F, 0.0F, 0.0F};
    to[ImGuiCol_ScrollbarGrab] = c.edge;
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
                .edge = rgb(0x8C8474),
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
            .edge = rgb(0x8A8275),
            .accent = rgb(0xE3A1B9),
            .on_accent = rgb(0x2B121C),
            .hover = rgb(0x37322D),
            .warning = rgb(0xF0B070),
            .band = rgb(0x3F3A32)};
}

ImVec4 hue_of(solution::Component component, Look look) {
    return colour_of(chart::ink_of(component), look);
}

ImVec4 colour_of(chart::Ink ink, Look look) {
    const chart::Rgb rgb = chart::rgb(ink, look == Look::light ? chart::Theme::light : chart::Theme::dark);
    const auto part = [](std::uint8_t byte) { return static_cast<float>(byte) / 255.0F; };
    return {part(rgb.red), part(rgb.green), part(rgb.blue), 1.0F};
}

void apply_style(const Theme& theme) {
    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle{};
    apply_sizes(style, theme.em());
    apply_colours(style, theme.colour);
}

}  // namespace sipladder::gui
