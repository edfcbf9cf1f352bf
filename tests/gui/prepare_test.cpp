#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/worker.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <condition_variable>
#include <fstream>
#include <mutex>
#include <sstream>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

void change(AtWindow& at, const std::function<void(Setup&)>& how) {
    Setup setup = at.app.bench.setup;
    how(setup);
    at.want(ChangeSetup{setup});
}

AtWindow with_plan() {
    AtWindow at;
    at.arrive();
    at.settle();
    REQUIRE(at.app.bench.plan);
    return at;
}

/// The program ends without a word and starts again on the same journal.
void start_again(AtWindow& at) {
    at.app = at.begin(Seed{99});
    at.settle();
}

bool holds(const std::vector<std::string>& lines, const std::string& part) {
    return std::ranges::any_of(lines,
                               [&](const std::string& line) { return line.find(part) != std::string::npos; });
}

/// From a kept mix to a finding: the strongest rungs are found, the weaker ones guessed.
void run_drill(AtWindow& at) {
    at.start_drill();
    for (int i = 0; at.app.running; ++i) {
        at.answer(static_cast<std::size_t>(i) % 3);
        if (at.app.running && phase_of(*at.app.running) == Phase::reveal) at.look_beneath(1);
        if (at.app.running) at.rest();
        if (at.app.running) at.want(Poured{});
    }
}

}  // namespace

TEST_CASE("a tick is in the journal at once, a reading after a pause, and both are there after a start") {
    AtWindow at = with_plan();
    const std::size_t rows = at.rows();
    at.want(TickStep{2, true});
    CHECK(at.rows() == rows + 1);
    for (const char* text : {"1", "1.", "1.0", "1.02"}) at.want(TypeReading{4, text});
    CHECK(at.rows() == rows + 1);
    REQUIRE(next_wake(at.app));
    at.pass(1000);
    CHECK(*next_wake(at.app) <= at.now.monotonic_ms);
    at.want(Tick{});
    CHECK(at.rows() == rows + 2);
    CHECK(!next_wake(at.app));  // nothing more to wait for: the loop sleeps
    at.want(SetFate{6, Fate::skipped});
    at.want(TypeCheck{at.app.bench.plan->checks.front().what, "149"});
    at.want(SaveDraft{});
    const BenchNotes before = at.app.bench.notes;
    start_again(at);
    CHECK(at.app.bench.notes == before);
    CHECK(at.app.bench.notes.steps.at(4).reading == "1.02");
    CHECK(at.app.bench.notes.steps.at(2).ticked);
    CHECK(prepare_view(at.app).plan->steps[4].reading.text == "1.02");
}

TEST_CASE("a draft brings its form back, and is done with once the mix is kept") {
    AtWindow at = with_plan();
    change(at, [](Setup& setup) {
        setup.substance = "tartaric_acid";
        setup.cup_mL = "12,5";
        setup.presentations = 8;
        setup.pours = Pours::helper;
    });
    at.settle();
    at.want(TickStep{0, true});
    const Setup before = at.app.bench.setup;
    start_again(at);
    CHECK(at.app.bench.setup == before);
    at.want(KeepMix{});
    REQUIRE(at.app.history->mixes.size() == 1);
    start_again(at);
    CHECK(at.app.bench.notes.empty());
}

TEST_CASE("notes that no longer fit a plan are told, not given to another step") {
    AtWindow at = with_plan();
    at.want(TypeReading{0, "2.99"});
    drills::record::MixDraft draft = draft_of(at.app.bench);
    draft.steps.front().text = "Weigh something else.";
    at.journal->append(journal::Fact{.id = Uuid{"0f0f0f0f-0000-4000-8000-000000000001"},
                                     .person = *at.app.person,
                                     .kind = "mix_draft",
                                     .at = at.now,
                                     .body = drills::record::body_of(draft),
                                     .struck = {}});
    start_again(at);
    CHECK(at.app.bench.notes.steps.empty());
    REQUIRE(at.app.notice);
    CHECK(holds(at.app.notice->lines, "Weigh something else. Read: 2.99."));
}

TEST_CASE("another form sets the notes aside, and taking it back brings them back") {
    AtWindow at = with_plan();
    at.want(TypeReading{0, "2.99"});
    change(at, [](Setup& setup) { setup.cup_mL = "12"; });
    REQUIRE(at.app.notice);
    CHECK(at.app.bench.notes.empty());
    at.settle();
    at.want(TakeBack{});
    at.settle();
    CHECK(at.app.bench.setup.cup_mL == "10");
    CHECK(at.app.bench.notes.steps.at(0).reading == "2.99");
}

