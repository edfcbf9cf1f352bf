#pragma once

#include "gui/theme/theme.hpp"

#include <memory>
#include <string>

struct GLFWwindow;

namespace sipladder::gui {

/// The one window: GLFW with an OpenGL 3.3 core context and a Dear ImGui context on it.
class Window {
  public:
    /// @throws Failed when there is no display or no OpenGL 3.3
    explicit Window(const std::string& title);
    Window(const Window&) = delete;
    Window& operator=(const Window&) = delete;
    ~Window();

    bool wants_to_close() const;
    /// Sleeps until input comes, another thread calls `wake`, or this many seconds are over.
    void wait(double seconds) const;
    static void wake();
    /// What the display asks for, 1 where it does not say.
    float display_scale() const;
    void set_title(const std::string& title);
    void begin_frame() const;
    void end_frame(const Theme& theme) const;
    /// After the font atlas was rebuilt.
    void upload_fonts() const;

  private:
    GLFWwindow* window_ = nullptr;
    std::string title_;
};

}  // namespace sipladder::gui
