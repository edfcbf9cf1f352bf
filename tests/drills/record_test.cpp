#include "drills/record.hpp"

#include "drills/record_about.hpp"
#include "drills/record_notes.hpp"
#include "engine/problem.hpp"
#include "tests/drills/people.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;
using nlohmann::json;

namespace {

/// A drill that is written down as it goes, as the window does it: copy, rows, then believe.
struct Kept {
    journal::Drill drill;
    std::vector<journal::Entry> entries;
    detection::State state;
    Random ids{Seed{77}};

    Kept(const detection::Plan& plan, Seed seed) : state(detection::begin(plan, seed)) {
        drill = {uuid_from(ids), uuid_from(ids), "detection", minute(0), record::body_of(plan, seed), {}};
    }
    void go_to(detection::State after) {
        for (auto& row : record::entries_between(state, after, drill.id, static_cast<int>(entries.size()),
                                                 minute(entries.size()), ids))
            entries.push_back(std::move(row));
        state = std::move(after);
    }
    detection::State again() const { return record::read(drill, entries); }
};

void check_same(const detection::State& told, const detection::State& state) {
    CHECK(told.trials == state.trials);
    CHECK(told.posteriors() == state.posteriors());
    CHECK(told.seed == state.seed);
    CHECK(told.stopped == state.stopped);
    CHECK(detection::next(told).index() == detection::next(state).index());
    const auto now = detection::serving(state);
    const auto then = detection::serving(told);
    REQUIRE(now.has_value() == then.has_value());
    if (now) {
        CHECK(now->shown == then->shown);
        CHECK(now->level == then->level);
        CHECK(now->place == then->place);
    }
}

detection::State locked(const detection::State& drill, std::size_t place) {
    return detection::lock(drill, {place, Certainty::leaning, minute(drill.trials.size())});
}

}  // namespace

TEST_CASE("what a drill is about is read without the rest of its body") {
    const detection::Plan plan = plan_of(6, 3.0, 4, 12, Blinding::served);
    const Kept kept(plan, Seed{5});
    const auto about = record::about_of(kept.drill);
    REQUIRE(about);
    CHECK(about->substance == plan.substance.id);
    CHECK(about->base_name == plan.base_name);
    for (const char* const body :
         {"", "{", "[]", R"({"seed":7})", R"({"base_name":"x","ladder":{"id":"y"}})"}) {
        CAPTURE(body);
        journal::Drill other = kept.drill;
        other.body = body;
        CHECK_FALSE(record::about_of(other));
    }
}

TEST_CASE("a plan comes back from its body to the last bit") {
    auto plan = usual_plan(Blinding::shuffled_tray);
    plan.ladder.levels[2].mixed = 0.1 + 0.2 - 0.25;  // not a round number in binary
    plan.prior.mean_log10 = std::log10(0.1) + 1e-16;
    plan.taken_today.acid = Grams{1.0 / 3.0};
    plan.taken_this_sitting.acid_cups = 4;
    plan.stop_sd_log10 = 0.07;
    plan.most_minutes = 45;
    plan.codes_before = {{"407"}, {"952"}};
    plan.substance.note = "quotes \" and ümlauts";
    const journal::Drill row{
        {}, {}, "detection", minute(0), record::body_of(plan, Seed{18446744073709551615U}), {}};
    const auto told = record::read(row, {});
    CHECK(record::body_of(told.plan, told.seed) == row.body);
    CHECK(told.seed.value == 18446744073709551615U);
    CHECK(told.plan.ladder == plan.ladder);
    CHECK(told.plan.prior == plan.prior);
    CHECK(told.plan.taken_today.acid == plan.taken_today.acid);
    CHECK(told.plan.substance.note == plan.substance.note);
    CHECK(told.plan.blinding == plan.blinding);
    CHECK(told.plan.caps.size() == 1);
    CHECK(told.plan.codes_before == plan.codes_before);
}

