#include "drills/fixed.hpp"
#include "drills/naming.hpp"
#include "engine/problem.hpp"
#include "tests/drills/every_drill.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <limits>
#include <map>
#include <set>

// Drills whose cups are drawn before the first one: what all of them share, then what is each one's own.

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;
using namespace sipladder::tests::every;
using nlohmann::json;

namespace {

/// Every cup that a served drill will serve, by its card.
std::map<std::string, int> cups_of_cards(const Plan& plan, Seed seed) {
    std::map<std::string, int> poured;
    for (const CardRow& row : pour_card(plan, seed))
        for (const std::string& bottle : row.contents) ++poured[bottle];
    return poured;
}

State with_answers(State drill, const std::function<std::size_t(const Served&)>& choice) {
    while (!is_finished(drill)) {
        const auto now = serving(drill);
        drill = lock(std::move(drill), {choice(*now), Certainty::sure, minute(drill.trials.size())});
    }
    return drill;
}

}  // namespace

TEST_CASE("an answer that does not answer the question is refused with everything that is wrong about it") {
    const Question order{.text = "In which order?", .choices = {}, .asks_order = true};
    const auto count = [](const Question& question, const Answer& answer) {
        return problems_of_answer(question, 3, answer).size();
    };
    Answer answer;
    CHECK(count(order, answer) == 1);
    answer.order = {2, 0, 1};
    CHECK(count(order, answer) == 0);
    for (const std::vector<std::size_t>& wrong :
         {std::vector<std::size_t>{2, 0}, {2, 0, 0}, {0, 1, 3}, {0, 1, 2, 1}}) {
        answer.order = wrong;
        CHECK(count(order, answer) == 1);
    }
    Question mark{.text = "How sweet?", .choices = {"dry", "sweet"}};
    mark.mark = MarkLine{"How sweet is it?", "not at all", "as sweet as can be"};
    Answer marked;
    CHECK(count(mark, marked) == 1);
    for (const double right : {0.0, 0.1, 100.0}) {
        marked.mark = right;
        CHECK(count(mark, marked) == 0);
    }
    for (const double wrong : {-0.1, 100.1, std::nan(""), std::numeric_limits<double>::infinity()}) {
        marked.mark = wrong;
        CHECK(count(mark, marked) == 1);
    }
    marked = {2, Certainty::sure, minute(0)};
    marked.order = {0, 1, 2};
    marked.seconds = 3.0;
    marked.places = {0};
    CHECK(count(mark, marked) == 5);  // no such choice, no mark, and three things that were not asked for
    Question times{.text = "How long?", .choices = {}, .most_seconds = 60, .words = {"bread", "smoke"}};
    times.places = {"lips", "palate"};
    Answer timed;
    timed.seconds = 60.0;
    timed.words = {0, 1};
    timed.places = {1};
    CHECK(count(times, timed) == 0);
    for (const double wrong : {0.0, -1.0, 60.1, std::nan("")}) {
        timed.seconds = wrong;
        CHECK(count(times, timed) == 1);
    }
    timed.seconds = 1.0;
    timed.words = {1, 1};
    timed.places = {2};
    CHECK(count(times, timed) == 2);
}

TEST_CASE("an answer of every shape comes back from the journal to the last bit") {
    Answer answer{3, Certainty::sure, minute(4)};
    answer.order = {2, 0, 1};
    answer.mark = 0.1 + 0.2;
    answer.places = {0, 4};
    answer.seconds = 1.0 / 3.0;
    answer.words = {7};
    // By the rows of a drill, since the parts of a body are no border of their own.
    Kept kept(naming_plan(Blinding::served), Seed{1});
    kept.go_to(one_step(kept.state, 0));
    json row = json::parse(kept.entries[0].body);
    CHECK(row["answer"].size() == 3);  // choice, certainty, at: what old rows hold and no more
    CHECK(row["answer"].count("mark") == 0);
}

