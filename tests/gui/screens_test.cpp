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
#include <cmath>
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

constexpr const char* long_name = "Anaïs Ødegård-Παπαδοπούλου Крылова";

using Named = std::pair<std::string, FrameView>;

void add_places(std::vector<Named>& all, AtWindow& at, const std::string& who) {
    for (const Place place : {Place::prepare, Place::taste, Place::palate, Place::weeks, Place::records}) {
        at.want(GoTo{place});
        at.settle();
        all.emplace_back(who + ", place " + std::to_string(static_cast<int>(place)), frame_view(at.app));
    }
    for (const Dialog dialog : {Dialog::people, Dialog::cautions, Dialog::settings, Dialog::handbook}) {
        at.want(OpenDialog{dialog});
        all.emplace_back(who + ", dialog " + std::to_string(static_cast<int>(dialog)), frame_view(at.app));
    }
    at.want(OpenDialog{Dialog::none});
}

/// The Records place: filters, an opened sitting with all that can be struck out, exchange, erasing.
void add_records(std::vector<Named>& all, AtWindow& at) {
    const auto add = [&](const std::string& what) {
        all.emplace_back("records, " + what, frame_view(at.app));
    };
    at.want(GoTo{Place::records});
    at.want(FilterRecords{{}, {}, "no such words"});
    add("nothing found");
    at.want(FilterRecords{.from = "the day before yesterday, or so", .to = "2026-02-30"});
    add("dates that are none");
    at.want(FilterRecords{});
    at.want(OpenRecord{at.app.records->sittings.front().id});
    at.want(TypeNote{"a cold, and a pack of another lot"});
    at.want(AddNote{});
    const RecordOpened opened = *at.app.record_opened;
    REQUIRE(!opened.drills.front().answers.empty());
    const std::vector<Uuid> rows{opened.drills.front().answers.front().row, opened.drills.front().drill,
                                 opened.sitting};
    for (const Uuid& row : rows) {
        at.want(AskToStrike{row, false});
        at.want(TypeReason{"the cups were set down in the wrong order, as was seen too late"});
        add("asked to strike out");
        at.want(StrikeOut{});
        add("struck out");
    }
    at.want(OpenRecord{});
    add("list with a sitting struck out");
    for (const RecordsPart part : {RecordsPart::exchange, RecordsPart::erase}) {
        at.want(ShowRecords{part});
        add("part " + std::to_string(static_cast<int>(part)));
    }
}

/// Settings: its parts, each form blank and with everything wrong, and the lists with what was kept.
void add_settings(std::vector<Named>& all) {
    AtWindow at;
    at.arrive();
    const auto add = [&](const std::string& what) {
        all.emplace_back("settings, " + what, frame_view(at.app));
    };
    at.want(SetVolumeUnit{VolumeUnit::us_fl_oz});
    at.settle();
    all.emplace_back("prepare in US fluid ounces", frame_view(at.app));
    at.want(ShowSettings{SettingsPart::window});
    at.want(TypeUsualCup{"a mouthful"});
    add("a cup that is none");
    using content::OwnKind;
    for (const auto& [part, kind] : {std::pair{SettingsPart::equipment, OwnKind::equipment},
                                     std::pair{SettingsPart::ladders, OwnKind::ladder},
                                     std::pair{SettingsPart::substances, OwnKind::substance}}) {
        const std::string name = "part " + std::to_string(static_cast<int>(part));
        at.want(ShowSettings{part});
        add(name + ", none yet");
        at.want(BeginOwn{kind});
        at.want(AddOwnTool{OwnList::vessels});
        add(name + ", blank form");
        for (const OwnGroup& group : groups_of(*at.app.own_form, *at.app.content))
            for (const OwnField& field : group.fields)
                if (field.choices.empty()) at.want(TypeOwn{field.place, "-999999999 and more"});
        at.want(KeepOwn{});
        add(name + ", all wrong");
        at.want(LeaveOwn{});
    }
    at.want(ShowSettings{SettingsPart::ladders});
    at.want(BeginOwn{OwnKind::ladder});
    for (const auto& [field, text] : {std::pair{"name", "a fine one around mine"}, std::pair{"lowest", "1"},
                                      std::pair{"substance", "sucrose"}})
        at.want(TypeOwn{{OwnList::head, 0, field}, text});
    at.want(KeepOwn{});
    REQUIRE(at.app.own.size() == 1);
    add("a ladder kept");
    at.want(AskToStrike{at.app.own.front().fact, false});
    add("asked to strike out a ladder");
    at.want(TypeReason{"a better one came"});
    at.want(StrikeOut{});
    at.want(GoTo{Place::records});
    at.want(ShowRecords{RecordsPart::own_things});
    add("in Records, struck out");
}

