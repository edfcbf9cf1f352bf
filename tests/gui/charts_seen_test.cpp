// Charts looked at from nearer: with the wheel, by pulling, by keys; in the window and on paper.

#include "engine/chart/seen.hpp"
#include "gui/views/frame.hpp"
#include "gui/views/weeks.hpp"
#include "tests/gui/headless.hpp"
#include "tests/gui/people.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::gui;
using namespace sipladder::tests;

namespace {

AtWindow in_weeks() {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::weeks});
    return at;
}

AtWindow in_a_row() {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::palate});
    at.want(OpenRow{0});
    return at;
}

std::vector<PalatePictureView> pictures_in(const AtWindow& at) {
    return frame_view(at.app).palate->open->pictures;
}

/// The first picture of the row that can be looked at from nearer.
std::size_t picture_in(const AtWindow& at) {
    const std::vector<PalatePictureView> pictures = pictures_in(at);
    const auto found = std::ranges::find_if(pictures, [](const auto& one) { return one.whole.has_value(); });
    REQUIRE(found != pictures.end());
    return static_cast<std::size_t>(found - pictures.begin());
}

chart::Seen seen_of(const chart::Chart& chart) {
    return {chart.x.from, chart.x.to};
}

std::string whole(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// What is in the only file so begun and ended; empty: there is none.
std::string kept_in(const TemporaryFolder& folder, const std::string& begun, const std::string& ending) {
    for (const auto& one : std::filesystem::directory_iterator(folder.path()))
        if (one.path().extension() == ending && one.path().filename().string().starts_with(begun))
            return whole(one.path());
    return {};
}

std::string svg_in(const TemporaryFolder& folder, std::size_t picture) {
    return kept_in(folder, "palate_chart_" + std::to_string(picture + 1) + "_", ".svg");
}

void empty(const TemporaryFolder& folder) {
    for (const auto& one : std::filesystem::directory_iterator(folder.path()))
        std::filesystem::remove(one.path());
}

}  // namespace

TEST_CASE("all charts of Weeks are seen nearer together, and all again with other sittings") {
    AtWindow at = in_weeks();
    const auto all = shown_weeks(at.app);
    REQUIRE(all->rows.size() > 1);
    const chart::Axis& axis = all->rows.front().whole;
    const chart::Seen part = chart::nearer(axis, chart::all_of(axis), axis.to, 4.0);
    at.want(SeeWeeks{part});
    const auto nearer = shown_weeks(at.app);
    for (const WeeksRowView& row : nearer->rows) {
        CHECK(row.chart.is_part);
        CHECK(seen_of(row.chart) == chart::within(row.whole, part));
        CHECK(row.chart.marks.size() < all->rows.front().chart.marks.size());
        CHECK_FALSE(row.chart.x.ticks.empty());
    }
    CHECK(shown_weeks(at.app) == nearer);  // not made anew for every frame
    at.want(ComparePeriods{0});
    CHECK(shown_weeks(at.app)->rows.front().periods);
    CHECK(shown_weeks(at.app)->rows.front().chart.is_part);
    at.want(SeeWeeks{});
    CHECK_FALSE(shown_weeks(at.app)->rows.front().chart.is_part);
    at.want(SeeWeeks{part});
    at.want(LeaveDemo{});
    at.arrive();
    at.want(GoTo{Place::weeks});
    CHECK_FALSE(weeks_seen(at.app));
    // Nonsense is all.
    at = in_weeks();
    at.want(SeeWeeks{chart::Seen{5.0, -5.0}});
    CHECK_FALSE(shown_weeks(at.app)->rows.front().chart.is_part);
}

TEST_CASE("a picture of an opened row is seen nearer by itself, and is kept as it is seen") {
    const TemporaryFolder folder;
    AtWindow at = in_a_row();
    at.app.sheets = folder.path();
    const std::size_t which = picture_in(at);
    const chart::Axis axis = *pictures_in(at)[which].whole;
    at.want(PrintShown{});
    const std::string as_whole = svg_in(folder, which);
    REQUIRE(as_whole.size() > 100);
    const chart::Seen part =
        chart::nearer(axis, chart::all_of(axis), chart::value_in(axis, chart::all_of(axis), 0.5), 3.0);
    at.want(SeePicture{which, part});
    const std::vector<PalatePictureView> pictures = pictures_in(at);
    CHECK(seen_of(pictures[which].picture.chart) == chart::within(axis, part));
    for (std::size_t i = 0; i < pictures.size(); ++i)
        CHECK(pictures[i].picture.chart.is_part == (i == which));
    empty(folder);
    at.want(PrintShown{});
    const bool is_as_seen = svg_in(folder, which) != as_whole;
    CHECK(is_as_seen);
    at.want(SeePicture{which, {}});
    CHECK_FALSE(pictures_in(at)[which].picture.chart.is_part);
    at.want(SeePicture{which, part});
    at.want(CloseRow{});
    at.want(OpenRow{1});
    for (const auto& one : pictures_in(at)) CHECK_FALSE(one.picture.chart.is_part);
}

