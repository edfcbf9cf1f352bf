#include "drills/balance.hpp"
#include "drills/beforehand.hpp"
#include "drills/mouth_map.hpp"
#include "drills/naming.hpp"
#include "drills/persistence.hpp"
#include "drills/ranking.hpp"
#include "drills/scaling.hpp"
#include "drills/weight.hpp"
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

namespace {

std::string all_sentences(const State& drill) {
    std::string all;
    for (const std::string& sentence : finding(drill).sentences) all += sentence + "\n";
    return all;
}

/// Puts every set in the order that `rungs` says, weakest first, and reads in a sealed key as it truly stood.
State ordered(State drill, const std::vector<std::vector<std::size_t>>& rungs) {
    while (!is_finished(drill)) {
        const auto now = serving(drill);
        REQUIRE(now);
        Answer answer{0, Certainty::sure, minute(drill.trials.size())};
        for (const std::size_t rung : rungs[drill.trials.size() % rungs.size()])
            for (std::size_t place = 0; place < now->held.size(); ++place)
                if (now->held[place].level == rung) answer.order.push_back(place);
        drill = lock(std::move(drill), answer);
    }
    return drill;
}

/// Answers by level, in the order of the ladder.
State by_level(State drill, const std::function<Answer(const Served&)>& answer) {
    while (!is_finished(drill)) drill = lock(std::move(drill), answer(*serving(drill)));
    return drill;
}

}  // namespace

TEST_CASE("a set is served whole, places balanced, and put in order of what stands under each code") {
    const Plan plan = several_cups_plan(Kind::ranking, Blinding::served, 5, 1.2, 5);
    CHECK(cups_together(plan) == 5);
    std::map<std::string, CardRow> rows;
    std::vector<std::vector<int>> at_place(5, std::vector<int>(5, 0));
    for (const CardRow& row : pour_card(plan, Seed{3})) {
        rows[row.letter] = row;
        CHECK(row.bottle.empty());
        CHECK(std::set<std::string>(row.contents.begin(), row.contents.end()).size() == 5);
    }
    State drill = begin(plan, Seed{3});
    const auto now = serving(drill);
    REQUIRE(now->held.size() == 5);
    for (std::size_t place = 0; place < 5; ++place)
        CHECK(rows.at(now->shown.letter).contents[place] == bottle_of(plan, now->held[place]));
    drill = ordered(std::move(drill), {{0, 1, 2, 3, 4}});
    for (const Trial& trial : drill.trials)
        for (std::size_t place = 0; place < 5; ++place) ++at_place[trial.held[place]->level][place];
    const auto result = ranking::result(drill);
    for (const double rho : result.spearman) CHECK(rho == 1.0);
    CHECK(result.page.statistic == 5 * 55.0);
    CHECK(result.friedman.kendall_w == 1.0);
    CHECK(result.swapped == std::vector<std::size_t>(4, 0));
    CHECK(all_sentences(drill).find("No two neighbours were swapped") != std::string::npos);
    CHECK(within(intake(drill).acid.value, worst_intake(plan).acid.value, 1e-9));
    CHECK(within(worst_intake(plan).acid.value,
                 known_intake(plan).acid.value + 5.0 * set_intake(plan).acid.value, 1e-9));
}

TEST_CASE("over many sets every rung stands in every place about equally often") {
    std::vector<std::vector<int>> at_place(4, std::vector<int>(4, 0));
    for (std::uint64_t seed = 0; seed < 50; ++seed)
        for (const beforehand::Card& card :
             beforehand::cards(several_cups_plan(Kind::ranking, Blinding::served, 4, 1.2, 4), Seed{seed}))
            for (std::size_t place = 0; place < 4; ++place) ++at_place[card.held[place].level][place];
    for (const auto& rung : at_place)
        for (const int times : rung) CHECK(times == 50);  // four sets are one whole square
}

TEST_CASE("neighbours that are swapped are named, and the difference threshold grows with them") {
    const Plan plan = several_cups_plan(Kind::ranking, Blinding::served, 4, 1.2, 4);
    const State right = ordered(begin(plan, Seed{5}), {{0, 1, 2, 3}});
    const State swapped = ordered(begin(plan, Seed{5}), {{1, 0, 2, 3}, {0, 1, 3, 2}});
    const auto some = ranking::result(swapped);
    CHECK(some.swapped == std::vector<std::size_t>{2, 0, 2});
    CHECK(within(some.mean_spearman, 0.8, 1e-12));
    CHECK(some.difference_log10->value > ranking::result(right).difference_log10->value + 0.1);
    CHECK(all_sentences(swapped).find("Neighbours swapped: 0.0768 and 0.0922 g/L 2 of 4 times") !=
          std::string::npos);
}

