// A kept thing of one's own back in its form, and kept as changed: what was made with it means what it meant.

#include "drills/record_own.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/own_forms.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

const OwnThing& offered(const AtWindow& at) {
    const auto found = std::ranges::find_if(at.app.own, [](const OwnThing& one) { return !one.struck; });
    REQUIRE(found != at.app.own.end());
    return *found;
}

std::string body_of(const AtWindow& at, const OwnThing& thing) {
    return at.journal->fact(thing.fact)->body;
}

/// The form that is typed in now comes back from its text as it was.
void check_comes_back(const AtWindow& at) {
    const OwnForm& form = *at.app.own_form;
    const content::Content& content = *at.app.content;
    const std::string text = text_of(form, content, "thing");
    CAPTURE(text);
    const OwnForm back = form_of(form.kind, text, content);
    CHECK(text_of(back, content, "thing") == text);
    CHECK(problems_of(back, content).empty());
}

}  // namespace

TEST_CASE("what was typed in comes back from its text, for every kind and form of a thing") {
    AtWindow at;
    at.arrive();
    fill_in_equipment(at);
    type(at, OwnList::balances, 0, {{"gain", "0,3"}, {"smallest", "1.7"}, {"name", "the old one"}});
    add_vessels(at, {{"nominal", "33.3"}, {"graduation", "0.1"}, {"new", "true"}, {"tolerance", "0.7"}});
    at.want(RemoveOwnTool{OwnList::vessels, 6});
    at.want(RemoveOwnTool{OwnList::vessels, 5});
    check_comes_back(at);
    fill_in_ladder(at);
    type(at, {{"count", "13"}, {"ratio", "1.25"}});  // more than ten: in the order of numbers
    check_comes_back(at);
    type(at, {{"rungs_are", "list"}, {"rungs", "0,5 1; 2 4,5"}, {"base", ""}});
    check_comes_back(at);
    fill_in_substance(at);
    check_comes_back(at);
    type(at, {{"spread", "5,5"}, {"rest", "90"}, {"nose", "true"}, {"takes_up", "0.55"}, {"stock", ""}});
    check_comes_back(at);
    fill_in_brandy(at);
    type(at, {{"dissolves", ""}, {"strength", "40"}, {"within", "0.5"}});
    check_comes_back(at);
    CHECK(form_of(OwnKind::ladder, "no JSON", *at.app.content).head.at("rungs").empty());
}

TEST_CASE("fields that were left as usual follow the others again when a thing is changed") {
    AtWindow at;
    at.arrive();
    fill_in_equipment(at);
    type(at, OwnList::balances, 0, {{"resolution", "0.01"}});
    at.want(KeepOwn{});
    at.want(ChangeOwn{offered(at).fact});
    REQUIRE(at.app.own_form);
    type(at, OwnList::balances, 0, {{"resolution", "0.1"}});
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    const solution::Balance& scale = at.app.content->kitchen(offered(at).id).balances.front();
    CHECK(scale.name == "scale, 0.1 g");
    CHECK(scale.smallest_load == Grams{2.1});
}

TEST_CASE("a changed equipment is a new row with an id of its own, and Prepare and the usual go over to it") {
    AtWindow at = with_own_kitchen();
    const OwnThing before = only_thing(at);
    const std::string body = body_of(at, before);
    at.want(SetUsualKitchen{before.id});
    at.want(OpenDialog{Dialog::none});
    at.settle();
    at.want(KeepMix{});
    REQUIRE(at.app.history->mixes.size() == 1);
    const Uuid mix = at.journal->facts_of_kind("mix").front().id;
    const std::string mixed = at.journal->fact(mix)->body;
    at.want(GoTo{Place::prepare});
    at.settle();
    const auto plan = at.app.bench.plan;
    REQUIRE(plan);

    at.want(ChangeOwn{before.fact});
    REQUIRE(frame_view(at.app).settings->form);
    const OwnFormView view = *frame_view(at.app).settings->form;
    CHECK(view.title == "Change this equipment");
    CHECK(holds(view.explains, "keeps the equipment"));
    CHECK(problem_at(at, "name").empty());  // its own name is not taken
    type(at, OwnList::balances, 0, {{"resolution", "0.1"}});
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 2);
    CHECK(holds(at.app.own.front().struck->reason, "changed"));
    const OwnThing now = offered(at);
    CHECK(now.id != before.id);
    CHECK(now.name == before.name);
    CHECK(body_of(at, before) == body);  // nothing is ever changed
    CHECK(at.journal->fact(mix)->body == mixed);
    CHECK(at.app.usual.kitchen == now.id);
    CHECK(at.app.bench.setup.kitchen == now.id);
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan != plan);
    CHECK(at.app.bench.plan->request.equipment.balances.front().resolution == Grams{0.1});
    CHECK(std::ranges::count_if(frame_view(at.app).prepare->kitchens,
                                [](const Choice& one) { return one.label == "my kitchen"; }) == 1);
    at.app = gui::start({.content = shipped_content(),
                         .demo = shipped_demo(),
                         .journal = at.journal,
                         .sheets = at.sheets,
                         .seed = Seed{4},
                         .usual = at.app.usual},
                        at.now);
    CHECK(at.app.bench.setup.kitchen == now.id);
}