TEST_CASE("the charts of Weeks are kept as files, each substance's as it is seen") {
    const TemporaryFolder folder;
    AtWindow at;
    at.arrive();
    at.app.sheets = folder.path();
    at.want(GoTo{Place::weeks});
    at.want(PrintShown{});
    REQUIRE(at.app.notice);
    CHECK(at.app.notice->lines.front().find("no chart yet") != std::string::npos);
    CHECK(std::filesystem::is_empty(folder.path()));

    at.want(LookAtDemo{});
    at.app.sheets = folder.path();
    at.want(GoTo{Place::weeks});
    at.want(PrintShown{});
    const auto shown = shown_weeks(at.app);
    REQUIRE(shown->rows.size() > 1);
    CHECK(at.app.notice->lines.size() == 1 + shown->rows.size());
    const std::string begun = "weeks_" + at.app.weeks->entries.front().followed.substance.id + "_";
    CHECK(kept_in(folder, begun, ".pdf").starts_with("%PDF"));
    CHECK(kept_in(folder, begun, ".png").starts_with("\x89PNG"));
    const std::string all = kept_in(folder, begun, ".svg");
    CHECK(all.find("<svg") != std::string::npos);
    empty(folder);

    const chart::Axis& axis = shown->rows.front().whole;
    at.want(SeeWeeks{chart::nearer(axis, chart::all_of(axis), axis.to, 4.0)});
    at.want(PrintShown{});
    const std::string part = kept_in(folder, begun, ".svg");
    CHECK(part.size() > 100);
    const bool is_as_seen = part != all;
    CHECK(is_as_seen);
}

TEST_CASE("keys: nearer, along, farther and all again; the point that is told keeps being told") {
    AtWindow at = in_weeks();
    Headless window;
    const auto view = [&] { return frame_view(at.app); };
    window.draw(view());  // the first chart has the focus
    const auto typed = [&](char key) {
        ImGui::GetIO().AddInputCharacter(static_cast<unsigned int>(key));
        const auto wanted = window.draw(view(), 1);
        if (wanted) at.want(*wanted);
        window.draw(view(), 1);
        return wanted.has_value();
    };
    const auto seen = [&] { return seen_of(shown_weeks(at.app)->rows.front().chart); };
    const chart::Seen all = seen();
    CHECK_FALSE(typed('-'));  // no farther than all
    CHECK_FALSE(typed('q'));
    REQUIRE(typed('+'));
    const chart::Seen close = seen();
    CHECK(close.to - close.from < 0.7 * (all.to - all.from));
    REQUIRE(typed('w'));
    CHECK(seen().from > close.from);
    REQUIRE(typed('Q'));
    CHECK(std::abs(seen().from - close.from) < 1e-9);
    REQUIRE(typed('-'));
    CHECK(seen() == all);

    // Space tells points, as many as are seen; nearer about the one that is told.
    const auto told = [&] {
        std::string text;
        for (const ImGuiWindow* one : GImGui->Windows)
            if (one->WasActive && (one->Flags & ImGuiWindowFlags_Tooltip) != 0) text = one->Name;
        return text;
    };
    for (int i = 0; i < 3; ++i) window.press(ImGui::GetIO().KeyMap[ImGuiKey_Space], view());
    CHECK_FALSE(told().empty());
    for (int i = 0; i < 5; ++i) {
        typed('+');
        CHECK_FALSE(told().empty());
    }
    CHECK(seen().to - seen().from < 0.2 * (all.to - all.from));
    REQUIRE(typed('0'));
    CHECK(seen() == all);
    CHECK_FALSE(told().empty());
}

TEST_CASE("the wheel looks nearer about the pointer and pulling goes along; the page stays") {
    AtWindow at = in_weeks();
    Headless window;
    const auto view = [&] { return frame_view(at.app); };
    window.draw(view());
    const ImRect chart = Headless::focused();  // the first chart has the focus
    ImGuiIO& io = ImGui::GetIO();
    const auto seen = [&] { return seen_of(shown_weeks(at.app)->rows.front().chart); };
    const auto frame = [&] {
        if (const auto wanted = window.draw(view(), 1)) at.want(*wanted);
    };
    const chart::Seen all = seen();
    io.MousePos = {chart.Min.x + 0.8F * chart.GetWidth(), chart.GetCenter().y};
    for (int i = 0; i < 3; ++i) frame();
    const float scrolled = GImGui->NavWindow->Scroll.y;
    for (int i = 0; i < 4; ++i) {
        io.MouseWheel = 1.0F;
        frame();
    }
    frame();
    const chart::Seen close = seen();
    CHECK(close.to - close.from < 0.6 * (all.to - all.from));
    CHECK(close.from - all.from > all.to - close.to);  // to the right of the middle
    CHECK(GImGui->NavWindow->Scroll.y == scrolled);
    io.MouseDown[0] = true;
    frame();
    for (int i = 0; i < 10; ++i) {
        io.MousePos.x += 6.0F;
        frame();
    }
    io.MouseDown[0] = false;
    frame();
    const chart::Seen pulled = seen();
    CHECK(pulled.from < close.from);
    CHECK(std::abs((pulled.to - pulled.from) - (close.to - close.from)) < 1e-9);
    for (int i = 0; i < 6; ++i) {
        io.MouseWheel = -1.0F;
        frame();
    }
    CHECK(seen() == all);
    CHECK(GImGui->NavWindow->Scroll.y > scrolled);  // farther than all scrolls on
}
