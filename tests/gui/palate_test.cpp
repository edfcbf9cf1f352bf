#include "gui/views/palate.hpp"

#include "tests/gui/people.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace sipladder;
using namespace sipladder::gui;
using drills::PalateQuestion;
using tests::AtWindow;

namespace {

/// The demo is made once and copied: values in, values out.
AtWindow with_demo() {
    static const AtWindow made = [] {
        AtWindow at;
        at.want(LookAtDemo{});
        return at;
    }();
    return made;
}

}  // namespace

TEST_CASE("an empty tab says which drill would fill it, and one key prepares that") {
    AtWindow at;
    at.arrive();
    at.want(GoTo{Place::palate});
    for (const PalateQuestion question : drills::every_palate_question) {
        at.want(ChooseQuestion{question});
        const PalateView view = palate_view(at.app);
        CAPTURE(view.offer);
        CHECK(view.rows.empty());
        CHECK(view.empty.find("fills this tab") != std::string::npos);
        CHECK(view.next.empty());
        at.want(PrepareOffer{});
        CHECK(at.app.place == Place::prepare);
        CHECK(!at.app.notice);
        at.settle();
        CHECK(at.app.bench.plan);
        const PalateOffer offer = offer_for(question);
        if (offer.programme.empty())
            CHECK(at.app.bench.setup.drill == offer.drill);
        else
            CHECK(at.app.bench.setup.programme == offer.programme);
        at.want(GoTo{Place::palate});
        CHECK(at.app.question == question);
    }
}

TEST_CASE("the demo fills all six tabs, and every row opens and closes") {
    AtWindow at = with_demo();
    for (const PalateQuestion question : drills::every_palate_question) {
        at.want(ChooseQuestion{question});
        const std::size_t rows = palate_view(at.app).rows.size();
        CHECK(rows > 0);
        for (std::size_t row = 0; row < rows; ++row) {
            at.want(OpenRow{row});
            const PalateView view = palate_view(at.app);
            REQUIRE(view.open);
            CHECK(view.open->title == view.rows[row].title);
            CHECK(!view.open->tables.empty());
            at.want(CloseRow{});
            CHECK(!palate_view(at.app).open);
        }
    }
    at.want(OpenRow{99});
    CHECK(!palate_view(at.app).open);
}

TEST_CASE(
    "what is advised becomes the form: ladder around the own estimate, as many presentations, as poured") {
    AtWindow at = with_demo();
    at.want(GoTo{Place::palate});
    const auto next = at.app.palate->next;
    REQUIRE(!next.empty());
    for (std::size_t i = 0; i < next.size(); ++i) {
        at.want(GoTo{Place::palate});
        at.want(PrepareNext{i});
        CHECK(at.app.place == Place::prepare);
        const Setup& setup = at.app.bench.setup;
        CHECK(setup.substance == next[i].substance);
        CHECK(setup.base == next[i].base);
        CHECK(setup.presentations == next[i].presentations);
        CHECK(setup.rungs == (next[i].has_own ? Rungs::around_mine : Rungs::six_of_three));
        CHECK((setup.pours == Pours::helper) == (next[i].blinding == drills::Blinding::served));
        at.settle();
        REQUIRE(at.app.bench.plan);
        CHECK(against_keeping(at.app).empty());
    }
    at.want(PrepareNext{99});  // there is no such advice
    CHECK(!at.app.notice);
}

TEST_CASE("the palate is fitted once, and anew when the journal has grown or another person is there") {
    AtWindow at = with_demo();
    at.want(GoTo{Place::palate});
    const auto first = at.app.palate;
    REQUIRE(first);
    at.want(ToggleHelp{});
    at.want(ChooseQuestion{PalateQuestion::how_long});
    at.want(Tick{});
    CHECK(at.app.palate == first);
    at.want(OpenRow{0});
    const auto opened = at.app.palate_opened;
    at.want(Tick{});
    CHECK(at.app.palate_opened == opened);
    at.want(TypeName{"Ben"});
    at.want(AddPerson{});
    at.want(ReadCautions{});
    at.want(GoTo{Place::palate});
    CHECK(at.app.palate != first);
    CHECK(palate_view(at.app).rows.empty());
}

