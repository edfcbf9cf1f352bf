#include "gui/platform/window.hpp"

// glad comes before GLFW, which would otherwise bring its own OpenGL header.
#include <glad/gl.h>
//
#include "engine/problem.hpp"
#include "gui/widgets/keys.hpp"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>

#include <algorithm>
#include <utility>
#include <vector>

namespace sipladder::gui {

// Dear ImGui 1.86 numbers keys as its backend does; the screens name them without seeing GLFW.
static_assert(static_cast<int>(Key::f1) == GLFW_KEY_F1 && static_cast<int>(Key::f2) == GLFW_KEY_F2 &&
              static_cast<int>(Key::f3) == GLFW_KEY_F3 && static_cast<int>(Key::f4) == GLFW_KEY_F4 &&
              static_cast<int>(Key::f5) == GLFW_KEY_F5 &&
              static_cast<int>(Key::page_up) == GLFW_KEY_PAGE_UP &&
              static_cast<int>(Key::page_down) == GLFW_KEY_PAGE_DOWN &&
              static_cast<int>(Key::space) == GLFW_KEY_SPACE &&
              static_cast<int>(Key::enter) == GLFW_KEY_ENTER &&
              static_cast<int>(Key::escape) == GLFW_KEY_ESCAPE &&
              static_cast<int>(Key::backspace) == GLFW_KEY_BACKSPACE &&
              static_cast<int>(Key::left) == GLFW_KEY_LEFT &&
              static_cast<int>(Key::right) == GLFW_KEY_RIGHT && static_cast<int>(Key::up) == GLFW_KEY_UP &&
              static_cast<int>(Key::down) == GLFW_KEY_DOWN &&
              static_cast<int>(Key::keypad_enter) == GLFW_KEY_KP_ENTER && letter('A') == GLFW_KEY_A &&
              letter('Z') == GLFW_KEY_Z && digit(0) == GLFW_KEY_0 && digit(9) == GLFW_KEY_9);

namespace {

std::string last_error() {
    const char* text = nullptr;
    glfwGetError(&text);
    return text == nullptr ? "no reason given" : text;
}

Window* window_of(GLFWwindow* window) {
    return static_cast<Window*>(glfwGetWindowUserPointer(window));
}

}  // namespace

Window::Window(const std::string& title) : title_(title) {
    if (glfwInit() != GLFW_TRUE) throw Failed("no window can be opened here: " + last_error());
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    glfwWindowHint(GLFW_SAMPLES, 4);
    glfwWindowHintString(GLFW_X11_CLASS_NAME, "sipladder");
    glfwWindowHintString(GLFW_X11_INSTANCE_NAME, "sipladder");
    window_ = glfwCreateWindow(1280, 800, title.c_str(), nullptr, nullptr);
    if (window_ == nullptr) {
        const std::string why = last_error();
        glfwTerminate();
        throw Failed("no window with OpenGL 3.3 can be opened here: " + why);
    }
    glfwMakeContextCurrent(window_);
    glfwSwapInterval(1);
    if (gladLoadGL(glfwGetProcAddress) == 0) {
        glfwDestroyWindow(window_);
        glfwTerminate();
        throw Failed("OpenGL 3.3 cannot be loaded");
    }
    glfwSetWindowSizeLimits(window_, 800, 560, GLFW_DONT_CARE, GLFW_DONT_CARE);
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    ImGui::GetIO().ConfigInputTextCursorBlink = false;  // a blinking cursor would wake the loop for nothing
    install_callbacks();
    ImGui_ImplGlfw_InitForOpenGL(window_, false);
    ImGui_ImplOpenGL3_Init("#version 330 core");
}

Window::~Window() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
    glfwDestroyWindow(window_);
    glfwTerminate();
}

bool Window::wants_to_close() const {
    return glfwWindowShouldClose(window_) == GLFW_TRUE;
}

void Window::wait(double seconds) const {
    if (seconds <= 0.0)
        glfwPollEvents();
    else
        glfwWaitEventsTimeout(seconds);
}

void Window::wake() {
    glfwPostEmptyEvent();
}

float Window::display_scale() const {
    float x = 1.0F;
    float y = 1.0F;
    glfwGetWindowContentScale(window_, &x, &y);
    return std::clamp(std::max(x, y), 0.75F, 3.0F);
}

