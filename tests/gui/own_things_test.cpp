// Own equipment, ladders and substances: from a form to Prepare, out of sight and back, to another journal
// and gone with the person.

#include "drills/record_own.hpp"
#include "engine/journal/exchange.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/own_forms.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

TEST_CASE("own equipment from a form is offered in Prepare at once and plans with it") {
    AtWindow at = with_own_kitchen();
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 1);
    CHECK_FALSE(at.app.own_form);
    const OwnThing& thing = only_thing(at);
    CHECK(thing.kind == OwnKind::equipment);
    CHECK(content::is_own(thing.id));
    const solution::Equipment& kitchen = at.app.content->kitchen(thing.id);
    CHECK(kitchen.balances.front().resolution == Grams{0.01});
    CHECK(kitchen.balances.front().smallest_load == Grams{0.21});
    CHECK(kitchen.balances.front().name == "scale, 0,01 g");
    CHECK(kitchen.vessels.front().smallest == Millilitres{5.0});
    CHECK(kitchen.vessels.front().tolerance_rel == 0.04);
    CHECK(has(frame_view(at.app).prepare->kitchens, "my kitchen"));
    choose_kitchen(at, thing.id);
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->request.equipment.name == "my kitchen");
    CHECK(at.journal->facts_of_kind("own_equipment").size() == 1);
    // What is shipped has not changed.
    CHECK(at.app.shipped == shipped_content());
    CHECK(at.app.shipped->equipment.size() + 1 == at.app.content->equipment.size());
}

TEST_CASE("a form that is not right yet says so beside its fields, and nothing of it is kept") {
    AtWindow at;
    at.arrive();
    const std::size_t rows = at.rows();
    at.want(ShowSettings{SettingsPart::equipment});
    at.want(BeginOwn{OwnKind::equipment});
    CHECK(problem_at(at, "name").empty());  // nothing was tried yet
    at.want(KeepOwn{});
    CHECK(at.rows() == rows);
    REQUIRE(at.app.own_form);
    CHECK(problem_at(at, "name") == "is still to be filled in");
    CHECK(problem_at(at, {OwnList::balances, 0, "resolution"}) == "is still to be filled in");
    CHECK(own_form_view(at.app).problems.front() == "Not kept yet: 3 things are to be put right.");
    type(at, OwnList::balances, 0, {{"resolution", "fine"}, {"capacity", "0.001"}, {"gain", "150"}});
    CHECK(holds(problem_at(at, {OwnList::balances, 0, "resolution"}), "a number is wanted"));
    CHECK(holds(problem_at(at, {OwnList::balances, 0, "capacity"}), "a number from 1 to"));
    CHECK(problem_at(at, {OwnList::balances, 0, "gain"}) == "\"150\": a percentage from 0 to 20");
    at.want(AddOwnTool{OwnList::vessels});
    type(at, OwnList::vessels, 0,
         {{"nominal", "5"}, {"graduation", "0.2"}, {"smallest", "9"}, {"new", "false"}});
    CHECK(holds(problem_at(at, {OwnList::vessels, 0, "smallest"}), "more than the vessel holds"));
    CHECK(holds(problem_at(at, {OwnList::vessels, 0, "new"}), "needle-free"));
    at.want(KeepOwn{});
    CHECK(at.rows() == rows);
    CHECK(at.app.own.empty());
    at.want(RemoveOwnTool{OwnList::vessels, 0});
    at.want(RemoveOwnTool{OwnList::balances, 0});
    CHECK(at.app.own_form->balances.empty());
    at.want(KeepOwn{});
    CHECK(holds(all_said(at), "holds neither a balance nor a vessel"));
    at.want(LeaveOwn{});
    CHECK_FALSE(at.app.own_form);
    CHECK(at.rows() == rows);
}