TEST_CASE("nothing of a drill that is left open stands in the palate") {
    AtWindow at;
    at.arrive();
    at.prepare();
    at.start_drill();
    for (int i = 0; i < 4; ++i) {
        at.answer(static_cast<std::size_t>(i) % 3);
        at.go_to_answer();
    }
    at.app = at.begin(Seed{3});  // the program was ended with the drill open
    at.want(GoTo{Place::palate});
    const PalateView view = palate_view(at.app);
    CHECK(view.rows.empty());
    CHECK(view.next.empty());
    CHECK(view.left_open.find("left open") != std::string::npos);
    at.want(GoTo{Place::taste});
    at.want(CloseOpen{at.app.history->unfinished.front().drill});
    at.want(GoTo{Place::palate});
    CHECK(palate_view(at.app).left_open.empty());
    CHECK(palate_view(at.app).rows.size() == 1);
}

TEST_CASE("Ctrl+P writes the report of all six questions, and in an opened row its charts as three files") {
    const tests::TemporaryFolder folder;
    AtWindow at = with_demo();
    at.app.sheets = folder.path();
    at.want(GoTo{Place::palate});
    at.want(PrintShown{});
    REQUIRE(at.app.notice);
    CHECK(!at.app.notice->is_problem);
    at.want(OpenRow{0});
    at.want(PrintShown{});
    std::vector<std::string> endings;
    for (const auto& file : std::filesystem::directory_iterator(folder.path()))
        endings.push_back(file.path().extension().string());
    std::ranges::sort(endings);
    CHECK(std::ranges::count(endings, ".pdf") >= 2);
    CHECK(std::ranges::count(endings, ".png") >= 1);
    CHECK(std::ranges::count(endings, ".svg") == std::ranges::count(endings, ".png"));
    AtWindow empty;
    empty.arrive();
    empty.want(GoTo{Place::palate});
    empty.want(PrintShown{});
    REQUIRE(empty.app.notice);
    CHECK(empty.app.notice->is_problem);
}

TEST_CASE("a goal is kept in the journal, weighs in the advice, and nothing typed takes it back") {
    AtWindow at = with_demo();
    at.app.chance = Random{Seed{99}};  // the journal is shared with cases that drew the same ids
    at.want(GoTo{Place::palate});
    at.want(ChooseQuestion{PalateQuestion::how_little});
    at.want(OpenRow{0});
    REQUIRE(palate_view(at.app).open->goal);
    const auto gain_of = [&] {
        const auto& next = at.app.palate->next;
        const auto found = std::ranges::find(next, "sucrose", &drills::NextDrill::substance);
        return found == next.end() ? 0.0 : found->advice.beyond_goal_log10;
    };
    at.want(TypeGoal{"much less"});
    CHECK(!palate_view(at.app).open->goal->problem.empty());
    const std::size_t rows = at.app.journal->rows();
    at.want(KeepGoal{});
    CHECK(at.app.notice->is_problem);
    CHECK(at.app.journal->rows() == rows);
    at.want(DismissNotice{});
    at.want(TypeGoal{"0,1"});
    CHECK(palate_view(at.app).open->goal->problem.empty());
    at.want(KeepGoal{});
    CHECK(!at.app.notice);
    CHECK(at.app.journal->rows() == rows + 1);
    CHECK(gain_of() > 1.0);
    CHECK(at.app.palate->next.front().sentence.find("above the goal") != std::string::npos);
    at.want(CloseRow{});
    CHECK(palate_view(at.app).rows.front().numbers.back().what == "your goal");
    at.want(OpenRow{0});
    CHECK(palate_view(at.app).open->goal->text == "0.1");
    at.want(TypeGoal{" "});
    at.want(KeepGoal{});
    CHECK(gain_of() == 0.0);
    at.want(OpenRow{0});
    CHECK(palate_view(at.app).open->goal->text.empty());
}
