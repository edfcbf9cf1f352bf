#pragma once

#include "gui/platform/font_files.hpp"
#include "gui/screens/screens.hpp"

#include <imgui.h>

namespace sipladder::benchmark {

/// Draws as the window does, onto nothing.
class Screen {
  public:
    Screen() {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        ImGui::GetIO().DisplaySize = {1280.0F, 800.0F};
        ImGui::GetIO().DeltaTime = 1.0F / 60.0F;
        // As the window's own: years of dots are more corners than sixteen bits count.
        ImGui::GetIO().BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
        constexpr int first_key = 400;  // none is pressed
        for (int key = 0; key < ImGuiKey_COUNT; ++key) ImGui::GetIO().KeyMap[key] = first_key + key;
        gui::WantedCharacters wanted;
        theme_.fonts = gui::build_fonts(gui::find_font_files(), theme_.scale, wanted);
        theme_.colour = gui::palette_of(gui::Look::light);
        gui::apply_style(theme_);
    }
    Screen(const Screen&) = delete;
    Screen& operator=(const Screen&) = delete;
    ~Screen() { ImGui::DestroyContext(); }

    void draw(const gui::FrameView& view) {
        ImGui::NewFrame();
        gui::draw_frame(view, theme_, edit_);
        ImGui::Render();
    }

  private:
    gui::Theme theme_;
    gui::Edit edit_;
};

}  // namespace sipladder::benchmark