TEST_CASE("every kind of vessel can be typed in") {
    AtWindow at;
    at.arrive();
    at.want(BeginOwn{OwnKind::equipment});
    type(at, {{"name", "a laboratory"}});
    type(at, OwnList::balances, 0, {{"resolution", "0.001"}, {"capacity", "200"}, {"gain", "0.05"}});
    add_vessels(at, {{"nominal", "100"}, {"graduation", "1"}, {"new", "true"}, {"tolerance", "0.5"}});
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 1);
    const auto& vessels = at.app.content->kitchen(at.app.own.front().id).vessels;
    REQUIRE(vessels.size() == every_vessel.size());
    CHECK(vessels[0].tolerance_rel == 0.005);
    CHECK(vessels[1].tolerance == Millilitres{0.5});
    CHECK(vessels[3].graduation == Millilitres{0.0});
    CHECK(vessels[3].smallest == Millilitres{100.0});
    CHECK(vessels[4].name == "jug, 100 mL");
}

TEST_CASE("an own name that is here already is refused, so that the two can be told apart") {
    AtWindow at = with_own_kitchen();
    fill_in_equipment(at);
    at.want(KeepOwn{});
    CHECK(holds(problem_at(at, "name"), "is here already"));
    type(at, {{"name", "kitchen with a fine scale"}});
    CHECK(holds(problem_at(at, "name"), "is here already"));
    type(at, {{"name", "my other kitchen"}});
    at.want(KeepOwn{});
    CHECK(at.app.own.size() == 2);
    CHECK(at.app.own[0].id != at.app.own[1].id);
}

TEST_CASE("own things are the person's: another does not see them, and they are back with the person") {
    AtWindow at = with_own_kitchen();
    const std::string id = only_thing(at).id;
    const Uuid ana = *at.app.person;
    choose_kitchen(at, id);
    at.arrive("Ben");
    CHECK(at.app.own.empty());
    CHECK_FALSE(has(frame_view(at.app).prepare->kitchens, "my kitchen"));
    CHECK(at.app.bench.setup.kitchen == shipped_content()->equipment.front().id);
    at.want(SwitchPerson{ana});
    CHECK(only_thing(at).id == id);
    CHECK(has(frame_view(at.app).prepare->kitchens, "my kitchen"));
    // And after a start of the program.
    at.app = at.begin(Seed{9});
    at.want(SwitchPerson{ana});
    CHECK(only_thing(at).id == id);
    CHECK(at.app.content->kitchen(id).name == "my kitchen");
}

TEST_CASE("one's own equipment can be the usual one, also at the next start") {
    AtWindow at = with_own_kitchen();
    const std::string id = only_thing(at).id;
    at.want(SetUsualKitchen{id});
    CHECK(at.app.bench.setup.kitchen == id);
    at.app = gui::start({.content = shipped_content(),
                         .demo = shipped_demo(),
                         .journal = at.journal,
                         .sheets = at.sheets,
                         .seed = Seed{4},
                         .usual = at.app.usual},
                        at.now);
    CHECK(at.app.bench.setup.kitchen == id);
}

TEST_CASE("own things are struck out with a reason and put back in Records") {
    AtWindow at = with_own_kitchen();
    const Uuid fact = only_thing(at).fact;
    const std::string id = only_thing(at).id;
    choose_kitchen(at, id);
    at.settle();
    at.want(TickStep{0, true});
    at.want(AskToStrike{fact, false});
    CHECK(holds(frame_view(at.app).settings->list->asked->title, "my kitchen"));
    at.want(StrikeOut{});
    CHECK(at.app.notice->is_problem);  // no reason was given
    strike(at, fact, false);
    CHECK(only_thing(at).struck);
    CHECK_FALSE(has(frame_view(at.app).prepare->kitchens, "my kitchen"));
    CHECK(at.app.bench.setup.kitchen != id);
    CHECK(frame_view(at.app).settings->list->lines.empty());
    CHECK(holds(at.app.notice->lines.front(), "set aside"));  // what was ticked

    at.want(OpenDialog{Dialog::none});
    at.want(GoTo{Place::records});
    at.want(ShowRecords{RecordsPart::own_things});
    FrameView view = frame_view(at.app);
    REQUIRE(view.records->own);
    REQUIRE(view.records->own->lines.size() == 1);
    CHECK(holds(view.records->own->lines.front().struck, "sold"));
    strike(at, fact, true);
    CHECK_FALSE(only_thing(at).struck);
    at.want(GoTo{Place::prepare});
    CHECK(has(frame_view(at.app).prepare->kitchens, "my kitchen"));
}

