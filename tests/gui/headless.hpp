#pragma once

#include "gui/platform/font_files.hpp"
#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"

#include <imgui.h>
#include <imgui_internal.h>

#include <optional>

/// Screens drawn with a real Dear ImGui context and no backend, by somebody with keys and a mouse.
namespace sipladder::tests {

class Headless {
  public:
    explicit Headless(ImVec2 size = {1024.0F, 700.0F}) {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = size;
        io.DeltaTime = 1.0F / 60.0F;
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        for (int key = 0; key < ImGuiKey_COUNT; ++key) io.KeyMap[key] = 400 + key;
        gui::WantedCharacters wanted;
        theme.fonts = gui::build_fonts(gui::find_font_files(), 1.0F, wanted, gui::Alphabets::latin);
        theme.colour = gui::palette_of(gui::Look::light);
        gui::apply_style(theme);
    }
    Headless(const Headless&) = delete;
    Headless& operator=(const Headless&) = delete;
    ~Headless() { ImGui::DestroyContext(); }

    /// So many frames, since some things settle late; what was wanted in one of them.
    std::optional<gui::Intent> draw(const gui::FrameView& view, int frames = 3) {
        std::optional<gui::Intent> wanted;
        for (int frame = 0; frame < frames; ++frame) {
            ImGui::NewFrame();
            if (auto intent = gui::draw_frame(view, theme, edit)) wanted = std::move(intent);
            ImGui::Render();
        }
        return wanted;
    }

    /// A key pressed and let go.
    std::optional<gui::Intent> press(int key, const gui::FrameView& view) {
        ImGui::GetIO().KeysDown[key] = true;
        std::optional<gui::Intent> wanted = draw(view, 1);
        ImGui::GetIO().KeysDown[key] = false;
        if (auto later = draw(view, 2)) wanted = std::move(later);
        return wanted;
    }

    static ImGuiID focus() { return ImGui::GetCurrentContext()->NavId; }
    /// The place of the item that has the focus, in the part of the window where it is.
    static ImRect focused() {
        const ImGuiContext& context = *ImGui::GetCurrentContext();
        return ImGui::WindowRectRelToAbs(context.NavWindow, context.NavWindow->NavRectRel[context.NavLayer]);
    }

    gui::Theme theme;
    gui::Edit edit;
};

}  // namespace sipladder::tests
