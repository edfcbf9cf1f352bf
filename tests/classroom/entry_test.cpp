#include "drills/classroom/entry.hpp"

#include "drills/classroom/invented.hpp"
#include "tests/classroom/classes.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace sipladder;
using namespace sipladder::drills::classroom;
using namespace sipladder::tests;

namespace {

Entry keys(Entry entry, const std::string& text, const Service& service) {
    for (const char key : text) entry = typed(std::move(entry), key, service);
    return entry;
}

/// What a person types to say this answer.
std::string keys_of(const BallotAnswer& answer, const Service& service) {
    const ClassDrill& drill = service.plan.drills[answer.drill];
    const Serving& serving = service.seats[answer.seat].servings[answer.drill][answer.serving];
    if (drill.task == Task::naming || drill.task == Task::graded)
        return std::to_string(answer.picked.front() + 1);
    if (drill.task == Task::ranking) return ranks_on_paper(answer.picked);
    return serving.cups[answer.picked.front()].code.digits + (answer.seat % 2 == 0 ? "s" : " ");
}

struct Typing {
    Service service = design(class_of(6), Seed{4});
    Ballots paper = invented_answers(service, {std::log10(2.5)}, Seed{9});
    Entry entry = begin(service);

    void type_all() {
        for (const BallotAnswer& answer : paper.answers) {
            REQUIRE(entry.at == Cell{answer.seat, answer.drill, answer.serving});
            entry = keys(std::move(entry), keys_of(answer, service), service);
            REQUIRE(!entry.complaint);
        }
    }
    std::string code(std::size_t seat, std::size_t line, std::size_t cup) const {
        return service.seats[seat].servings[0][line].cups[cup].code.digits;
    }
};

}  // namespace

TEST_CASE("a pile of ballots goes in by keys alone, each bringing the next cell under the finger") {
    Typing typing;
    typing.type_all();
    CHECK(!typing.entry.at);
    const Progress done = progress(typing.entry, Pass::first, typing.service);
    CHECK(done.answered == 6 * (6 + 8 + 1));
    CHECK(done.lines == done.answered);
    const Ballots found = ballots_of(typing.entry, typing.service);
    REQUIRE(found.answers.size() == typing.paper.answers.size());
    for (std::size_t i = 0; i < found.answers.size(); ++i) {
        CHECK(found.answers[i].picked == typing.paper.answers[i].picked);
        const bool is_sure = found.answers[i].drill == 0 && found.answers[i].seat % 2 == 0;
        CHECK(found.answers[i].certainty ==
              (is_sure ? std::optional(threshold::Certainty::sure) : std::nullopt));
    }
    CHECK(found.gaps.empty());
    CHECK(typed(typing.entry, '4', typing.service) == typing.entry);  // after the last nothing is typed
}

TEST_CASE("a code that does not stand there is refused at its first wrong digit, with those that do") {
    Typing typing;
    const std::string good = typing.code(0, 0, 1);
    std::string wrong;
    for (char digit = '0'; digit <= '9' && wrong.empty(); ++digit) {
        bool begins = false;
        for (std::size_t cup = 0; cup < 3; ++cup) begins = begins || typing.code(0, 0, cup).front() == digit;
        if (!begins) wrong = digit;
    }
    const Entry refused = keys(typing.entry, wrong, typing.service);
    REQUIRE(refused.complaint.has_value());
    CHECK(refused.complaint->find(good) != std::string::npos);
    CHECK(refused.at == Cell{0, 0, 0});
    CHECK(refused.typed.empty());
    CHECK(keys(typing.entry, "x", typing.service).complaint.has_value());
    const Entry taken = keys(refused, good, typing.service);
    CHECK(!taken.complaint);
    CHECK(taken.asks_certainty);
    CHECK(answer_at(taken, Pass::first, {0, 0, 0})->picked == std::vector<std::size_t>{1});
    CHECK(keys(taken, "q", typing.service).complaint.has_value());
    const Entry next = keys(taken, typing.code(0, 1, 2), typing.service);  // its digits end the asking
    CHECK(answer_at(next, Pass::first, {0, 0, 1})->picked == std::vector<std::size_t>{2});
    CHECK(!answer_at(next, Pass::first, {0, 0, 0})->certainty);
}

TEST_CASE("a choice is typed by number or first letter") {
    Typing typing;
    typing.entry = moved(typing.entry, {0, 1, 0}, typing.service);
    const Entry unclear = keys(typing.entry, "s", typing.service);  // sweet and sour
    REQUIRE(unclear.complaint.has_value());
    CHECK(unclear.complaint->find("2 sour") != std::string::npos);
    CHECK(keys(typing.entry, "9", typing.service).complaint.has_value());
    CHECK(answer_at(keys(typing.entry, "A", typing.service), Pass::first, {0, 1, 0})->picked ==
          std::vector<std::size_t>{2});
}