TEST_CASE("a sealed set is turned over cup by cup, each bottle once, and a struck cup waits again") {
    Kept kept(several_cups_plan(Kind::ranking, Blinding::sealed_key, 4, 1.2, 2), Seed{9});
    const auto list = sealed_key::pour_list(kept.state.plan);
    REQUIRE(list.size() == 4);
    CHECK(sealed_key::cups_poured(kept.state.plan) == 8);
    kept.go_to(one_step(kept.state, 0));
    kept.go_to(one_step(kept.state, 1));
    const Step step = next_after_rest(kept.state);
    REQUIRE(std::holds_alternative<Reveal>(step));
    CHECK(std::get<Reveal>(step).ask ==
          "Turn over cup " + kept.state.trials[0].shown.codes[0].digits + ": what stands beneath?");
    CHECK_FALSE(serving(kept.state).has_value());
    kept.go_to(reveal(kept.state, 2, minute(3)));
    CHECK(kept.state.trials[0].held[0]->level == 2);
    CHECK_FALSE(kept.state.trials[0].is_done());
    CHECK_THROWS_WITH_AS(reveal(kept.state, 2, minute(3)), doctest::Contains("a second cup with the mark"),
                         Refused);
    kept.go_to(reveal(kept.state, 0, minute(3)));
    CHECK(kept.again().trials == kept.state.trials);
    // The second entry of the key was wrong: struck out, its cup is asked for again, the others stay.
    kept.entries.back().struck = journal::Struck{"the wrong cup", minute(4)};
    const State again = kept.again();
    CHECK_FALSE(again.trials[0].held[1].has_value());
    CHECK(again.trials[0].held[0]->level == 2);
    const Step waits = next_after_rest(again);
    CHECK(std::get<Reveal>(waits).ask.find(again.trials[0].shown.codes[1].digits) != std::string::npos);
}

TEST_CASE("weight takes thickener or glycerol, and orders alcohol without a score, saying why") {
    Plan plan = several_cups_plan(Kind::weight, Blinding::served, 4, 1.5, 3);
    CHECK(finding(ordered(begin(plan, Seed{1}), {{0, 1, 2, 3}})).measures.size() == 1);
    plan.substance.component = solution::Component::sweet;
    CHECK_THROWS_WITH_AS(begin(plan, Seed{1}), doctest::Contains("thickener or glycerol"), Refused);
    plan.substance.counts_as = solution::CountsAs::glycerol;
    CHECK(all_sentences(ordered(begin(plan, Seed{1}), {{0, 1, 2, 3}})).find("noticed as sweet before") !=
          std::string::npos);
    plan.substance.counts_as = solution::CountsAs::component;
    plan.substance.component = solution::Component::alcohol;
    const State alcohol = ordered(begin(plan, Seed{1}), {{0, 1, 2, 3}, {0, 1, 3, 2}});
    CHECK(finding(alcohol).measures.empty());
    CHECK_FALSE(weight::result(alcohol).difference_log10);
    CHECK(all_sentences(alcohol).find("Alcohol is not scored: a cup with more of it is less dense") == 0);
    CHECK(all_sentences(alcohol).find("agree among themselves with Kendall's W = 0.") != std::string::npos);
    CHECK(holds_ethanol(plan));
    plan = several_cups_plan(Kind::ranking, Blinding::served, 2, 1.5, 3);
    CHECK_THROWS_WITH_AS(begin(plan, Seed{1}), doctest::Contains("3 to 8 rungs"), Refused);
}

