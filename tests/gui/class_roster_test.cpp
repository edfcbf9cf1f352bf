// The roster of a class: who agrees to be recorded, who takes no ethanol, who comes late, who is erased.

#include "drills/record_class.hpp"
#include "engine/journal/copies.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/class_at_window.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

using namespace sipladder;
using namespace sipladder::gui;
using namespace sipladder::tests;
using What = ShapeClass::What;

TEST_CASE("a late-comer takes a spare seat as a person, and who did not come is passed over") {
    AtWindow at = with_design("2");
    at.want(GoToStep{ClassStep::entry});
    at.want(SeatCame{0, false});
    CHECK(at.app.classroom.entry.at->seat == 1);
    at.want(SeatCame{2, true});
    CHECK(at.app.classroom.members.size() == 3);
    // They are asked like everybody else before anything of theirs is typed in.
    CHECK(at.app.classroom.entry.absent.contains(2));
    CHECK(frame_view(at.app).classroom->entry->rows[2].why_not == "not to be recorded");
    at.app = at.begin(Seed{2});
    at.want(OpenClass{at.app.classroom.all.front().id});
    CHECK(at.app.classroom.entry.absent.contains(2));
    at.want(AllAgree{});
    CHECK(at.app.classroom.entry.absent == std::set<std::size_t>{0, 3});  // not there, and spare
    at.want(BallotGo{{2, 1, 0}});
    at.want(BallotKey{'1'});
    at.app = at.begin(Seed{3});
    at.want(OpenClass{at.app.classroom.all.front().id});
    CHECK(at.app.classroom.entry.absent.contains(0));
    CHECK(drills::classroom::answer_at(at.app.classroom.entry, Pass::first, {2, 1, 0}) != nullptr);
    CHECK(at.app.classroom.members.size() == 3);
}

TEST_CASE("who does not agree is not typed in, and who takes no ethanol gets no cup of it") {
    AtWindow at;
    at.want(GoTo{Place::classroom});
    at.want(TypeClassTitle{"Strong and sweet"});
    at.want(MakeClass{});
    at.want(TypeMembers{"Ana, Ben; Cleo"});
    at.want(AddMembers{});
    at.want(AllAgree{});
    at.want(TickAgrees{0, false});
    at.want(TickNoEthanol{1, true});
    at.want(ShapeClass{What::ladder, 1, 0, "ethanol_clear"});
    CHECK(at.app.classroom.choice.drills[1].drill.sits_out == std::set<std::size_t>{1});
    CHECK(at.app.classroom.choice.drills[0].drill.sits_out.empty());
    CHECK(frame_view(at.app).classroom->roster->rows[1].no_ethanol);
    at.want(GoToStep{ClassStep::plan});
    CHECK(frame_view(at.app).classroom->plan->drills[1].left_out == "Ben");
    at.want(KeepClass{});
    at.settle();
    CAPTURE(problem_of(at));
    REQUIRE(at.app.classroom.kept);
    const auto& service = at.app.classroom.kept->service;
    CHECK(service.seats[1].servings[1].empty());
    CHECK(!service.seats[2].servings[1].empty());
    at.want(GoToStep{ClassStep::entry});
    CHECK(at.app.classroom.entry.absent.contains(0));
    at.want(SeatCame{0, true});
    CHECK(problem_of(at).find("does not agree") != std::string::npos);
}

TEST_CASE("nobody is recorded who was not asked: a name is typed in unticked, and one deed ticks them all") {
    AtWindow at;
    at.want(GoTo{Place::classroom});
    at.want(TypeClassTitle{"Evening class"});
    at.want(MakeClass{});
    CHECK(frame_view(at.app).classroom->roster->unticked.empty());
    at.want(TypeMembers{"Ana, Ben, Cleo"});
    at.want(AddMembers{});
    const auto ticked = [](const AtWindow& window) {
        std::string signs;
        for (const ClassMember& member : window.app.classroom.members) signs += member.agrees ? 'x' : '.';
        return signs;
    };
    CHECK(ticked(at) == "...");
    CHECK(frame_view(at.app).classroom->roster->unticked == "3 of 3 not ticked yet");
    at.want(GoToStep{ClassStep::plan});
    at.want(KeepClass{});
    at.settle();
    REQUIRE(at.app.classroom.kept);
    at.want(GoToStep{ClassStep::entry});
    ClassEntryView entry = *frame_view(at.app).classroom->entry;
    CHECK(entry.is_nobody);
    CHECK(entry.passed_over.find("3 people are not ticked") == 0);
    for (const char key : std::string("123")) at.want(BallotKey{key});  // nothing to type in
    CHECK(at.app.classroom.entry.passes.front().empty());
    at.want(GoToStep{ClassStep::results});
    at.settle();
    CHECK(problem_of(at).empty());
    // Who did not come is not there, whatever they agree to.
    at.want(SeatCame{2, false});
    at.want(GoToStep{ClassStep::roster});
    at.want(TickAgrees{1, true});
    CHECK(ticked(at) == ".x.");
    CHECK(frame_view(at.app).classroom->roster->unticked == "2 of 3 not ticked yet");
    CHECK(at.app.classroom.entry.at == Cell{1, 0, 0});
    at.want(AllAgree{});
    CHECK(ticked(at) == "xxx");
    CHECK(frame_view(at.app).classroom->roster->unticked.empty());
    const auto out = std::set<std::size_t>{2, 3, 4};  // and the spare seats
    CHECK(at.app.classroom.entry.absent == out);
    at.app = at.begin(Seed{5});
    at.want(GoTo{Place::classroom});
    at.want(OpenClass{at.app.classroom.all.front().id});
    CHECK(ticked(at) == "xxx");
    CHECK(at.app.classroom.entry.absent == out);
    entry = *frame_view(at.app).classroom->entry;
    CHECK(entry.passed_over.empty());
    CHECK(entry.rows[2].why_not == "not there");
    // A word that is taken back takes along what was typed in.
    type_in(at, invented(at));
    CHECK(!at.app.classroom.entry.passes.front().empty());
    at.want(TickAgrees{0, false});
    at.want(TickAgrees{1, false});
    CHECK(at.app.classroom.entry.passes.front().empty());
}