/// Every phase of a drill, and the finding.
void add_drill(std::vector<Named>& all, const AtWindow& prepared, drills::Kind kind,
               drills::Blinding blinding) {
    AtWindow at = prepared.apart(Seed{5});
    at.choose(kind, drills::Order::adaptive, blinding);
    const auto add = [&](const std::string& what) {
        all.emplace_back(drills::name_of(kind) + ", " + what, frame_view(at.app));
    };
    add("start");
    at.want(StartDrill{});
    const std::string notice = at.app.notice ? at.app.notice->lines.front() : std::string{};
    CAPTURE(notice);
    REQUIRE(at.app.running);
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
    add("after stop");
    at.go_to_answer();  // a sealed key is read in first
    add("finding");
}

std::vector<Named> every_screen() {
    std::vector<Named> all;
    AtWindow empty;
    all.emplace_back("first start", frame_view(empty.app));
    empty.arrive(long_name);
    add_places(all, empty, "empty");
    empty.want(KeepMix{});
    empty.want(GoTo{Place::prepare});
    empty.want(AddPerson{});  // refused: a notice
    all.emplace_back("notice", frame_view(empty.app));
    AtWindow demo;
    demo.want(LookAtDemo{});
    add_places(all, demo, "demo");
    demo.want(GoTo{Place::palate});
    for (const drills::PalateQuestion question : drills::every_palate_question) {
        demo.want(ChooseQuestion{question});
        all.emplace_back("demo, " + drills::text_of(question), frame_view(demo.app));
        demo.want(OpenRow{0});
        all.emplace_back("demo, opened row of " + drills::text_of(question), frame_view(demo.app));
    }
    demo.want(ToggleHelp{});
    all.emplace_back("demo, opened row with help", frame_view(demo.app));
    empty.want(GoTo{Place::palate});
    empty.want(ChooseQuestion{drills::PalateQuestion::where});
    all.emplace_back("empty, a tab of the palate", frame_view(empty.app));
    demo.want(GoTo{Place::classroom});
    for (const ClassStep step :
         {ClassStep::roster, ClassStep::plan, ClassStep::sheets, ClassStep::entry, ClassStep::results}) {
        demo.want(GoToStep{step});
        demo.settle();
        all.emplace_back("class of the demo, step " + std::to_string(static_cast<int>(step)),
                         frame_view(demo.app));
    }
    demo.want(GoToStep{ClassStep::roster});
    demo.want(AskToErase{0});
    all.emplace_back("class, asked whether to erase", frame_view(demo.app));
    demo.want(LeaveClass{});
    all.emplace_back("classes of the demo", frame_view(demo.app));
    add_records(all, demo);
    add_settings(all);
    AtWindow sitting;
    sitting.arrive();
    Setup several = sitting.app.bench.setup;
    several.drill = "recognition";
    sitting.want(ChangeSetup{several});
    all.emplace_back("recognition, being planned", frame_view(sitting.app));
    several = sitting.app.bench.setup;
    several.programme = "acid_and_sugar";
    sitting.want(ChangeSetup{several});
    sitting.settle();
    all.emplace_back("programme, planned", frame_view(sitting.app));
    sitting.want(KeepMix{});
    all.emplace_back("programme, first drill", frame_view(sitting.app));
    sitting.start_drill();
    sitting.want(StopDrill{});
    all.emplace_back("programme, after the first drill", frame_view(sitting.app));
    using drills::Blinding;
    using drills::Kind;
    using drills::Order;
    AtWindow prepared;
    prepared.arrive();
    prepared.prepare("tartaric_acid");
    prepared.prepare("sucrose");
    add_drill(all, prepared, Kind::detection, Blinding::shuffled_tray);
    add_drill(all, prepared, Kind::detection, Blinding::served);
    add_drill(all, prepared, Kind::quick_look, Blinding::sealed_key);
    add_drill(all, prepared, Kind::recognition, Blinding::served);
    add_drill(all, prepared, Kind::difference, Blinding::shuffled_tray);
    add_drill(all, prepared, Kind::nose, Blinding::shuffled_tray);
    add_drill(all, prepared, Kind::tray_check, Blinding::shuffled_tray);
    return all;
}

