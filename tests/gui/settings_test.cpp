// Settings: the file that keeps them, what a new form begins with, and volumes in either unit.

#include "gui/platform/settings.hpp"

#include "gui/app/usual.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

void write(const std::filesystem::path& file, const std::string& text) {
    std::ofstream(file) << text;
}

/// Somebody at a window whose settings file said so.
AtWindow with_usual(const Usual& usual) {
    AtWindow at;
    at.app = gui::start({.content = tests::shipped_content(),
                         .demo = tests::shipped_demo(),
                         .journal = at.journal,
                         .sheets = at.sheets,
                         .seed = Seed{7},
                         .usual = usual},
                        at.now);
    return at;
}

const Usual others{
    .pours = Pours::helper, .cup_mL = 15.0, .kitchen = "kitchen_coarse", .volume = VolumeUnit::mL};

std::string second_kitchen() {
    return tests::shipped_content()->equipment.at(1).id;
}

bool says(const std::vector<std::string>& lines, const std::string& words) {
    return std::ranges::any_of(
        lines, [&](const std::string& line) { return line.find(words) != std::string::npos; });
}

}  // namespace

TEST_CASE("settings come back from their file as they were set") {
    const tests::TemporaryFolder folder;
    const std::filesystem::path file = folder.path() / "deeper" / "window";
    const Settings set{.dark = true,
                       .scale = 1.25,
                       .us_letter = true,
                       .volume = VolumeUnit::us_fl_oz,
                       .helper_pours = true,
                       .cup_mL = 12.5,
                       .equipment = "kitchen_coarse"};
    REQUIRE(save_settings(set, file));
    CHECK(load_settings(file) == set);
    CHECK_FALSE(std::filesystem::exists(file.string() + ".new"));
    CHECK_FALSE(load_settings(folder.path() / "none"));
}

TEST_CASE(
    "a line of the settings file that is not known or broken leaves what is usual, and the others hold") {
    const tests::TemporaryFolder folder;
    const std::filesystem::path file = folder.path() / "window";
    write(file,
          "look dark\nscale\nnonsense of a later program\n\npaper\t\nscale twice\ncup_mL 9999\nvolume "
          "gallons\npours everybody\nequipment ../etc\npaper us_letter\n\xff\xfe\n");
    const auto read = load_settings(file);
    REQUIRE(read);
    CHECK(read->dark);
    CHECK(read->us_letter);
    CHECK(read->scale == 1.0);
    CHECK(read->cup_mL == 50.0);
    CHECK(read->volume == VolumeUnit::mL);
    CHECK_FALSE(read->helper_pours);
    CHECK(read->equipment.empty());
    write(file, "cup_mL nan\nscale inf\nscale 1e999\n");
    CHECK(load_settings(file) == Settings{});
    write(file, "");
    CHECK(load_settings(file) == Settings{});
    write(file, "look dark\nscale 2\npaper us_letter\n");  // as a program before this one wrote it
    Settings before;
    before.dark = true;
    before.scale = 2.0;
    before.us_letter = true;
    CHECK(load_settings(file) == before);
}

TEST_CASE("a new form begins with who usually pours, the usual cup and the usual equipment") {
    Usual usual = others;
    usual.kitchen = second_kitchen();
    AtWindow at = with_usual(usual);
    at.arrive();
    const Setup& setup = at.app.bench.setup;
    CHECK(setup.pours == Pours::helper);
    CHECK(setup.cup_mL == "15");
    CHECK(setup.kitchen == second_kitchen());
    CHECK(at.app.chosen_blinding == drills::Blinding::served);
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->request.demand.cup == Millilitres{15.0});
    CHECK(at.app.bench.plan->request.equipment.id == second_kitchen());
}

TEST_CASE("settings that make no sense begin as shipped") {
    AtWindow at = with_usual({.pours = Pours::as_written, .cup_mL = -3.0, .kitchen = "sold_long_ago"});
    at.arrive();
    const Setup& setup = at.app.bench.setup;
    CHECK(setup.pours == Pours::alone);
    CHECK(setup.cup_mL == "10");
    CHECK(setup.kitchen == tests::shipped_content()->equipment.front().id);
    CHECK(at.app.bench.problems.empty());
}

TEST_CASE("the form in Prepare follows a new usual unless something else was chosen or noted") {
    AtWindow at;
    at.arrive();
    at.want(TypeUsualCup{"12,5"});
    CHECK(at.app.bench.setup.cup_mL == "12.5");
    at.want(SetUsualPours{Pours::helper});
    CHECK(at.app.bench.setup.pours == Pours::helper);
    CHECK(at.app.chosen_blinding == drills::Blinding::served);
    at.want(SetUsualKitchen{second_kitchen()});
    CHECK(at.app.bench.setup.kitchen == second_kitchen());

    Setup own = at.app.bench.setup;
    own.cup_mL = "20";
    at.want(ChangeSetup{own});
    at.want(TypeUsualCup{"15"});
    CHECK(at.app.usual.cup_mL == 15.0);
    CHECK(at.app.bench.setup.cup_mL == "20");  // chosen by hand

    at.settle();
    REQUIRE(at.app.bench.plan);
    at.want(TickStep{0, true});
    at.want(SetUsualPours{Pours::alone});
    CHECK(at.app.bench.setup.pours == Pours::helper);
    CHECK(at.app.bench.notes.steps.size() == 1);
}