TEST_CASE("a journal that cannot be written keeps the notes and is not asked again at once") {
    AtWindow at = with_plan();
    at.want(TypeReading{0, "2.99"});
    at.app.person =
        Uuid{"0f0f0f0f-0000-4000-8000-00000000dead"};  // the journal lacks them: the row is refused
    at.pass(1000);
    at.want(Tick{});
    CHECK(at.app.notice);
    CHECK(at.app.bench.notes.steps.at(0).reading == "2.99");
    REQUIRE(next_wake(at.app));
    CHECK(*next_wake(at.app) > at.now.monotonic_ms + 5000);
}

TEST_CASE("while a new plan is worked out the one before stays in sight and cannot be kept") {
    AtWindow at = with_plan();
    change(at, [](Setup& setup) { setup.cup_mL = "12"; });
    const PrepareView view = prepare_view(at.app);
    CHECK(view.is_planning);
    CHECK(view.is_former);
    REQUIRE(view.plan);
    CHECK(!view.can_keep);
    at.settle();
    CHECK(!prepare_view(at.app).is_former);
    CHECK(prepare_view(at.app).can_keep);
}

TEST_CASE("the worker is asked without waiting and gives the newest plan") {
    AtWindow at;
    at.arrive();
    std::mutex guard;
    std::condition_variable arrived;
    bool is_ready = false;
    Worker worker([&] {
        const std::lock_guard lock(guard);
        is_ready = true;
        arrived.notify_one();
    });
    std::optional<PlanReady> last;
    for (int cup = 10; cup <= 30; ++cup) {
        change(at, [&](Setup& setup) { setup.cup_mL = std::to_string(cup); });
        worker.look_at(at.app);
    }
    while (!last || last->generation != at.app.generation) {
        {
            std::unique_lock lock(guard);
            REQUIRE(arrived.wait_for(lock, std::chrono::seconds{30}, [&] { return is_ready; }));
            is_ready = false;
        }
        if (auto ready = worker.take()) last = *ready->as<PlanReady>();
    }
    at.want(*last);
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->request.demand.cup.value == 30.0);
}

TEST_CASE("absurd fields are refused beside the field, with what would be right, and no plan is made") {
    struct Absurd {
        std::string Setup::*part;
        Field PrepareView::*shown;
        const char* text;
    };
    AtWindow at = with_plan();
    for (const Absurd& absurd : {Absurd{&Setup::cup_mL, &PrepareView::cup, "0"},
                                 {&Setup::cup_mL, &PrepareView::cup, "1e9"},
                                 {&Setup::cup_mL, &PrepareView::cup, "NaN"},
                                 {&Setup::cup_mL, &PrepareView::cup, ""},
                                 {&Setup::people, &PrepareView::people, "0"},
                                 {&Setup::people, &PrepareView::people, "1000000000"},
                                 {&Setup::people, &PrepareView::people, "2,5"},
                                 {&Setup::bicarbonate, &PrepareView::bicarbonate, "-1"},
                                 {&Setup::bicarbonate, &PrepareView::bicarbonate, "inf"},
                                 {&Setup::strength, &PrepareView::strength, "120"},
                                 {&Setup::strength, &PrepareView::strength, "-5"},
                                 {&Setup::strength_within, &PrepareView::strength_within, "99"}}) {
        CAPTURE(absurd.text);
        change(at, [&](Setup& setup) { setup.*absurd.part = absurd.text; });
        at.settle();
        const PrepareView view = prepare_view(at.app);
        CHECK(!(view.*absurd.shown).problem.empty());
        CHECK(!view.can_keep);
        at.want(KeepMix{});
        CHECK(at.app.history->mixes.empty());
        at.want(TakeBack{});
        at.settle();
        CHECK(prepare_view(at.app).can_keep);
    }
    for (const char* ladder : {"", "1", "2 1", "0 1", "a b", "1e9 2e9", "nan 2"}) {
        CAPTURE(ladder);
        change(at, [&](Setup& setup) {
            setup.rungs = Rungs::own;
            setup.own_rungs = ladder;
        });
        at.settle();
        CHECK(!prepare_view(at.app).can_keep);
        CHECK((!prepare_view(at.app).own_rungs.problem.empty() || !prepare_view(at.app).problems.empty()));
    }
    change(at, [](Setup& setup) { setup.own_rungs = "0,5 1,5 4,5"; });
    at.settle();
    CHECK(prepare_view(at.app).can_keep);
}