TEST_CASE("marks that grow in proportion have the exponent 1, and words begin where they were said") {
    const Plan plan = several_cups_plan(Kind::scaling, Blinding::served, 6, 1.8, 35);
    const auto answer = [&](const Served& now) {
        Answer given{0, Certainty::sure, minute(1)};
        given.mark = now.is_blank ? 1.0 : 200.0 * plan.ladder.levels[now.level].mixed;
        given.choice = now.is_blank || now.level < 2 ? 0 : now.level < 3 ? 1 : now.level < 5 ? 2 : 3;
        return given;
    };
    const State drill = by_level(begin(plan, Seed{3}), answer);
    const auto result = scaling::result(drill);
    CHECK(within(result.growth.slope.value, 1.0, 0.05));
    CHECK(result.growth.slope.lower < 1.0);
    CHECK(result.growth.slope.upper > 1.0);
    CHECK(result.blank_marks == std::vector<double>(5, 1.0));
    REQUIRE(result.limits.log10.size() == 3);
    const auto between = [&](std::size_t limit, std::size_t below, std::size_t above) {
        CHECK(result.limits.log10[limit].value > std::log10(plan.ladder.levels[below].mixed));
        CHECK(result.limits.log10[limit].value < std::log10(plan.ladder.levels[above].mixed));
    };
    between(0, 1, 2);
    between(1, 2, 3);
    between(2, 4, 5);
    REQUIRE(result.repeats);
    CHECK(result.repeats->within_sd == 0.0);
    CHECK(result.words_moved == 0);
    CHECK(finding(drill).measures.size() == 3 + 3);
    CHECK(all_sentences(drill).find("Twice as much gets a mark") != std::string::npos);
    CHECK(all_sentences(drill).find("European Union") == std::string::npos);  // acid has no terms
    Plan sweet = plan;
    sweet.substance.component = solution::Component::sweet;
    CHECK(
        all_sentences(by_level(begin(sweet, Seed{3}), answer))
            .find("dry up to 4 g/L of sugar (up to 9 where the acidity is high enough), medium dry up to 12 "
                  "(18), medium below 45") != std::string::npos);
    Plan same = plan;
    same.words = {"dry", "dry"};
    CHECK_THROWS_WITH_AS(begin(same, Seed{1}), doctest::Contains("different ones"), Refused);
}

TEST_CASE("what hides by a factor of two is found as a factor of two, and the just right level with it") {
    const Plan plan = two_conditions(several_cups_plan(Kind::balance, Blinding::served, 5, 1.8, 40), true);
    const auto answer = [&](const Served& now) {
        Answer given{0, Certainty::sure, minute(1)};
        const double felt =
            ladder_of(plan, now.series).levels[now.level].mixed / (now.series == 1 ? 2.0 : 1.0);
        given.mark = 200.0 * felt;
        const double limits[] = {0.02, 0.06, 0.14, 0.3};
        for (const double limit : limits) given.choice += felt > limit ? 1 : 0;
        return given;
    };
    const State drill = by_level(begin(plan, Seed{4}), answer);
    const auto result = balance::result(drill);
    REQUIRE(result.hidden_log10);
    CHECK(within(result.hidden_log10->value, std::log10(2.0), 0.02));
    CHECK(result.right_in_other_log10->value > result.right_log10.value + 0.1);
    CHECK(all_sentences(drill).find("It is hidden from you: with sugar it takes 2.0 (") == 0);
    Plan other = plan;
    other.others[0].substance.id = other.others[0].ladder.substance = "sucrose";
    CHECK_THROWS_WITH_AS(begin(other, Seed{1}), doctest::Contains("in both"), Refused);
    other = plan;
    other.others[0].condition.clear();
    CHECK_THROWS_WITH_AS(begin(other, Seed{1}), doctest::Contains("what is different"), Refused);
    // What the other base gives counts, and who leaves alcohol out takes no cup of it.
    other = plan;
    other.others[0].beside.ethanol = Grams{0.4};
    CHECK(holds_ethanol(other));
    CHECK(within(worst_intake(other).ethanol.value, 20 * 0.4, 1e-9));
    CHECK(known_cups(plan) == 2);
}

TEST_CASE("a mouth map tells where, how often and how well it repeats, and that the old zones are wrong") {
    const Plan plan = mouth_map_plan(Blinding::served);
    const auto answer = [](const Served& now) {
        Answer given{0, Certainty::sure, minute(1)};
        given.mark = 0.0;
        if (now.is_blank) return given;
        given.choice = 1 + now.series;
        given.mark = 40.0;
        given.places = now.series == 0 ? std::vector<std::size_t>{3, 4} : std::vector<std::size_t>{8};
        return given;
    };
    const State drill = by_level(begin(plan, Seed{4}), answer);
    const auto result = mouth_map::result(drill);
    REQUIRE(result.of.size() == 3);
    CHECK(result.of[0].places[3].value == 1.0);
    CHECK(result.of[0].places[8].value == 0.0);
    CHECK(result.of[1].places[8].value == 1.0);
    CHECK(result.of[2].feelings[0] == 8);
    CHECK(*result.alpha == 1.0);
    CHECK(*result.of[0].mean_mark == 40.0);
    const std::string told = all_sentences(drill);
    CHECK(told.find("acid: tongue tip 8 of 8, sides of the tongue 8 of 8; mostly \"sweet\"") == 0);
    CHECK(told.find("the base alone: nowhere in particular; mostly \"nothing\"") != std::string::npos);
    CHECK(told.find("not how people are built") != std::string::npos);
    // Nothing felt, and that at the palate: no answer; something felt nowhere neither.
    State first = begin(plan, Seed{4});
    Answer wrong{0, Certainty::sure, minute(1)};
    wrong.mark = 0.0;
    wrong.places = {8};
    CHECK_THROWS_AS(lock(first, wrong), Refused);
    wrong.places = {};
    wrong.choice = 1;
    CHECK_THROWS_AS(lock(first, wrong), Refused);
    CHECK(known_cups(plan) == 0);
    CHECK(std::get<Serve>(next(first)).before.find("No cup is known beforehand") == 0);
}

