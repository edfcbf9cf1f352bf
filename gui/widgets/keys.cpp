#include "gui/widgets/keys.hpp"

namespace sipladder::gui {

bool pressed(int key) {
    return !ImGui::GetIO().KeyCtrl && !ImGui::GetIO().KeyAlt && ImGui::IsKeyPressed(key, false);
}

bool pressed(Key key) {
    return pressed(static_cast<int>(key));
}

bool pressed_enter() {
    return pressed(Key::enter) || pressed(Key::keypad_enter);
}

bool pressed_with_ctrl(int key) {
    return ImGui::GetIO().KeyCtrl && ImGui::IsKeyPressed(key, false);
}

bool keys_are_free() {
    return !ImGui::GetIO().WantTextInput;
}

}  // namespace sipladder::gui