TEST_CASE("an own ladder is offered for its substance, in its base") {
    AtWindow at;
    at.arrive();
    fill_in_ladder(at);
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 1);
    at.want(OpenDialog{Dialog::none});
    const PrepareView view = *frame_view(at.app).prepare;
    REQUIRE(has(view.rungs, "fine around mine"));
    Setup setup = at.app.bench.setup;
    setup.rungs = Rungs::kept;
    setup.ladder = view.rung_ladders.back();
    at.want(ChangeSetup{setup});
    CHECK(at.app.bench.setup.base == "purified_water");
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->request.ladder.targets() == std::vector<double>{0.8, 1.2, 1.8, 2.7, 4.05});
    // The draft keeps it, another substance does not have it.
    at.want(TickStep{0, true});
    at.app = at.begin(Seed{3});
    CHECK(at.app.bench.setup.rungs == Rungs::kept);
    setup = at.app.bench.setup;
    setup.substance = "tartaric_acid";
    at.want(ChangeSetup{setup});
    CHECK(at.app.bench.setup.rungs != Rungs::kept);
    CHECK_FALSE(has(frame_view(at.app).prepare->rungs, "fine around mine"));
    // The usual ladders are as they were.
    setup = at.app.bench.setup;
    setup.substance = "sucrose";
    setup.ingredient.clear();
    setup.rungs = Rungs::six_of_three;
    at.want(ChangeSetup{setup});
    at.settle();
    CHECK(at.app.bench.plan->request.ladder.size() == 6);
}

TEST_CASE("an own ladder of an own list, and what is wrong with one is told at its field") {
    AtWindow at;
    at.arrive();
    fill_in_ladder(at);
    type(at, {{"ratio", "1"}, {"count", "five"}, {"lowest", "-2"}});
    CHECK(holds(problem_at(at, "ratio"), "1.05 to 20"));
    CHECK(holds(problem_at(at, "count"), "a whole number"));
    CHECK(holds(problem_at(at, "lowest"), "above 0"));
    type(at, {{"rungs_are", "list"}, {"rungs", "1 2 two 4"}});
    CHECK(holds(problem_at(at, "rungs"), "a number is wanted"));
    type(at, {{"rungs", "1 2 1.5"}});
    CHECK(holds(problem_at(at, "rungs"), "weakest to strongest"));
    type(at, {{"rungs", "100 5000"}});
    CHECK(holds(problem_at(at, "rungs"), "a number from"));
    type(at, {{"rungs", "100 900"}});
    CHECK(holds(problem_at(at, "rungs"), "strongest cup"));
    type(at, {{"rungs", "3"}});
    CHECK(holds(problem_at(at, "rungs"), "at least 2"));
    type(at, {{"rungs", "0,5 1; 2 4,5"}});
    CHECK(problem_at(at, "rungs").empty());
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 1);
    CHECK(at.app.content->ladder(at.app.own.front().id).targets() == std::vector<double>{0.5, 1.0, 2.0, 4.5});
}

TEST_CASE("own things go through export and import, and go with an erased person") {
    AtWindow at = with_own_kitchen();
    fill_in_substance(at);
    at.want(KeepOwn{});
    fill_in_ladder(at, std::string(at.app.own.back().id));
    type(at, {{"lowest", "2"}});
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 3);
    strike(at, at.app.own.front().fact, false);
    const std::string text = journal::exchange_json(journal::contents(*at.journal, at.app.person));

    const tests::TemporaryFolder folder;
    std::ofstream(folder / "export.json") << text;
    AtWindow other;
    other.app = other.begin(Seed{11});  // its own ids
    other.arrive("Ben");
    const Uuid ana = *at.app.person;
    other.want(GoTo{Place::records});
    other.want(TypeImportPath{(folder / "export.json").string()});
    other.want(ImportRecords{});
    other.want(SwitchPerson{ana});
    REQUIRE(other.app.own.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) CHECK(other.app.own[i] == at.app.own[i]);
    CHECK(other.app.content->ladders.size() == at.app.content->ladders.size());
    CHECK(other.app.content->substances.size() == at.app.content->substances.size());
    CHECK(std::ranges::all_of(other.app.own, [](const OwnThing& one) { return one.problem.empty(); }));

    other.want(TypeNameToErase{"Ana"});
    other.want(ErasePerson{});
    for (const OwnKind kind : {OwnKind::equipment, OwnKind::ladder, OwnKind::substance})
        CHECK(other.journal->facts_of_kind(drills::record::kind_of_own(kind)).empty());
    CHECK(other.app.own.empty());
    CHECK(other.app.content->substances.size() == shipped_content()->substances.size());
}