TEST_CASE("ranks are typed as they stand on the ballot, and one that is given twice is refused") {
    Typing typing;
    const Cell cell{0, 2, 0};
    Entry ranking = moved(typing.entry, cell, typing.service);
    ranking = keys(ranking, "24", typing.service);
    CHECK(ranking.ranks == std::vector<std::size_t>{2, 4});
    ranking = keys(ranking, "4", typing.service);
    CHECK(ranking.complaint == "no rank 4 is left here; there are 1, 3, 5");
    CHECK(ranking.ranks == std::vector<std::size_t>{2, 4});
    CHECK(keys(ranking, "0", typing.service).complaint.has_value());
    CHECK(keys(ranking, "6", typing.service).complaint.has_value());
    CHECK(keys(ranking, "x", typing.service).complaint.has_value());
    CHECK(answer_at(ranking, Pass::first, cell) == nullptr);
    ranking = keys(back(ranking, typing.service), "513", typing.service);
    CHECK(answer_at(keys(ranking, "4", typing.service), Pass::first, cell)->picked ==
          std::vector<std::size_t>{2, 0, 3, 4, 1});
}

TEST_CASE("of ten cups and more each rank has two digits") {
    ClassPlan plan = class_of(3);
    std::erase_if(plan.drills, [](const ClassDrill& drill) { return drill.task != Task::ranking; });
    ClassDrill& drill = plan.drills.front();
    const Sample first = drill.samples.front();
    drill.samples.clear();
    for (char letter = 'A'; letter < 'K'; ++letter) {
        drill.samples.push_back(first);
        drill.samples.back().bottle = std::string(1, letter);
    }
    const Service service = design(plan, Seed{4});
    Entry ranking = keys(begin(service), "1", service);
    CHECK(ranking.typed == "1");
    CHECK(keys(ranking, "1", service).complaint.has_value());
    ranking = keys(ranking, "00102030405060708", service);
    CHECK(ranking.ranks.size() == 9);
    CHECK(answer_at(keys(ranking, "09", service), Pass::first, {0, 0, 0})->picked.front() == 1);
}

TEST_CASE("back takes keys, cups and answers away one by one, to the very beginning") {
    Typing typing;
    const Entry start = typing.entry;
    typing.type_all();
    std::size_t steps = 0;
    while (typing.entry.at != Cell{0, 0, 0} || answer_at(typing.entry, Pass::first, {0, 0, 0})) {
        typing.entry = back(typing.entry, typing.service);
        REQUIRE(++steps < 1000);
    }
    CHECK(typing.entry == start);
    CHECK(back(start, typing.service) == start);
    const std::string code = typing.code(0, 0, 0);
    CHECK(back(keys(start, code.substr(0, 1), typing.service), typing.service) == start);
    CHECK(back(keys(start, code, typing.service), typing.service) == start);
}

TEST_CASE("who does not come is passed over, a late-comer takes a spare seat, and no design is redone") {
    Typing typing;
    typing.entry = came(typing.entry, 1, false, typing.service);
    typing.entry = came(typing.entry, 6, true, typing.service);
    std::erase_if(typing.paper.answers, [](const BallotAnswer& answer) { return answer.seat == 1; });
    BallotAnswer late{6, 1, 0, {0}, std::nullopt};
    typing.type_all();
    CHECK(typing.entry.at == Cell{6, 0, 0});
    typing.entry = keys(moved(typing.entry, {6, 1, 0}, typing.service), "1", typing.service);
    const Ballots found = ballots_of(typing.entry, typing.service);
    CHECK(found.no_shows == std::vector<std::size_t>{1});
    CHECK(found.answers.back() == late);
    CHECK(moved(typing.entry, {1, 0, 0}, typing.service) == typing.entry);
    const Entry gone = came(typing.entry, 6, false, typing.service);
    CHECK(answer_at(gone, Pass::first, {6, 1, 0}) == nullptr);
}

TEST_CASE("a second pass shows only what differs, and what the paper says settles it") {
    Typing typing;
    typing.type_all();
    typing.entry = second_pass(typing.entry, typing.service);
    CHECK(mistyped(typing.entry).empty());
    BallotAnswer& slip = typing.paper.answers[6];  // the first named cup
    REQUIRE(slip.drill == 1);
    slip.picked.front() = (slip.picked.front() + 1) % 4;
    typing.type_all();
    const Cell cell{slip.seat, slip.drill, slip.serving};
    CHECK(mistyped(typing.entry) == std::vector<Cell>{cell});
    const Entry by_second = settled(typing.entry, cell, Pass::second);
    CHECK(mistyped(by_second).empty());
    CHECK(answer_at(by_second, Pass::first, cell)->picked == slip.picked);
    const Entry by_first = settled(typing.entry, cell, Pass::first);
    CHECK(mistyped(by_first).empty());
    CHECK(answer_at(by_first, Pass::first, cell)->picked != slip.picked);
}