TEST_CASE("what this pack states goes into the plan with its bounds, and a spirit above 60 % vol does not") {
    AtWindow at = with_plan();
    change(at, [](Setup& setup) {
        setup.strength = "90";
        setup.strength_within = "2,5";
    });
    at.settle();
    REQUIRE(at.app.bench.plan);
    const solution::Ingredient& sugar = at.app.bench.plan->request.ingredient;
    CHECK(std::abs(sugar.content.value - 0.90) < 1e-12);
    CHECK(std::abs(sugar.content_half_width.value - 0.025) < 1e-12);
    for (const solution::PlannedLevel& level : at.app.bench.plan->levels) CHECK(level.u_shared_rel > 0.0135);
    change(at, [](Setup& setup) { setup.substance = "ethanol"; });
    CHECK(at.app.bench.setup.strength.empty());  // of another pack
    change(at, [](Setup& setup) { setup.strength = "96"; });
    CHECK(!prepare_view(at.app).strength.problem.empty());
}

TEST_CASE("an end of the ladder is pulled, the other stays, and one pull is one thing to take back") {
    AtWindow at = with_plan();
    const std::vector<double> before = prepare_view(at.app).strip_ends;
    for (const double to : {0.2, 0.25, 0.3}) at.want(DragEnd{false, to});
    std::vector<double> now = prepare_view(at.app).strip_ends;
    CHECK(std::abs(now.front() / 0.3 - 1.0) < 0.01);
    CHECK(std::abs(now.back() / before.back() - 1.0) < 0.02);
    at.want(DragEnd{true, 20.0});
    now = prepare_view(at.app).strip_ends;
    CHECK(std::abs(now.front() / 0.3 - 1.0) < 0.01);
    CHECK(std::abs(now.back() / 20.0 - 1.0) < 0.02);
    for (const double to : {0.0, -1.0, std::nan(""), 1e300}) {
        at.want(DragEnd{false, to});
        now = prepare_view(at.app).strip_ends;
        REQUIRE(now.size() == 2);
        CHECK(now.front() < now.back());
    }
    at.want(TakeBack{});
    CHECK(prepare_view(at.app).strip_ends == before);
}

TEST_CASE("a class gets bottles for all of them, and the costs say cups in all") {
    AtWindow at = with_plan();
    const double alone_mL = at.app.bench.plan->base_volume.value;
    change(at, [](Setup& setup) { setup.people = "24"; });
    at.settle();
    REQUIRE(at.app.bench.plan);
    CHECK(at.app.bench.plan->base_volume.value > 10.0 * alone_mL);
    const PrepareView view = prepare_view(at.app);
    CHECK(std::ranges::any_of(view.costs.items, [](const Shown& item) {
        return item.text.find("912 in all") != std::string::npos;
    }));
    REQUIRE(view.plan);
    CHECK(view.plan->tree.nodes.size() >= 7);
    CHECK(!view.plan->shopping.empty());
}

TEST_CASE("a skipped or spilled step moves the levels, is told, and stands in the mix that is kept") {
    AtWindow at = with_plan();
    const auto& steps = at.app.bench.plan->steps;
    const auto load = std::ranges::find_if(steps, [](const solution::Step& step) {
        return step.into.starts_with("bottle") && step.kind == solution::StepKind::weigh;
    });
    REQUIRE(load != steps.end());
    const auto index = static_cast<std::size_t>(load - steps.begin());
    at.want(SetFate{index, Fate::spilled});
    CHECK(!prepare_view(at.app).can_keep);  // how much is left is not said yet
    CHECK(!prepare_view(at.app).plan->steps[index].left.problem.empty());
    at.want(TypeLeft{index, "99999"});
    CHECK(!prepare_view(at.app).can_keep);
    at.want(TypeLeft{index, fixed(0.5 * steps[index].reading, 3)});
    CHECK(prepare_view(at.app).can_keep);
    const std::string bottle = steps[index].into.substr(std::string("bottle ").size());
    at.want(KeepMix{});
    REQUIRE(at.app.history->mixes.size() == 1);
    for (const solution::MixedLevel& level : at.app.history->mixes.front().ladder.levels)
        if (level.bottle == bottle) CHECK(level.mixed / level.target < 0.7);
    const std::vector<journal::Fact> facts = at.journal->facts(*at.app.person);
    const auto mix = std::ranges::find(facts, "mix", &journal::Fact::kind);
    REQUIRE(mix != facts.end());
    CHECK(mix->body.find("\"left\"") != std::string::npos);
}