TEST_CASE("a thing whose plan is being mixed is not changed, nor one that is struck out") {
    AtWindow at = with_own_kitchen();
    const Uuid fact = only_thing(at).fact;
    choose_kitchen(at, only_thing(at).id);
    at.settle();
    at.want(ChangeOwn{fact});
    REQUIRE(at.app.own_form);
    at.want(TickStep{0, true});
    type(at, {{"name", "another"}});
    at.want(KeepOwn{});
    CHECK(holds(all_said(at), "is in use"));
    CHECK(at.app.own.size() == 1);
    at.want(LeaveOwn{});
    at.want(ChangeOwn{fact});
    CHECK_FALSE(at.app.own_form);
    at.want(TickStep{0, false});
    at.want(ChangeOwn{fact});
    REQUIRE(at.app.own_form);
    strike(at, fact, false);
    at.want(KeepOwn{});
    CHECK(holds(all_said(at), "is not there any more"));
    at.want(LeaveOwn{});
    at.want(ChangeOwn{fact});
    CHECK_FALSE(at.app.own_form);
}

TEST_CASE("kept as it was, nothing is written; kept wrong, it goes on at the first wrong field") {
    AtWindow at = with_own_kitchen();
    const std::size_t rows = at.rows();
    at.want(ChangeOwn{only_thing(at).fact});
    at.want(KeepOwn{});
    CHECK(at.rows() == rows);
    CHECK_FALSE(at.app.own_form);
    CHECK(holds(all_said(at), "Nothing was changed"));
    at.want(ChangeOwn{only_thing(at).fact});
    type(at, OwnList::vessels, 0, {{"nominal", "much"}});
    type(at, OwnList::balances, 0, {{"capacity", "-1"}});
    const int times = at.app.own_form->times_begun;
    at.want(KeepOwn{});
    CHECK(at.rows() == rows);
    REQUIRE(at.app.own_form);
    CHECK(at.app.own_form->begins == OwnPlace{OwnList::balances, 0, "capacity"});
    CHECK(at.app.own_form->times_begun == times + 1);
    at.want(AddOwnTool{OwnList::balances});
    CHECK(at.app.own_form->begins == OwnPlace{OwnList::balances, 1, "name"});
    at.want(RemoveOwnTool{OwnList::balances, 1});
    CHECK(at.app.own_form->begins == OwnPlace{OwnList::balances, 0, "name"});
    at.want(LeaveOwn{});
    CHECK(at.rows() == rows);
}

TEST_CASE("a changed ladder takes the place of the one before in Prepare") {
    AtWindow at;
    at.arrive();
    fill_in_ladder(at);
    at.want(KeepOwn{});
    const OwnThing before = only_thing(at);
    Setup setup = at.app.bench.setup;
    setup.rungs = Rungs::kept;
    setup.ladder = before.id;
    at.want(ChangeSetup{setup});
    at.settle();
    at.want(ChangeOwn{before.fact});
    type(at, {{"rungs", "1 2 4 8"}});
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.setup.ladder == offered(at).id);
    CHECK(at.app.bench.plan->request.ladder.targets() == std::vector<double>{1.0, 2.0, 4.0, 8.0});
}

TEST_CASE("a changed substance counts as another: its bottles and answers stay with the one before") {
    AtWindow at = with_lactose();
    const OwnThing before = only_thing(at);
    Setup setup = at.app.bench.setup;
    setup.substance = before.id;
    at.want(ChangeSetup{setup});
    at.settle();
    at.want(KeepMix{});
    at.start_drill();
    REQUIRE(at.app.running);
    for (std::size_t i = 0; i < 4; ++i) {
        at.answer(i % 3);
        at.go_to_answer();
    }
    at.want(AskToStop{true});
    at.want(StopDrill{});
    at.want(LeaveFinding{});
    const double sugar = at.app.history->taken_today.sugar.value;
    at.want(ChangeOwn{before.fact});
    CHECK(holds(frame_view(at.app).settings->form->explains, "thresholds begin anew"));
    type(at, {{"cup", "40"}, {"stock", "90"}});
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    const OwnThing now = offered(at);
    CHECK(now.id != before.id);
    CHECK(at.app.content->substance(before.id).strongest_cup == 60.0);
    CHECK(at.app.content->substance(now.id).strongest_cup == 40.0);
    CHECK(at.app.content->struck_out.contains(before.id));
    CHECK(at.app.history->mixes[0].substance == before.id);
    CHECK(drills::substance_of(at.app.history->done.front().state.plan, 0).strongest_cup == 60.0);
    CHECK(at.app.history->taken_today.sugar.value == sugar);
    CHECK(at.app.bench.setup.substance == now.id);
    at.want(GoTo{Place::prepare});
    CHECK(std::ranges::count_if(frame_view(at.app).prepare->substances,
                                [](const Choice& one) { return one.label == "lactose"; }) == 1);
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->request.ladder.targets().back() <= 40.0);
    for (const Place place : {Place::taste, Place::palate, Place::weeks, Place::records}) {
        at.want(GoTo{place});
        frame_view(at.app);
    }
    // The one before is not put back beside it: the two could not be told apart.
    strike(at, before.fact, true);
    CHECK(holds(all_said(at), "is here already"));
    CHECK(at.app.content->struck_out.contains(before.id));
    strike(at, now.fact, false);
    strike(at, before.fact, true);
    CHECK(offered(at).id == before.id);
}