TEST_CASE("a usual cup that is no volume is told beside its field and changes nothing") {
    AtWindow at;
    at.arrive();
    at.want(OpenDialog{Dialog::settings});
    for (const char* typed : {"", "a lot", "0", "51", "1.9", "-10"}) {
        CAPTURE(typed);
        at.want(TypeUsualCup{typed});
        CHECK(at.app.usual.cup_mL == 10.0);
        CHECK(at.app.bench.setup.cup_mL == "10");
        const FrameView view = frame_view(at.app);
        REQUIRE(view.settings);
        CHECK(view.settings->window->cup.text == typed);
        CHECK(view.settings->window->cup.problem.find("2 to 50 mL") != std::string::npos);
    }
    at.want(OpenDialog{Dialog::none});
    at.want(OpenDialog{Dialog::settings});
    CHECK(frame_view(at.app).settings->window->cup.text == "10");
}

TEST_CASE("volumes of cups and of what is got ready are shown in US fluid ounces, readings are not") {
    AtWindow at;
    at.arrive();
    at.settle();
    const PlanView in_mL = *frame_view(at.app).prepare->plan;
    at.want(SetVolumeUnit{VolumeUnit::us_fl_oz});
    const FrameView view = frame_view(at.app);
    REQUIRE(view.prepare);
    CHECK(view.prepare->cup.unit == "mL, 0.338 US fl oz");
    CHECK(says(view.prepare->plan->shopping, " US fl oz ("));
    CHECK_FALSE(says(in_mL.shopping, "US fl oz"));
    REQUIRE(view.prepare->plan->steps.size() == in_mL.steps.size());
    for (std::size_t i = 0; i < in_mL.steps.size(); ++i) {
        CHECK(view.prepare->plan->steps[i].text == in_mL.steps[i].text);
        CHECK(view.prepare->plan->steps[i].planned == in_mL.steps[i].planned);
        CHECK(view.prepare->plan->steps[i].reading.unit == in_mL.steps[i].reading.unit);
    }
    at.prepare();
    CHECK(frame_view(at.app).taste->start->will_take.find("0.338 US fl oz (10 mL)") != std::string::npos);
    at.want(StartDrill{});
    at.want(Acquainted{});
    REQUIRE(at.app.running);
    CHECK(says(drill_view(at.app).instruction, "0.338 US fl oz (10 mL)"));
}

TEST_CASE("a class is planned in US fluid ounces too") {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::classroom});
    at.want(GoToStep{ClassStep::plan});
    CHECK_FALSE(says({frame_view(at.app).classroom->plan->costs}, "US fl oz"));
    at.want(SetVolumeUnit{VolumeUnit::us_fl_oz});
    CHECK(says({frame_view(at.app).classroom->plan->costs}, "US fl oz"));
    CHECK(says({frame_view(at.app).classroom->plan->drills.front().cups.front().label},
               "0.338 US fl oz (10 mL)"));
    at.want(GoToStep{ClassStep::sheets});
    CHECK(says(frame_view(at.app).classroom->sheets->facts, "US fl oz"));
}

TEST_CASE("sheets in US fluid ounces differ from those in mL, and the same again is the same byte for byte") {
    const auto printed = [](VolumeUnit unit) {
        const tests::TemporaryFolder folder;
        AtWindow at;
        at.sheets = folder.path();
        at.app = at.begin(Seed{7});
        at.arrive();
        at.settle();
        at.want(SetVolumeUnit{unit});
        at.want(PrintShown{});
        std::string bytes;
        for (const auto& one : std::filesystem::directory_iterator(folder.path())) {
            std::ifstream in(one.path(), std::ios::binary);
            bytes.assign(std::istreambuf_iterator<char>(in), {});
        }
        return bytes;
    };
    const std::string in_mL = printed(VolumeUnit::mL);
    const std::string in_ounces = printed(VolumeUnit::us_fl_oz);
    CHECK(in_mL.size() > 1000);
    CHECK(in_ounces.size() > 1000);
    CHECK(in_mL != in_ounces);
    CHECK(in_ounces == printed(VolumeUnit::us_fl_oz));
}

TEST_CASE("Settings is explained by F1 wherever it was opened, with its key") {
    AtWindow at;
    at.arrive();
    for (const Place place : {Place::prepare, Place::records, Place::classroom}) {
        at.want(GoTo{place});
        at.want(OpenDialog{Dialog::settings});
        const HelpView help = help_view(at.app);
        CHECK(help.title == "Settings");
        CHECK(std::ranges::any_of(help.keys, [](const auto& key) { return key.first == "F4"; }));
        CHECK(frame_view(at.app).title.find("settings") != std::string::npos);
    }
}
