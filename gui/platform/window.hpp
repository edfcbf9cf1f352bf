#pragma once

#include "gui/theme/theme.hpp"

#include <deque>
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
    /// True once after input came.
    bool was_touched();
    /// Hands at most one key press on, so that a tap shorter than a frame is never lost.
    void begin_frame();
    void end_frame(const Theme& theme) const;
    /// After the font atlas was rebuilt.
    void upload_fonts() const;

  private:
    struct KeyEvent {
        int key{};  ///< -1: a character
        int scancode{};
        int action{};
        int mods{};
        unsigned character{};
    };
    void install_callbacks();
    void hand_on_keys();

    GLFWwindow* window_ = nullptr;
    std::deque<KeyEvent> keys_;
    bool touched_ = true;
    std::string title_;
};

}  // namespace sipladder::gui