TEST_CASE("a sitting cut at any step, between lock and reveal too, goes on in the same state") {
    for (const Blinding blinding : {Blinding::served, Blinding::shuffled_tray})
        for (std::uint64_t seed = 0; seed < 8; ++seed) {
            CAPTURE(seed);
            Kept kept(usual_plan(blinding), Seed{seed});
            Random answers{Seed{seed + 50}};
            check_same(kept.again(), kept.state);
            while (!detection::is_finished(kept.state)) {
                kept.go_to(locked(kept.state, answers.below(3)));
                check_same(kept.again(), kept.state);
                if (blinding == Blinding::served) continue;
                CHECK(std::holds_alternative<Reveal>(detection::next(kept.again())));
                kept.go_to(detection::reveal(kept.state, answers.below(3), minute(99)));
                check_same(kept.again(), kept.state);
            }
            CHECK(kept.entries.back().kind == "finished");
            CHECK(kept.entries.size() == (blinding == Blinding::served ? 13 : 25));
            for (std::size_t i = 0; i < kept.entries.size(); ++i)
                CHECK(kept.entries[i].number == static_cast<int>(i));
        }
}

TEST_CASE("nothing in the journal tells level or place of a cup before its answer is locked") {
    for (const Blinding blinding : {Blinding::served, Blinding::shuffled_tray}) {
        Kept kept(usual_plan(blinding), Seed{5});
        CHECK(json::parse(kept.drill.body).count("trials") == 0);
        kept.go_to(locked(kept.state, 0));
        REQUIRE(kept.entries.size() == 1);
        const json lock = json::parse(kept.entries[0].body);
        CHECK(lock.at("level").is_number_integer());
        CHECK(lock.count("place") ==
              (blinding == Blinding::served ? 1 : 0));  // the tray has not been looked under
    }
}

TEST_CASE("stopping early is a row, and a struck-out stop lets the drill go on") {
    Kept kept(usual_plan(Blinding::served), Seed{5});
    kept.go_to(locked(kept.state, 0));
    kept.go_to(detection::stop(kept.state, "the doorbell"));
    CHECK(kept.entries.back().kind == "stopped");
    check_same(kept.again(), kept.state);
    kept.entries.back().struck = journal::Struck{"it was for the neighbours", minute(3)};
    CHECK(detection::serving(kept.again()).has_value());
}

TEST_CASE("a struck answer is left out with its reveal, and the others keep theirs") {
    Kept kept(usual_plan(Blinding::shuffled_tray), Seed{6});
    for (std::size_t i = 0; i < 3; ++i) {
        kept.go_to(locked(kept.state, i));
        kept.go_to(detection::reveal(kept.state, 1, minute(i)));
    }
    auto wanted = kept.state.trials;
    kept.entries[2].struck = journal::Struck{"spilt", minute(9)};  // the second lock
    wanted.erase(wanted.begin() + 1);
    CHECK(kept.again().trials == wanted);
    kept.entries[2].struck.reset();
    kept.entries[5].struck = journal::Struck{"looked under the wrong cup", minute(9)};  // the last reveal
    CHECK(std::holds_alternative<Reveal>(detection::next(kept.again())));
    CHECK(kept.again().trials.size() == 3);
}

