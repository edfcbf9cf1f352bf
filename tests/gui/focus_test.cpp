// Where the focus goes by itself: on a new screen, and in a form that grows.

#include "gui/views/frame.hpp"
#include "tests/gui/headless.hpp"
#include "tests/gui/own_forms.hpp"

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

ImGuiID first_focus(const FrameView& view) {
    Headless window;
    window.draw(view);
    return Headless::focus();
}

}  // namespace

TEST_CASE("a screen of the demo, or one with a notice, begins with its own first control") {
    AtWindow at;
    at.want(LookAtDemo{});
    std::vector<std::pair<std::string, FrameView>> views;
    const auto add = [&](const std::string& name) { views.emplace_back(name, frame_view(at.app)); };
    for (const Place place : {Place::prepare, Place::taste, Place::weeks}) {
        at.want(GoTo{place});
        at.settle();
        add("place " + std::to_string(static_cast<int>(place)));
    }
    at.want(GoTo{Place::palate});
    for (const drills::PalateQuestion question : drills::every_palate_question) {
        at.want(ChooseQuestion{question});
        add(drills::text_of(question));
        at.want(OpenRow{0});
        add("a row of " + drills::text_of(question));
    }
    at.want(GoTo{Place::records});
    for (const RecordsPart part :
         {RecordsPart::sittings, RecordsPart::exchange, RecordsPart::erase, RecordsPart::own_things}) {
        at.want(ShowRecords{part});
        add("part " + std::to_string(static_cast<int>(part)) + " of Records");
    }
    at.want(GoTo{Place::classroom});
    for (const ClassStep step : {ClassStep::roster, ClassStep::plan, ClassStep::sheets, ClassStep::results}) {
        at.want(GoToStep{step});
        at.settle();
        add("step " + std::to_string(static_cast<int>(step)) + " of a class");
    }
    at.want(ShowSettings{SettingsPart::window});
    add("settings");
    for (auto& [name, view] : views) {
        CAPTURE(name);
        const ImGuiID in_demo = first_focus(view);
        CHECK(in_demo != 0);
        view.notice = Notice{.lines = {"The bench sheet is in a folder."}};
        CHECK(first_focus(view) == in_demo);
        view.notice.reset();
        view.is_demo = false;
        CHECK(first_focus(view) == in_demo);
    }
}

TEST_CASE("tabs are passed over where they offer anything") {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::palate});
    Headless window;
    window.draw(frame_view(at.app));
    // Enter on what has the focus opens the first row.
    ImGui::GetCurrentContext()->NavDisableHighlight = false;
    const auto wanted = window.press(ImGui::GetIO().KeyMap[ImGuiKey_Space], frame_view(at.app));
    REQUIRE(wanted);
    REQUIRE(wanted->as<OpenRow>() != nullptr);
    CHECK(wanted->as<OpenRow>()->row == 0);
}

TEST_CASE("a form begins with the cursor in its first field, and offers one more of what it has") {
    AtWindow at;
    at.arrive();
    at.want(ShowSettings{SettingsPart::equipment});
    Headless window;
    window.draw(frame_view(at.app));
    CHECK_FALSE(ImGui::GetIO().WantTextInput);
    const auto offered = [&] {
        std::vector<std::string> labels;
        for (const OwnAdds& one : own_form_view(at.app).adds) labels.push_back(one.label);
        return labels;
    };
    using Labels = std::vector<std::string>;
    for (int time = 0; time < 2; ++time) {  // thrown away and begun again too
        at.want(BeginOwn{OwnKind::equipment});
        window.draw(frame_view(at.app), 4);
        CHECK(ImGui::GetIO().WantTextInput);
        ImGui::GetIO().AddInputCharactersUTF8("m");
        const auto wanted = window.draw(frame_view(at.app), 2);
        REQUIRE(wanted);
        REQUIRE(wanted->as<TypeOwn>() != nullptr);
        CHECK(wanted->as<TypeOwn>()->place == OwnPlace{OwnList::head, 0, "name"});
        CHECK(offered() ==
              Labels{"Add a syringe or vessel"});  // its first scale stands there, to be filled in
        at.want(LeaveOwn{});
        window.draw(frame_view(at.app));
    }
    at.want(BeginOwn{OwnKind::equipment});
    type(at, OwnList::balances, 0, {{"resolution", "0.1"}});
    CHECK(offered() == Labels{"One more scale", "Add a syringe or vessel"});
    at.want(AddOwnTool{OwnList::vessels});
    CHECK(offered() == Labels{"One more scale"});
    type(at, OwnList::vessels, 0, {{"nominal", "5"}});
    CHECK(offered() == Labels{"One more scale", "One more syringe or vessel"});
    at.want(RemoveOwnTool{OwnList::balances, 0});
    CHECK(offered() == Labels{"Add a scale", "One more syringe or vessel"});
}

TEST_CASE("a new part of a form below the window's edge scrolls into view and has the focus") {
    AtWindow at;
    at.arrive();
    at.want(ShowSettings{SettingsPart::equipment});
    at.want(BeginOwn{OwnKind::equipment});
    Headless window;
    window.draw(frame_view(at.app));
    for (int more = 0; more < 3; ++more) {
        const ImGuiID before = Headless::focus();
        at.want(AddOwnTool{OwnList::vessels});
        window.draw(frame_view(at.app), 4);
        CHECK(Headless::focus() != before);
        const ImRect item = Headless::focused();
        const ImRect seen = ImGui::GetCurrentContext()->NavWindow->InnerClipRect;
        CHECK(item.Min.y >= seen.Min.y);
        constexpr float part_height = 100.0F;  // its next fields are to be seen too
        CHECK(item.Max.y + part_height <= seen.Max.y);
    }
    const ImGuiID in_last = Headless::focus();
    at.want(AddOwnTool{OwnList::balances});
    window.draw(frame_view(at.app), 4);
    CHECK(Headless::focus() != in_last);
    CHECK(Headless::focused().Min.y >= ImGui::GetCurrentContext()->NavWindow->InnerClipRect.Min.y);
    // Typing does not take the focus anew.
    const ImGuiID in_scale = Headless::focus();
    type(at, OwnList::balances, 1, {{"resolution", "0.1"}});
    window.draw(frame_view(at.app));
    CHECK(Headless::focus() == in_scale);
    at.want(KeepOwn{});  // refused: the name is still missing, far above
    window.draw(frame_view(at.app), 4);
    const ImRect name = Headless::focused();
    CHECK(Headless::focus() != in_scale);
    CHECK(name.Min.y >= ImGui::GetCurrentContext()->NavWindow->InnerClipRect.Min.y);
    CHECK(name.Max.y <= ImGui::GetCurrentContext()->NavWindow->InnerClipRect.Max.y);
}