void draw_three_frames(const FrameView& view, const Theme& theme) {
    Edit edit;
    ImGui::ClearActiveID();  // nobody is still typing into the same field of the screen before
    for (int frame = 0; frame < 3; ++frame) {
        ImGui::NewFrame();
        const auto intent = draw_frame(view, theme, edit);
        ImGui::Render();
        CHECK(!intent);  // drawing alone wants nothing
    }
}

/// What one frame paints: every vertex of it.
std::string painted(const FrameView& view, const Theme& theme) {
    draw_three_frames(view, theme);
    std::string all;
    const ImDrawData& data = *ImGui::GetDrawData();
    for (int i = 0; i < data.CmdListsCount; ++i) {
        const ImDrawList& list = *data.CmdLists[i];
        all.append(static_cast<const char*>(static_cast<const void*>(list.VtxBuffer.Data)),
                   static_cast<std::size_t>(list.VtxBuffer.size_in_bytes()));
    }
    return all;
}

/// The same drill with bottles of half the strength, for a person who is twice as fine.
AtWindow with_weaker_bottles(AtWindow at) {
    drills::Plan weaker = at.app.running->state.plan;
    for (solution::MixedLevel& level : weaker.ladder.levels) level.mixed /= 2.0;
    weaker.prior.mean_log10 -= std::log10(2.0);
    at.app.running->state = drills::begin(weaker, at.app.running->state.seed);
    return at;
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
        wanted.add(long_name);
        theme.fonts = build_fonts(files, scale, wanted, Alphabets::latin);
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

TEST_CASE("what stands there until the journal is read is drawn at every scale") {
    for (const float scale : {0.75F, 3.0F}) {
        const Context context;
        Theme theme;
        theme.scale = scale;
        theme.fonts = build_fonts(find_font_files(), scale, {}, Alphabets::latin);
        theme.colour = palette_of(Look::light);
        apply_style(theme);
        ImGui::NewFrame();
        draw_opening(theme);
        ImGui::Render();
        CHECK(ImGui::GetDrawData()->TotalVtxCount > 4 * 30);  // four a letter
        ImGui::NewFrame();                                    // sizes are known once drawn
        draw_opening(theme);
        ImGui::Render();
        const ImGuiWindow* window = ImGui::FindWindowByName("opening");
        REQUIRE(window != nullptr);
        CHECK(window->ContentSize.x < ImGui::GetIO().DisplaySize.x);
    }
}

TEST_CASE("what has just happened stands above the place, whole, however far down that is scrolled") {
    Context context;
    Theme theme;
    WantedCharacters wanted;
    theme.fonts = build_fonts(find_font_files(), 1.0F, wanted, Alphabets::latin);
    theme.colour = palette_of(Look::light);
    apply_style(theme);
    AtWindow at;
    at.arrive();
    at.want(GoTo{Place::prepare});
    at.settle();
    at.want(PrintShown{});
    const FrameView view = frame_view(at.app);
    REQUIRE(view.notice);
    draw_three_frames(view, theme);
    const auto window = [](const std::string& name) {
        for (const ImGuiWindow* one : GImGui->Windows)
            if (one->WasActive && std::string(one->Name).find("/" + name) != std::string::npos) return one;
        return static_cast<const ImGuiWindow*>(nullptr);
    };
    const ImGuiWindow* notice = window("notice");
    const ImGuiWindow* place = window("place");
    REQUIRE(notice != nullptr);
    REQUIRE(place != nullptr);
    CHECK(place->Pos.y >= notice->Pos.y + notice->Size.y - 1.0F);
    CHECK(place->ScrollMax.y > 0.0F);
    CHECK(notice->ContentSize.y + notice->WindowPadding.y <= notice->Size.y + 1.0F);
}

TEST_CASE("Start has its first thing in focus, so that the arrows and Enter go on from there") {
    Context context;
    ImGui::GetIO().ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    Theme theme;
    WantedCharacters wanted;
    theme.fonts = build_fonts(find_font_files(), 1.0F, wanted, Alphabets::latin);
    theme.colour = palette_of(Look::light);
    apply_style(theme);
    const AtWindow empty;
    draw_three_frames(frame_view(empty.app), theme);
    REQUIRE(GImGui->NavWindow != nullptr);
    CHECK(std::string(GImGui->NavWindow->Name).find("place") != std::string::npos);
    CHECK(GImGui->NavId != 0);
    CHECK(!GImGui->NavDisableHighlight);  // else Enter is not heard
}

TEST_CASE("before a lock two runs that differ only in strength paint the same to the pixel") {
    using drills::Blinding;
    using drills::Kind;
    Context context;
    Theme theme;
    WantedCharacters wanted;
    theme.fonts = build_fonts(find_font_files(), 1.0F, wanted, Alphabets::latin);
    theme.colour = palette_of(Look::light);
    apply_style(theme);
    AtWindow prepared;
    prepared.arrive();
    prepared.prepare();
    for (const auto& [kind, blinding] :
         {std::pair{Kind::detection, Blinding::served}, std::pair{Kind::detection, Blinding::shuffled_tray},
          std::pair{Kind::quick_look, Blinding::served}, std::pair{Kind::nose, Blinding::served}}) {
        CAPTURE(drills::name_of(kind));
        AtWindow one = prepared.apart(Seed{5});
        one.choose(kind, drills::Order::adaptive, blinding);
        one.want(StartDrill{});
        const std::string notice = one.app.notice ? one.app.notice->lines.front() : std::string{};
        CAPTURE(notice);
        REQUIRE(one.app.running);
        AtWindow other = prepared.apart(Seed{5});
        other.choose(kind, drills::Order::adaptive, blinding);
        other.want(StartDrill{});
        other = with_weaker_bottles(other);
        for (AtWindow* at : {&one, &other}) {
            at->want(Acquainted{});
            at->want(Poured{});
        }
        const std::string first = painted(frame_view(one.app), theme);
        CHECK(first == painted(frame_view(other.app), theme));
        one.want(PickCup{1});
        other.want(PickCup{1});
        CHECK(painted(frame_view(one.app), theme) == painted(frame_view(other.app), theme));
        CHECK(painted(frame_view(one.app), theme) != first);  // what is picked does show
    }
}

TEST_CASE("a name in another alphabet asks for its characters once, and has them in the first frame too") {
    WantedCharacters wanted;
    CHECK(!wanted.add("Zoë Νίκος Юлия"));
    CHECK(wanted.all().size() == 9);  // of Greek and Cyrillic
    CHECK(wanted.add("美咲"));
    CHECK(!wanted.add("美"));
    CHECK(wanted.all().size() == 11);
    const Context context;
    const Fonts fonts = build_fonts(find_font_files(), 1.0F, wanted, Alphabets::latin);
    CHECK(fonts.body->FindGlyphNoFallback(0x041B) == nullptr);  // no Л was wanted
    for (const ImWchar code : {u'Z', u'ë', u'Ν', u'Ю'})
        CHECK(fonts.body->FindGlyphNoFallback(code) != nullptr);
    CHECK(build_fonts(find_font_files(), 1.0F, wanted).body->FindGlyphNoFallback(0x041B) != nullptr);
    CHECK(!wanted.add("\xff\xc3"));  // broken text is no reason to stop
}