TEST_CASE("a body that cannot be read is refused with the row and a pointer for each problem") {
    Kept kept(usual_plan(Blinding::served), Seed{6});
    kept.go_to(locked(kept.state, 0));
    const auto problems_of = [](const journal::Drill& drill, const std::vector<journal::Entry>& entries) {
        try {
            record::read(drill, entries);
        } catch (const Refused& refused) {
            return refused.problems();
        }
        return std::vector<Problem>{};
    };
    json body = json::parse(kept.drill.body);
    body["cup_mL"] = "ten";
    body["ladder"]["levels"][2].erase("mixed");
    body["prior"]["mean"] = 1;
    auto drill = kept.drill;
    drill.body = body.dump();
    auto entries = kept.entries;
    json lock = json::parse(entries[0].body);
    lock["answer"]["place"] = 3;
    entries[0].body = lock.dump();
    const auto problems = problems_of(drill, entries);
    REQUIRE(problems.size() == 4);
    const auto names = [&](const std::string& row, const std::string& pointer) {
        return std::any_of(problems.begin(), problems.end(), [&](const Problem& problem) {
            return problem.where.find(row) != std::string::npos &&
                   problem.where.find(pointer) != std::string::npos;
        });
    };
    CHECK(names(drill.id.text, "/cup_mL"));
    CHECK(names(drill.id.text, "/ladder/levels/2/mixed"));
    CHECK(names(drill.id.text, "/prior"));
    CHECK(names(entries[0].id.text, "/answer/place"));

    drill = kept.drill;
    drill.body.pop_back();
    CHECK_FALSE(problems_of(drill, {}).empty());
    body = json::parse(kept.drill.body);
    body["schema"] = "sipladder-detection/2";
    drill.body = body.dump();
    REQUIRE(problems_of(drill, {}).size() == 1);
    CHECK(problems_of(drill, {})[0].where.find("/schema") != std::string::npos);
    auto reveal_first = kept.entries;
    reveal_first[0].kind = "reveal";
    reveal_first[0].body =
        R"({"schema":"sipladder-detection/1","place":1,"at":{"utc_ms":1,"offset_min":0,"monotonic_ms":0}})";
    CHECK(problems_of(kept.drill, reveal_first).size() == 1);
}

TEST_CASE("a mix keeps its ladder, its steps and what the scale showed") {
    using namespace solution;
    const Substance substance = acid();
    MixPlan plan{
        PlanRequest{
            Ladder("first", substance.id, Scale::g_per_L, {0.1, 0.3}), substance, {}, {}, {}, {}, 0.05},
        {},
        {},
        {},
        {},
        {},
        {},
        true,
        3,
        "",
        {}};
    plan.request.ingredient.id = "tartaric_acid_powder";
    plan.request.ingredient.name = "tartaric acid powder, food grade";
    plan.request.base = {"still_water", "still water", 120.0};
    plan.request.equipment.id = "kitchen";
    plan.request.equipment.name = "my kitchen";
    solution::Step weighing;
    weighing.text = "Weigh 1.00 g";
    weighing.reading = 1.0;
    weighing.unit = "g";
    plan.steps.push_back(weighing);
    const MixedLadder mixed = ladder_of(2, 3.0, 8);
    const journal::Fact fact{{}, {}, "mix", minute(4), record::body_of_mix(plan, {{0, 1.02}}, mixed), {}};
    const record::KeptMix kept = record::read_mix(fact);
    CHECK(kept.ladder == mixed);
    CHECK(kept.substance == substance.id);
    CHECK(kept.ingredient_name == "tartaric acid powder, food grade");
    CHECK(kept.base_name == "still water");
    CHECK(kept.equipment_name == "my kitchen");
    CHECK(kept.at == minute(4));
    CHECK(json::parse(fact.body).at("steps").at(0).at("showed") == 1.02);
    auto broken = fact;
    broken.body = "{}";
    CHECK_THROWS_AS(record::read_mix(broken), Refused);
}

TEST_CASE("a goal comes back as it was set, one that is taken back too, and what is none is refused") {
    for (const std::optional<double> value : {std::optional(0.25), std::optional<double>()}) {
        const record::Goal goal{"sucrose", "purified water", value};
        journal::Fact fact{{}, {}, "goal", minute(4), record::body_of(goal), {}};
        CHECK(record::read_goal(fact) == goal);
        for (const char* body :
             {R"({"body": 1, "substance": "sucrose"})",
              R"({"body": 1, "substance": "a", "base_name": "b", "value": 0})",
              R"({"body": 1, "substance": "a", "base_name": "b", "value": "much"})", "{}"}) {
            fact.body = body;
            CHECK_THROWS_AS(record::read_goal(fact), Refused);
        }
    }
}