TEST_CASE("a plan that crosses a cap is shown with its costs and the reason, and cannot be kept") {
    AtWindow at = with_plan();
    change(at, [](Setup& setup) { setup.substance = "tartaric_acid"; });
    change(at, [](Setup& setup) { setup.presentations = 24; });  // and the known cup; the cap is 20
    at.settle();
    REQUIRE(at.app.bench.plan);
    const PrepareView view = prepare_view(at.app);
    CHECK(!view.can_keep);
    CHECK(!view.costs.against.empty());
    CHECK(std::ranges::any_of(view.costs.items, [](const Shown& item) {
        return item.text.find("25 acid cups at most") != std::string::npos;
    }));
    at.want(KeepMix{});
    CHECK(at.app.history->mixes.empty());
    change(at, [](Setup& setup) { setup.presentations = 12; });
    at.settle();
    CHECK(prepare_view(at.app).can_keep);
}

TEST_CASE("a check before tasting says pass or fail for what was read") {
    AtWindow at = with_plan();
    const solution::Check check = at.app.bench.plan->checks.front();
    CHECK(prepare_view(at.app).plan->checks.front().found.empty());
    at.want(TypeCheck{check.what, fixed(check.expected, 3)});
    CHECK(prepare_view(at.app).plan->checks.front().passes);
    at.want(TypeCheck{check.what, fixed(check.expected + 3.0 * check.passes_within, 3)});
    CHECK(!prepare_view(at.app).plan->checks.front().passes);
    CHECK(!prepare_view(at.app).plan->checks.front().found.empty());
    at.want(TypeCheck{check.what, "much"});
    CHECK(!prepare_view(at.app).plan->checks.front().read.problem.empty());
}

TEST_CASE("every level has its error budget, own and shared parts apart, and they add up") {
    AtWindow at = with_plan();
    const PrepareView view = prepare_view(at.app);
    REQUIRE(view.plan->budgets.size() == at.app.bench.plan->levels.size());
    for (const BudgetView& budget : view.plan->budgets) {
        CHECK(!budget.lines.empty());
        for (const BudgetView::Line& line : budget.lines) CHECK(line.own.empty() != line.shared.empty());
    }
}

TEST_CASE("what keeping means, and how to begin with another kitchen next time, stands where it is wanted") {
    AtWindow at;
    at.arrive();
    at.want(GoTo{Place::prepare});
    at.settle();
    PrepareView view = *frame_view(at.app).prepare;
    CHECK(view.keep_note.starts_with("0 of 14 steps done."));
    CHECK(view.kitchen_note.find("Settings") == std::string::npos);
    at.want(TypeReading{0, "0.62"});
    CHECK(frame_view(at.app).prepare->keep_note.starts_with("1 of 14 steps done."));
    Setup plain = at.app.bench.setup;
    plain.kitchen = "kitchen_plain";
    at.want(ChangeSetup{plain});
    view = *frame_view(at.app).prepare;
    CHECK(view.keep_note.empty());  // nothing to keep while it is planned
    CHECK(view.kitchen_note.ends_with("choose it in Settings (F4)."));
}

TEST_CASE("a person's own kitchen is read from a file, kept with the draft, and a bad file is refused") {
    const tests::TemporaryFolder folder;
    const std::string file = (folder / "mine.json").string();
    std::ifstream shipped(std::string(SIPLADDER_SOURCE_DIR) + "/content/equipment.json");
    std::stringstream text;
    text << shipped.rdbuf();
    std::string whole = text.str();
    // The plain kitchen alone, under a name of its own.
    const std::size_t first = whole.find("{\n      \"id\": \"kitchen_fine\"");
    const std::size_t plain = whole.find("{\n      \"id\": \"kitchen_plain\"");
    const std::size_t room = whole.find(",\n    {\n      \"id\": \"teaching_room\"");
    REQUIRE(first < plain);
    REQUIRE(plain < room);
    std::string mine = whole.substr(0, first) + whole.substr(plain, room - plain) + "\n  ]\n}\n";
    mine.replace(mine.find("kitchen_plain"), 13, "kitchen_ana");
    std::ofstream(file) << mine;

    AtWindow at = with_plan();
    at.want(TypeKitchenPath{"/nowhere/at/all.json"});
    at.want(LoadKitchen{});
    REQUIRE(at.app.notice);
    at.want(DismissNotice{});
    at.want(TypeKitchenPath{file});
    at.want(LoadKitchen{});
    CHECK(!at.app.notice);
    CHECK(at.app.bench.setup.kitchen == "kitchen_ana");
    at.settle();
    REQUIRE(at.app.bench.plan);
    at.want(TickStep{0, true});
    start_again(at);
    CHECK(at.app.bench.setup.kitchen == "kitchen_ana");
    CHECK(at.app.bench.notes.steps.at(0).ticked);
}

