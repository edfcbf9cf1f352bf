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

char typed_character() {
    const ImGuiIO& io = ImGui::GetIO();
    constexpr ImWchar first_printed = 32;
    constexpr ImWchar last_printed = 126;
    if (io.KeyCtrl || io.KeyAlt || io.InputQueueCharacters.empty()) return 0;
    const ImWchar c = io.InputQueueCharacters.front();
    return c >= first_printed && c <= last_printed ? static_cast<char>(c) : '\0';
}

}  // namespace sipladder::gui