TEST_CASE("a fixed drill serves what its card says, shared out evenly, in an order that the seed draws") {
    const Plan plan = naming_plan(Blinding::served);
    const auto poured = cups_of_cards(plan, Seed{4});
    CHECK(poured.at("base") == 6);
    int sum = 0;
    for (const auto& [bottle, cups] : poured) {
        if (bottle != "base") CHECK(cups == 3);
        sum += cups;
    }
    CHECK(sum == 24);
    // What is served is what stands beside the letter that the screen shows.
    State drill = begin(plan, Seed{4});
    std::map<std::string, CardRow> rows;
    for (const CardRow& row : pour_card(plan, Seed{4})) rows[row.letter] = row;
    CHECK(rows.size() == 24);
    while (!is_finished(drill)) {
        const auto now = serving(drill);
        const CardRow& row = rows.at(now->shown.letter);
        CHECK(row.codes == now->shown.codes);
        CHECK(row.contents == std::vector{bottle_of(plan, {now->series, now->level, now->is_blank})});
        rows.erase(now->shown.letter);
        drill = lock(std::move(drill), {0, Certainty::sure, minute(1)});
    }
    CHECK(rows.empty());
    CHECK(std::get<Finished>(next(drill)).why == "24 presentations done");
    Plan thin = plan;
    thin.ladder.levels[0].portions = 2;
    CHECK_THROWS_WITH_AS(begin(thin, Seed{1}), doctest::Contains("3 are poured beforehand"), Refused);
    CHECK_THROWS_AS(begin(naming_plan(Blinding::shuffled_tray), Seed{1}), Refused);
    Plan known = plan;
    CHECK(known_cups(known) == 4);  // one of each substance and a blank
}

TEST_CASE("the worst case of a fixed drill is what it serves, and with a sealed key no less") {
    const Plan served = naming_plan(Blinding::served);
    State drill = begin(served, Seed{6});
    while (!is_finished(drill)) drill = one_step(std::move(drill), 1);
    CHECK(within(worst_intake(served).sugar.value, intake(drill).sugar.value, 1e-9));
    CHECK(within(worst_intake(served).acid.value, intake(drill).acid.value, 1e-9));
    const Plan sealed = naming_plan(Blinding::sealed_key);
    for (std::uint64_t seed = 0; seed < 20; ++seed) {
        const State done_one = done(begin(sealed, Seed{seed}), seed);
        CHECK(intake(done_one).acid.value <= worst_intake(sealed).acid.value + 1e-9);
        CHECK(intake(done_one).salt.value <= worst_intake(sealed).salt.value + 1e-9);
        CHECK(cups(done_one) == 24);
    }
    Plan capped = served;
    capped.caps[0].per_sitting = 0.9 * worst_intake(served).acid.value;
    CHECK_THROWS_WITH_AS(begin(capped, Seed{1}), doctest::Contains("acid"), Refused);
}

TEST_CASE("naming counts what was taken for what, with bits that end at those of a perfect namer") {
    const Plan plan = naming_plan(Blinding::served);
    CHECK(naming::names(plan) == std::vector<std::string>{"acid", "salt", "sugar", "the base alone"});
    const auto right = [&](const Served& now) { return now.is_blank ? std::size_t{3} : now.series; };
    const auto perfect = naming::result(with_answers(begin(plan, Seed{2}), right));
    CHECK(perfect.right_in_all.value == 1.0);
    CHECK(perfect.most_bits == 2.0);
    CHECK(perfect.bits.value > 1.5);
    CHECK(perfect.bits.upper == 2.0);
    CHECK(perfect.taken_for.empty());
    // Every acid cup is called salt, every blank sugar; the weaker salt is called the base.
    const auto wrong = [&](const Served& now) -> std::size_t {
        if (now.is_blank) return 2;
        if (now.series == 0) return 1;
        return now.series == 1 && now.level == 0 ? 3 : now.series;
    };
    const State drill = with_answers(begin(plan, Seed{2}), wrong);
    const auto result = naming::result(drill);
    CHECK(result.counts[0] == std::vector<std::size_t>{0, 6, 0, 0});
    CHECK(result.counts[3] == std::vector<std::size_t>{0, 0, 6, 0});
    CHECK(result.counts[1] == std::vector<std::size_t>{0, 3, 0, 3});
    REQUIRE(result.taken_for.size() == 3);
    CHECK(result.taken_for[0].times == 6);
    CHECK(within(result.taken_for[0].share.lower, std::pow(0.025, 1.0 / 6.0), 1e-9));
    CHECK(within(result.right_in_all.value, 9.0 / 24.0, 1e-12));
    REQUIRE(result.levels.size() == 6);
    CHECK(result.levels[2].right == 0);  // the weaker salt
    CHECK(result.levels[3].right == 3);
    const Finding told = finding(drill);
    CHECK(told.measures.size() == 5);
    CHECK(told.sentences[0] ==
          "Named right 9 of 24 times (38 %, exact 95 % interval 19 % to 59 %); guessing would give 25 %.");
    CHECK(told.sentences[2] ==
          "acid was taken for salt 6 of 6 times (100 %, exact 95 % interval 54 % to 100 %).");
}