void Window::set_title(const std::string& title) {
    if (title == title_) return;
    title_ = title;
    glfwSetWindowTitle(window_, title_.c_str());
}

// Dear ImGui 1.86 sees keys as a state once a frame: a press and a release between two frames would cancel
// out, and two presses in one frame would be one intent. So keys wait in a queue of our own.
void Window::install_callbacks() {
    glfwSetWindowUserPointer(window_, this);
    glfwSetKeyCallback(window_, [](GLFWwindow* window, int key, int scancode, int action, int mods) {
        window_of(window)->keys_.push_back(
            {.key = key, .scancode = scancode, .action = action, .mods = mods});
        window_of(window)->touched_ = true;
    });
    glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned character) {
        window_of(window)->keys_.push_back({.key = -1, .character = character});
        window_of(window)->touched_ = true;
    });
    glfwSetMouseButtonCallback(window_, [](GLFWwindow* window, int button, int action, int mods) {
        ImGui_ImplGlfw_MouseButtonCallback(window, button, action, mods);
        window_of(window)->touched_ = true;
    });
    glfwSetScrollCallback(window_, [](GLFWwindow* window, double x, double y) {
        ImGui_ImplGlfw_ScrollCallback(window, x, y);
        window_of(window)->touched_ = true;
    });
    glfwSetCursorPosCallback(window_,
                             [](GLFWwindow* window, double, double) { window_of(window)->touched_ = true; });
    glfwSetCursorEnterCallback(window_, [](GLFWwindow* window, int entered) {
        ImGui_ImplGlfw_CursorEnterCallback(window, entered);
        window_of(window)->touched_ = true;
    });
    glfwSetWindowFocusCallback(window_, [](GLFWwindow* window, int focused) {
        ImGui_ImplGlfw_WindowFocusCallback(window, focused);
        window_of(window)->touched_ = true;
    });
    glfwSetWindowRefreshCallback(window_, [](GLFWwindow* window) { window_of(window)->touched_ = true; });
    glfwSetFramebufferSizeCallback(window_,
                                   [](GLFWwindow* window, int, int) { window_of(window)->touched_ = true; });
    glfwSetMonitorCallback(ImGui_ImplGlfw_MonitorCallback);
}

void Window::hand_on_keys() {
    bool has_press = false;
    std::vector<int> released;
    while (!keys_.empty()) {
        const KeyEvent event = keys_.front();
        const bool is_modifier = event.key >= GLFW_KEY_LEFT_SHIFT && event.key <= GLFW_KEY_RIGHT_SUPER;
        if (event.key != -1 && !is_modifier && has_press)
            break;  // its own characters still belong to this frame
        if (is_modifier && has_press) break;
        // Let go and pressed again within one frame would look like held.
        const bool is_again = event.action == GLFW_PRESS &&
                              std::find(released.begin(), released.end(), event.key) != released.end();
        if (event.key != -1 && is_again) break;
        if (event.key != -1 && event.action == GLFW_RELEASE) released.push_back(event.key);
        keys_.pop_front();
        if (event.key == -1) {
            ImGui_ImplGlfw_CharCallback(window_, event.character);
        } else {
            ImGui_ImplGlfw_KeyCallback(window_, event.key, event.scancode, event.action, event.mods);
            has_press = has_press || (event.action == GLFW_PRESS && !is_modifier);
        }
    }
}

bool Window::was_touched() {
    return std::exchange(touched_, false) || !keys_.empty();
}

void Window::begin_frame() {
    hand_on_keys();
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    // Dear ImGui 1.86 uses the focused item by Space alone; people expect Enter as well.
    ImGuiIO& io = ImGui::GetIO();
    if ((io.KeysDown[GLFW_KEY_ENTER] || io.KeysDown[GLFW_KEY_KP_ENTER]) && !io.KeyCtrl && !io.WantTextInput)
        io.NavInputs[ImGuiNavInput_Activate] = 1.0F;
    ImGui::NewFrame();
}

void Window::end_frame(const Theme& theme) const {
    ImGui::Render();
    int width = 0;
    int height = 0;
    glfwGetFramebufferSize(window_, &width, &height);
    glViewport(0, 0, width, height);
    glClearColor(theme.colour.paper.x, theme.colour.paper.y, theme.colour.paper.z, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window_);
}

void Window::upload_fonts() const {
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
}

}  // namespace sipladder::gui
