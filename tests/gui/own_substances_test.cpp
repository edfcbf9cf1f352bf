// Own substances: offered, mixed and counted like the shipped ones, under the same caps and refusals.

#include "engine/safety/intake.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/own_forms.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

TEST_CASE("an own substance is offered, mixed, tasted and counted like a shipped one") {
    AtWindow at = with_lactose();
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 1);
    const std::string id = only_thing(at).id;
    at.want(OpenDialog{Dialog::none});
    CHECK(has(frame_view(at.app).prepare->substances, "lactose"));
    Setup setup = at.app.bench.setup;
    setup.substance = id;
    at.want(ChangeSetup{setup});
    CHECK(at.app.bench.problems.empty());
    CHECK(holds(frame_view(at.app).prepare->allergens, "milk"));
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->request.ladder.targets().back() <= 60.0);
    CHECK(tests::within(at.app.bench.plan->request.ingredient.content.value, 0.99, 1e-12));
    const PrepareView view = *frame_view(at.app).prepare;
    CHECK(std::ranges::any_of(view.costs.items, [](const Shown& one) { return holds(one.text, "sugar"); }));
    at.want(KeepMix{});
    REQUIRE(at.app.history->mixes.size() == 1);
    at.start_drill();
    REQUIRE(at.app.running);
    for (std::size_t i = 0; i < 4; ++i) {
        at.answer(i % 3);
        at.go_to_answer();
    }
    at.want(AskToStop{true});
    at.want(StopDrill{});
    CHECK(at.app.history->taken_today.sugar.value > 0.0);

    // Struck out, it is not offered any more; what was mixed and tasted stays, and every place still shows
    // it.
    strike(at, only_thing(at).fact, false);
    CHECK(at.app.history->mixes.size() == 1);
    CHECK(at.app.history->done.size() == 1);
    CHECK(at.app.bench.setup.substance != id);
    for (const Place place : {Place::prepare, Place::taste, Place::palate, Place::weeks, Place::records}) {
        at.want(GoTo{place});
        frame_view(at.app);
    }
    at.want(GoTo{Place::palate});
    REQUIRE(at.app.palate);
    if (!at.app.palate->next.empty()) {
        at.want(PrepareNext{0});
        CHECK(holds(at.app.notice->lines.front(), "is struck out"));
        CHECK(at.app.place == Place::palate);
    }
    at.want(GoTo{Place::prepare});
    CHECK_FALSE(has(frame_view(at.app).prepare->substances, "lactose"));
    setup = at.app.bench.setup;
    setup.drill = "recognition";
    at.want(ChangeSetup{setup});
    CHECK_FALSE(has(frame_view(at.app).prepare->more, "lactose"));
}

TEST_CASE("an own substance that does not say what it counts as, or says too little, is refused") {
    AtWindow at;
    at.arrive();
    fill_in_substance(at);
    type(at, {{"counts_as", ""}});
    at.want(KeepOwn{});
    CHECK(problem_at(at, "counts_as") == "is still to be chosen");
    type(at, {{"component", "bitter"}, {"counts_as", "sugar"}});
    CHECK(holds(problem_at(at, "counts_as"), "caffeine is wanted"));
    type(at, {{"counts_as", "caffeine"}});
    CHECK(holds(problem_at(at, "form"), "tablets"));
    CHECK(holds(problem_at(at, "cup"), "counts alike"));
    type(at, {{"component", "alcohol"}, {"counts_as", "ethanol"}});
    CHECK(holds(problem_at(at, "component"), "pct_vol"));
    at.want(KeepOwn{});
    CHECK(at.app.own.empty());
    CHECK(at.journal->facts_of_kind("own_substance").empty());
}

TEST_CASE("an own acid wants water without hydrogen carbonate, which would take up an unknown part of it") {
    AtWindow at;
    at.arrive();
    fill_in_substance(at);
    type(at, {{"name", "verjuice acid"},
              {"component", "sour"},
              {"counts_as", "acid"},
              {"cup", "2"},
              {"stock", "4"},
              {"centre", "0.2"}});
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 1);
    Setup setup = at.app.bench.setup;
    setup.substance = only_thing(at).id;
    setup.base = "still_water";
    at.want(ChangeSetup{setup});
    CHECK(holds(frame_view(at.app).prepare->bicarbonate.problem, "unknown part"));
    setup = at.app.bench.setup;
    setup.base = "purified_water";
    at.want(ChangeSetup{setup});
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->request.substance.name == "verjuice acid");
}

TEST_CASE("own alcohol falls under the cap and the refusals of the shipped one, own caffeine likewise") {
    AtWindow at;
    at.arrive("Ana", {shipped_content()->cautions.no_ethanol_reasons.front()});
    fill_in_brandy(at);
    type(at, {{"nose", "true"}, {"strength", "70"}, {"within", "0.5"}});
    CHECK(holds(problem_at(at, "strength"), "1 to 60"));
    type(at, {{"strength", "40"}});
    at.want(KeepOwn{});
    CAPTURE(all_said(at));
    REQUIRE(at.app.own.size() == 1);
    const std::string id = only_thing(at).id;
    const auto cautions = safety::cautions_for(at.app.content->cautions, id);
    CHECK(std::ranges::any_of(cautions, [](const auto& one) { return one.id == "never_denatured"; }));
    Setup setup = at.app.bench.setup;
    setup.substance = id;
    at.want(ChangeSetup{setup});
    at.settle();
    REQUIRE(at.app.bench.plan);
    const auto against = frame_view(at.app).prepare->costs.against;
    CHECK(std::ranges::any_of(against, [](const std::string& one) { return holds(one, "alcohol"); }));
    at.want(KeepMix{});
    CHECK(at.app.history->mixes.empty());
    CHECK(at.app.notice->is_problem);
}