TEST_CASE("alcohol called bitter is told as a known overlap, bitter called alcohol is a mistake") {
    Plan plan = naming_plan(Blinding::served);
    plan.substance.component = solution::Component::alcohol;
    plan.substance.asked_for = "alcohol";
    plan.others[0].substance.component = solution::Component::bitter;
    plan.others[0].substance.asked_for = "bitterness";
    const auto swapped = [](const Served& now) -> std::size_t {
        return now.is_blank ? 3 : now.series == 2 ? 2 : 1 - now.series;
    };
    const State drill = with_answers(begin(plan, Seed{3}), swapped);
    CHECK(naming::result(drill).known_overlaps == 6);
    std::string all;
    for (const std::string& sentence : finding(drill).sentences) all += sentence + "\n";
    CHECK(
        all.find("alcohol was taken for bitterness 6 of 6 times (100 %, exact 95 % interval 54 % to 100 %): "
                 "a known overlap") != std::string::npos);
    CHECK(all.find(
              "bitterness was taken for alcohol 6 of 6 times (100 %, exact 95 % interval 54 % to 100 %).") !=
          std::string::npos);
    CHECK_THROWS_AS(begin(plan, Seed{1}, std::vector<std::string>{"about to drive"}), Refused);
}

TEST_CASE("one substance alone is a ladder: named right rung by rung, apart from the base") {
    Plan plan = naming_plan(Blinding::served, 20);
    plan.others.clear();
    plan.ladder = ladder_of(4, 2.0, 12);
    const auto from_third = [](const Served& now) -> std::size_t {
        return now.is_blank || now.level < 2 ? 1 : 0;
    };
    const State drill = with_answers(begin(plan, Seed{3}), from_third);
    const auto result = naming::result(drill);
    REQUIRE(result.levels.size() == 4);
    CHECK(result.levels[1].right == 0);
    CHECK(result.levels[2].right == result.levels[2].served);
    CHECK(result.counts[1][1] == 4);  // blanks, as many as cups of a rung
    CHECK(finding(drill).sentences.back().find("Named right, rung by rung: acid at 0.036 g/L 0 of 4 times") ==
          0);
}

TEST_CASE("in a class every seat names the cups that its class service serves") {
    const Plan plan = seated(naming_plan(Blinding::served), classroom::Task::naming);
    CHECK(plan.most_presentations == 14);  // six bottles and the base, twice each
    std::map<std::string, int> seen;
    State drill = begin(plan, Seed{1});
    while (!is_finished(drill)) {
        const auto now = serving(drill);
        CHECK(now->shown.letter.empty());
        CHECK(now->shown.codes == plan.seat->settings[drill.trials.size()].codes);
        ++seen[bottle_of(plan, {now->series, now->level, now->is_blank})];
        drill = one_step(std::move(drill), 1);
    }
    CHECK(seen.size() == 7);
    for (const auto& [bottle, times] : seen) CHECK(times == 2);
    CHECK(within(worst_intake(plan).acid.value, intake(drill).acid.value, 1e-9));
    Plan other = plan;
    other.ladder.levels[0].bottle = "Z";
    classroom::ClassPlan of_class;
    of_class.people = 2;
    of_class.drills.resize(1);
    of_class.drills[0].task = classroom::Task::naming;
    of_class.drills[0].choices = {"one", "the other"};
    of_class.drills[0].samples = {{plan.ladder.levels[0].bottle, "a rung"}};
    const auto service = classroom::design(of_class, Seed{1});
    CHECK_NOTHROW(seat_at(service, 0, 1, plan));
    CHECK_THROWS_WITH_AS(seat_at(service, 0, 1, other), doctest::Contains("bottles of the drill's own plan"),
                         Refused);
}