namespace {

const PalateEntry* newest_of(const AtWindow& at, const drills::record::KeptMix& mix) {
    return newest_detection(*at.app.history, mix.substance, mix.base_name);
}

}  // namespace

TEST_CASE("with history a drill starts from it and says so, and the choice is the person's") {
    using drills::PriorChoice;
    AtWindow at = with_plan();
    at.want(KeepMix{});
    const auto kept = [&] { return at.app.history->mixes.front(); };
    CHECK(prior_choice(at.app, kept()) == PriorChoice::assumed);
    CHECK(taste_view(at.app).start->priors.size() == 2);
    run_drill(at);
    CHECK(taste_view(at.app).finding->rests_on.find("assumed for sucrose") != std::string::npos);
    const std::string date = to_date(newest_of(at, kept())->past.started);
    // The same bottles again: their common error must not count twice.
    at.want(GoTo{Place::taste});
    at.want(ChooseMix{0});
    REQUIRE(own_history_for(at.app, kept()));
    CHECK(own_history_for(at.app, kept())->same_mix);
    CHECK(prior_choice(at.app, kept()) == PriorChoice::own_history);
    CHECK(std::get<drills::Plan>(drill_plan(at.app)).prior.name == "own history of " + date);
    at.want(ChoosePrior{PriorChoice::flat});
    CHECK(std::get<drills::Plan>(drill_plan(at.app)).prior.kind == threshold::Prior::Kind::flat);
    at.want(ChoosePrior{PriorChoice::assumed});
    CHECK(std::get<drills::Plan>(drill_plan(at.app)).prior.kind == threshold::Prior::Kind::assumed);
    at.want(ChoosePrior{PriorChoice::own_history});
    at.pass(7LL * 24 * 3600 * 1000);
    run_drill(at);
    CHECK(taste_view(at.app).finding->rests_on.find("own history of " + date) != std::string::npos);
    at.want(GoTo{Place::palate});
    at.want(OpenRow{0});
    CHECK(palate_view(at.app).open->numbers.front().number.whence.find("own history of " + date) !=
          std::string::npos);
    // The next ladder is centred on what was found.
    start_again(at);
    CHECK(at.app.bench.setup.rungs == Rungs::around_mine);
    const std::vector<double> ends = prepare_view(at.app).strip_ends;
    const double centre = std::sqrt(ends.front() * ends.back());
    CHECK(std::abs(std::log10(centre / newest_of(at, kept())->threshold.value())) < 0.05);
    change(at, [](Setup& setup) { setup.base = "still_water"; });
    CHECK(at.app.bench.setup.rungs == Rungs::six_of_three);  // in another base nothing is known
}

TEST_CASE("every print goes on the paper that is set") {
    const tests::TemporaryFolder folder;
    AtWindow at = with_plan();
    at.app.sheets = folder / "sheets";
    const auto media_box = [&](const std::string& part) {
        at.want(PrintShown{});
        std::string newest;
        for (const auto& entry : std::filesystem::directory_iterator(at.app.sheets))
            if (entry.path().string() > newest) newest = entry.path().string();
        std::ifstream file(newest, std::ios::binary);
        std::stringstream bytes;
        bytes << file.rdbuf();
        std::filesystem::remove_all(at.app.sheets);
        return bytes.str().find(part) != std::string::npos;
    };
    CHECK(media_box("595.27"));
    at.want(SetPaper{drills::sheets::Paper::us_letter});
    CHECK(media_box("612 792"));
    at.want(KeepMix{});
    run_drill(at);
    REQUIRE(at.app.just_done);
    CHECK(media_box("612 792"));
}