TEST_CASE(
    "seconds have their middle, quartiles, words and what stretches them, cut off where the watch stops") {
    Plan plan = two_conditions(several_cups_plan(Kind::persistence, Blinding::served, 2, 1.8, 24), false);
    plan.sensation = "sourness";
    const auto answer = [](const Served& now) {
        Answer given{0, Certainty::sure, minute(1)};
        given.seconds = (now.series == 1 ? 12.0 : 6.0) *
                        (1.0 + 0.02 * static_cast<double>(now.shown.codes[0].digits[2] - '0'));
        given.words = {0};
        return given;
    };
    const State drill = by_level(begin(plan, Seed{4}), answer);
    const auto result = persistence::result(drill);
    CHECK(within(result.middle_s, 6.5, 0.4));
    CHECK(result.quartiles_log10[0].value < std::log10(result.middle_s));
    CHECK(result.quartiles_log10[1].value > std::log10(result.middle_s));
    CHECK(within(std::pow(10.0, result.stretched_log10->value), 2.0, 0.15));
    CHECK(result.lengths == std::vector<std::size_t>{0, 0, 12, 0});
    CHECK(result.was_like == std::vector<std::size_t>{24, 0});
    const std::string told = all_sentences(drill);
    CHECK(told.find("The sourness lasts 6.") == 0);
    CHECK(told.find("It stretches what you call the finish: with sugar it lasts") != std::string::npos);
    CHECK(told.find("common practice, no source): medium 12 times") != std::string::npos);
    CHECK(persistence::length_word(1.9) == 0);
    CHECK(persistence::length_word(2.0) == 1);
    CHECK(persistence::length_word(5.0) == 2);
    CHECK(persistence::length_word(10.0) == 3);
    plan.most_seconds = 9;
    const auto outlasting = [&](const Served& now) {
        Answer given = answer(now);
        given.seconds = std::min(*given.seconds, 9.0);
        return given;
    };
    const auto cut = persistence::result(by_level(begin(plan, Seed{4}), outlasting));
    CHECK(cut.cut_off == 12);
    CHECK(cut.stretched_log10->upper > std::log10(1.5));  // longer than 9 s, by nobody knows how much
    Answer late{0, Certainty::sure, minute(1)};
    late.seconds = 9.5;
    CHECK_THROWS_AS(lock(begin(plan, Seed{4}), late), Refused);
}

TEST_CASE(
    "a bottle of one's own is timed for its flavour, counts as alcohol, and asks for none of its burn") {
    content::Content content;
    content.cautions.caps = {
        {.what = "ethanol_g", .per_sitting = 10.0, .per_day = 10.0, .source = "judgement", .why = "a drink"}};
    DrillOptions options;
    options.blinding = Blinding::served;
    options.presentations = 8;
    const Plan plan = own_wine_plan(content, "the red of the year", PercentVol{13.0}, 8, options);
    CHECK(persistence::is_own_wine(plan));
    CHECK(within(worst_intake(plan).ethanol.value, 8 * 10.0 * 0.13 * 0.789, 0.02));
    State drill = begin(plan, Seed{1});
    CHECK(std::get<Serve>(next(drill)).question.text ==
          "Spit and start the watch; stop it when the flavour is gone. Its sweetness, acid and burn do not "
          "count. What was it like?");
    CHECK_THROWS_AS(begin(plan, Seed{1}, std::vector<std::string>{"about to drive"}), Refused);
    options.presentations = 12;
    CHECK_THROWS_AS(begin(own_wine_plan(content, "", PercentVol{13.0}, 12, options), Seed{1}), Refused);
    CHECK_THROWS_AS(own_wine_plan(content, "", PercentVol{40.0}, 8, options), Refused);
    while (!is_finished(drill)) drill = one_step(std::move(drill), drill.trials.size());
    CHECK(all_sentences(drill).find("The flavour lasts") == 0);
}
