#pragma once

#include <imgui.h>

/// Keys as the screens name them. Dear ImGui 1.86 numbers keys as its backend does (GLFW); gui/platform
/// asserts that these are the same numbers.
namespace sipladder::gui {

enum class Key {
    space = 32,
    escape = 256,
    enter = 257,
    tab = 258,
    backspace = 259,
    del = 261,
    right = 262,
    left = 263,
    down = 264,
    up = 265,
    page_up = 266,
    page_down = 267,
    f1 = 290,
    f2 = 291,
    f3 = 292,
    f4 = 293,
    f5 = 294,
    f6 = 295,
    f7 = 296,
    f8 = 297,
    keypad_enter = 335
};

constexpr int letter(char upper) {
    return upper;
}
constexpr int digit(int number) {
    return '0' + number;
}

/// True in the frame in which the key went down; held keys do not repeat.
bool pressed(Key key);
bool pressed(int key);
bool pressed_enter();
/// The same with Ctrl held.
bool pressed_with_ctrl(int key);
/// What was typed in this frame as text, ASCII only; 0: nothing. Ctrl with a letter is no text.
char typed_character();
/// No text field has the keyboard, so that single letters may be commands.
bool keys_are_free();

}  // namespace sipladder::gui