TEST_CASE(
    "an import whose own thing cannot be read is refused whole, and one that the checks refuse is not "
    "offered") {
    const auto imported = [](const std::string& kind, const std::string& body) {
        AtWindow at;
        at.arrive();
        AtWindow other;
        other.app = other.begin(Seed{12});
        const journal::Person person{.id = uuid_from(other.app.chance), .name = "Cleo", .created = other.now};
        other.journal->append(person);
        other.journal->append(journal::Fact{.id = uuid_from(other.app.chance),
                                            .person = person.id,
                                            .kind = kind,
                                            .at = other.now,
                                            .body = body,
                                            .struck = {}});
        const tests::TemporaryFolder folder;
        std::ofstream(folder / "export.json")
            << journal::exchange_json(journal::contents(*other.journal, {}));
        at.want(GoTo{Place::records});
        at.want(TypeImportPath{(folder / "export.json").string()});
        at.want(ImportRecords{});
        if (at.app.people.size() == 2) at.want(SwitchPerson{person.id});
        return at;
    };
    for (const char* body :
         {"{}", R"({"schema": "sipladder-equipment/1", "equipment": [{"id": "kitchen_fine"}]})"}) {
        const AtWindow at = imported("own_equipment", body);
        CHECK(at.app.people.size() == 1);
        CHECK(at.app.notice->is_problem);
    }
    const AtWindow at =
        imported("own_equipment", R"({"schema": "sipladder-equipment/1", "equipment": [{"id": "own_one"}]})");
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 1);
    CHECK_FALSE(at.app.own.front().problem.empty());
    CHECK(holds(at.app.notice->lines.front(), "is not offered"));
    CHECK(at.app.content->equipment.size() == shipped_content()->equipment.size());
    CHECK_FALSE(own_list(at.app, OwnKind::equipment).lines.front().problem.empty());
}

TEST_CASE("without a person no form is begun, and the demo has its own journal") {
    AtWindow at;
    at.want(BeginOwn{OwnKind::ladder});
    CHECK_FALSE(at.app.own_form);
    CHECK(holds(own_list(at.app, OwnKind::ladder).empty, "say who tastes"));
    at = with_own_kitchen();
    at.want(LookAtDemo{});
    CHECK(at.app.own.empty());
    CHECK(at.app.content->equipment.size() == shipped_content()->equipment.size());
    at.want(LeaveDemo{});
    CHECK(at.app.own.size() == 1);
}

TEST_CASE("equipment from a file stays beside one's own, and may not bear an own id") {
    AtWindow at = with_own_kitchen();
    const tests::TemporaryFolder folder;
    const auto write = [&](const std::string& id) {
        const std::string body = at.journal->facts_of_kind("own_equipment").front().body;
        std::string text = body;
        const std::string own = only_thing(at).id;
        text.replace(text.find(own), own.size(), id);
        for (std::size_t i = 0; (i = text.find("own statement", i)) != std::string::npos;)
            text.replace(i, 13, "judgement");
        std::ofstream(folder / "kitchen.json") << text;
        at.want(TypeKitchenPath{(folder / "kitchen.json").string()});
        at.want(LoadKitchen{});
    };
    write("own_of_a_file");
    CHECK(at.app.notice->is_problem);
    write("of_a_file");
    CHECK(at.app.bench.setup.kitchen == "of_a_file");
    fill_in_equipment(at, "a third");
    at.want(KeepOwn{});
    CHECK(at.app.bench.setup.kitchen == "of_a_file");
    CHECK(at.app.content->kitchen("of_a_file").name == "my kitchen");
    CHECK(at.app.own.size() == 2);
}
