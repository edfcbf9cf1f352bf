// Every screen through a real Dear ImGui context without any backend: three frames, since a new window is
// hidden on its first, at every scale and in both looks, in the smallest window that is promised. What would
// be cut off at the right shows as content wider than its part of the window.

#include "gui/screens/screens.hpp"

#include "gui/platform/font_files.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

struct Context {
    Context() {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        ImGui::GetIO().DisplaySize = {1024.0F, 700.0F};
        ImGui::GetIO().DeltaTime = 1.0F / 60.0F;
        for (int key = 0; key < ImGuiKey_COUNT; ++key) ImGui::GetIO().KeyMap[key] = 400 + key;
    }
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;
    ~Context() { ImGui::DestroyContext(); }
};

using Named = std::pair<std::string, FrameView>;

void add_places(std::vector<Named>& all, AtWindow& at, const std::string& who) {
    for (const Place place : {Place::prepare, Place::taste, Place::palate}) {
        at.want(GoTo{place});
        at.settle();
        all.emplace_back(who + ", place " + std::to_string(static_cast<int>(place)), frame_view(at.app));
    }
    for (const Dialog dialog : {Dialog::people, Dialog::cautions, Dialog::settings}) {
        at.want(OpenDialog{dialog});
        all.emplace_back(who + ", dialog " + std::to_string(static_cast<int>(dialog)), frame_view(at.app));
    }
    at.want(OpenDialog{Dialog::none});
}

/// Every phase of a drill, and the finding.
void add_drill(std::vector<Named>& all, drills::Blinding blinding) {
    AtWindow at;
    at.arrive();
    at.prepare();
    at.want(ChooseBlinding{blinding});
    const auto add = [&](const std::string& what) { all.emplace_back("drill, " + what, frame_view(at.app)); };
    at.want(StartDrill{});
    add("acquaint");
    at.want(Acquainted{});
    add("pour");
    at.want(Poured{});
    add("answer");
    at.answer(1);
    add("after lock");
    if (blinding == drills::Blinding::shuffled_tray) at.look_beneath(0);
    add("rest");
    at.want(AskToStop{true});
    add("asked to stop");
    at.want(StopDrill{});
    add("finding");
}

std::vector<Named> every_screen() {
    std::vector<Named> all;
    AtWindow empty;
    all.emplace_back("first start", frame_view(empty.app));
    empty.arrive("Anaïs Ødegård-Παπαδοπούλου Крылова");
    add_places(all, empty, "empty");
    empty.want(KeepMix{});
    empty.want(GoTo{Place::prepare});
    empty.want(AddPerson{});  // refused: a notice
    all.emplace_back("notice", frame_view(empty.app));
    AtWindow demo;
    demo.want(LookAtDemo{});
    add_places(all, demo, "demo");
    demo.want(GoTo{Place::palate});
    demo.want(OpenRow{0});
    demo.want(ToggleHelp{});
    all.emplace_back("demo, opened row with help", frame_view(demo.app));
    add_drill(all, drills::Blinding::shuffled_tray);
    add_drill(all, drills::Blinding::served);
    return all;
}

void draw_three_frames(const FrameView& view, const Theme& theme) {
    Edit edit;
    for (int frame = 0; frame < 3; ++frame) {
        ImGui::NewFrame();
        const auto intent = draw_frame(view, theme, edit);
        ImGui::Render();
        CHECK(!intent);  // drawing alone wants nothing
    }
}

/// How far the content of the place reaches over its right edge, pixels.
float cut_off() {
    float worst = 0.0F;
    for (const ImGuiWindow* window : GImGui->Windows)
        if (std::string(window->Name).find("place") != std::string::npos && window->WasActive)
            worst = std::max(worst, window->ContentSize.x + 2.0F * window->WindowPadding.x - window->Size.x);
    return worst;
}

}  // namespace

TEST_CASE("every screen draws at every scale and in both looks, and nothing is cut off at the right") {
    const std::vector<Named> screens = every_screen();
    const FontFiles files = find_font_files();
    for (const float scale : {0.75F, 1.0F, 2.0F, 3.0F}) {
        Context context;
        Theme theme;
        theme.scale = scale;
        WantedCharacters wanted;
        theme.fonts = build_fonts(files, scale, wanted);
        for (const Look look : {Look::light, Look::dark}) {
            theme.look = look;
            theme.colour = palette_of(look);
            apply_style(theme);
            for (const auto& [name, view] : screens) {
                CAPTURE(name);
                CAPTURE(scale);
                draw_three_frames(view, theme);
                CHECK(ImGui::GetDrawData()->TotalVtxCount > 200);
                CHECK(cut_off() <= 1.0F);
            }
        }
    }
}

TEST_CASE("a name in another alphabet asks for its characters once") {
    WantedCharacters wanted;
    CHECK(!wanted.add("Zoë Νίκος Юлия"));
    CHECK(wanted.add("美咲"));
    CHECK(!wanted.add("美"));
    CHECK(wanted.all().size() == 2);
    CHECK(!wanted.add("\xff\xc3"));  // broken text is no reason to stop
}