TEST_CASE("who sits out the first drill is begun with at the next, when all agree at once") {
    AtWindow at;
    at.want(GoTo{Place::classroom});
    at.want(TypeClassTitle{"Strong and sweet"});
    at.want(MakeClass{});
    at.want(TypeMembers{"Ana, Ben"});
    at.want(AddMembers{});
    at.want(TickNoEthanol{0, true});
    at.want(ShapeClass{What::task, 0, static_cast<std::size_t>(Task::naming), {}});
    at.want(ShapeClass{What::ladder, 0, 0, "ethanol_clear"});
    at.want(GoToStep{ClassStep::plan});
    at.want(KeepClass{});
    at.settle();
    CAPTURE(problem_of(at));
    REQUIRE(at.app.classroom.kept);
    REQUIRE(at.app.classroom.kept->service.seats[0].servings[0].empty());
    at.want(GoToStep{ClassStep::entry});
    at.want(AllAgree{});
    CHECK(at.app.classroom.entry.at == Cell{0, 1, 0});
    CHECK(!frame_view(at.app).classroom->entry->asks.empty());
}

TEST_CASE("rows of earlier programs keep what they say of agreeing") {
    AtWindow at = with_design("2");
    const auto& room = at.app.classroom;
    const std::string before =
        R"({"agrees": true, "class": ")" + room.id->text + R"(", "is_listed": true, "no_ethanol": false})";
    at.want(TickAgrees{0, false});
    at.journal->append(journal::Fact{.id = uuid_from(at.app.chance),
                                     .person = room.members[0].id,
                                     .kind = drills::record::class_row::member,
                                     .at = at.now,
                                     .body = before,
                                     .struck = {}});
    at.app = at.begin(Seed{4});
    at.want(OpenClass{at.app.classroom.all.front().id});
    CHECK(at.app.classroom.members[0].agrees);
}

TEST_CASE("erasing a member takes the name, the ballots and the copies' rows, and the class goes on") {
    const tests::TemporaryFolder folder;
    AtWindow at;
    at.journal = std::make_shared<journal::Journal>(journal::Journal::open(folder / "class.sipladder"));
    at.app = at.begin(Seed{7});
    at.want(GoTo{Place::classroom});
    at.want(TypeClassTitle{"Evening class"});
    at.want(MakeClass{});
    at.want(TypeMembers{"Zebedee Quillfeather, Ben"});
    at.want(AddMembers{});
    at.want(AllAgree{});
    at.want(GoToStep{ClassStep::plan});
    at.want(KeepClass{});
    at.settle();
    type_in(at, invented(at));
    journal::copy_daily(*at.journal, at.now);
    at.want(GoToStep{ClassStep::roster});
    at.want(AskToErase{0});
    at.want(TypeErase{"Zebedee"});
    at.want(EraseMember{});
    CHECK(problem_of(at).find("Zebedee Quillfeather") != std::string::npos);
    CHECK(at.app.classroom.members.size() == 2);
    at.want(TypeErase{"Zebedee Quillfeather"});
    at.want(EraseMember{});
    CHECK(problem_of(at).empty());
    CHECK(at.app.classroom.members.size() == 1);
    const auto holds = [](const std::filesystem::path& file) {
        std::ifstream in(file, std::ios::binary);
        const std::string bytes{std::istreambuf_iterator<char>(in), {}};
        return bytes.find("Quillfeather") != std::string::npos;
    };
    // The design keeps the seats and their codes; names on it are those of who is left.
    CHECK(!holds(folder / "class.sipladder"));
    CHECK(!holds(journal::daily_copies(folder / "class.sipladder").front()));
    REQUIRE(at.app.classroom.kept);
    CHECK(at.app.classroom.entry.absent.contains(0));
    at.want(GoToStep{ClassStep::results});
    at.settle();
    CHECK(at.app.classroom.results);
}
