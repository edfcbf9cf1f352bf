#include "drills/classroom/ballots.hpp"

#include "engine/problem.hpp"
#include "tests/classroom/classes.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace sipladder;
using namespace sipladder::drills::classroom;
using namespace sipladder::tests;

namespace {

Ballots read(const std::string& csv, const Service& service) {
    return read_ballots(content::read_csv(csv, "ballots.csv"), service);
}

std::string refusal(const std::string& csv, const Service& service) {
    try {
        read(csv, service);
    } catch (const Refused& refused) {
        return refused.what();
    }
    return "";
}

std::string row(std::size_t seat, std::size_t drill, std::size_t line, const std::string& answer) {
    return std::to_string(seat + 1) + "," + std::to_string(drill + 1) + "," + std::to_string(line + 1) + "," +
           answer + ",sure\n";
}

const std::string heading = "seat,drill,line,answer,certainty\n";

/// Ballots of people who are always right; from `lost` on a person picks the left cup whatever it holds.
std::string perfect(const Service& service, std::size_t lost) {
    std::string csv = heading;
    for (std::size_t s = 0; s < service.plan.people; ++s) {
        const Seat& seat = service.seats[s];
        for (std::size_t line = 0; line < seat.servings[0].size(); ++line) {
            const std::vector<Cup>& cups = seat.servings[0][line].cups;
            const Cup* picked = &cups[0];
            for (const Cup& cup : cups)
                if (!cup.is_blank && s < lost) picked = &cup;
            csv += row(s, 0, line, picked->code.digits);
        }
        for (std::size_t line = 0; line < seat.servings[1].size(); ++line)
            csv += row(s, 1, line, service.plan.drills[1].choices[seat.servings[1][line].cups[0].sample]);
        std::string order;
        for (std::size_t sample = 0; sample < 5; ++sample)
            for (const Cup& cup : seat.servings[2][0].cups)
                if (cup.sample == sample) order += (order.empty() ? "" : " ") + cup.code.digits;
        csv += row(s, 2, 0, order);
    }
    return csv;
}

}  // namespace

TEST_CASE("ballots give counts for each rung, ranks for each sample and what was taken for what") {
    const Service service = design(class_of(24), Seed{2});
    const Ballots ballots = read(perfect(service, 23), service);
    CHECK(ballots.gaps.empty());
    CHECK(ballots.no_shows.empty());
    std::size_t correct = 0;
    std::size_t lost = 0;
    const auto found = counts(ballots, service, 0);
    CHECK(found.size() == 24 * 6);
    for (const Count& count : found) {
        CHECK(count.presentations == 1);
        (count.seat < 23 ? correct : lost) += count.correct;
    }
    CHECK(correct == 23 * 6);
    CHECK(lost == 2);  // the target stands left in two of six
    const Ranks ranked = ranks(ballots, service, 2);
    REQUIRE(ranked.by_sample.size() == 24);
    for (const auto& of_person : ranked.by_sample) CHECK(of_person == std::vector<double>{1, 2, 3, 4, 5});
    const auto taken = confusion(ballots, service, 1);
    for (std::size_t sample = 0; sample < taken.size(); ++sample)
        for (std::size_t choice = 0; choice < taken[sample].size(); ++choice)
            CHECK(taken[sample][choice] == (sample == choice ? 48 : 0));
}

TEST_CASE("who is not there and what is left empty is said, and spare seats are not missed") {
    const Service service = design(class_of(3), Seed{2});
    const std::string code = service.seats[0].servings[0][1].cups[2].code.digits;
    const Ballots ballots = read(heading + row(0, 0, 1, code), service);
    CHECK(ballots.no_shows == std::vector<std::size_t>{1, 2});
    CHECK(ballots.gaps.size() == 6 + 8 + 1 - 1);
    CHECK(ballots.gaps.front() == "seat 1, Sugar, line 1 is empty");
    CHECK(ballots.answers.at(0).certainty == threshold::Certainty::sure);
}

TEST_CASE("the second reading shows only what differs") {
    const Service service = design(class_of(4), Seed{2});
    const Ballots first = read(perfect(service, 4), service);
    const Ballots second = read(perfect(service, 3), service);  // the last person's answers typed wrongly
    const auto found = differences(first, second, service);
    CHECK(found.size() == 4);
    CHECK(found.at(0).where.find("seat 4, Sugar") == 0);
    CHECK(found.at(0).first != found.at(0).second);
    CHECK(differences(first, first, service).empty());
}

TEST_CASE("what cannot have been ticked is refused by its line") {
    const Service service = design(class_of(3), Seed{2});
    const auto& cups = service.seats[0].servings[0][0].cups;
    const std::string elsewhere = service.seats[0].servings[0][1].cups[0].code.digits;
    const auto refused = [&](const std::string& csv, const std::string& words) {
        const std::string said = refusal(heading + csv, service);
        CAPTURE(said);
        CHECK(said.find(words) != std::string::npos);
        CHECK(said.find("line 2") != std::string::npos);
    };
    refused(row(0, 0, 0, elsewhere), "does not stand there");
    refused(row(0, 0, 0, cups[0].code.digits + " " + cups[1].code.digits), "names 2 codes");
    refused(row(0, 0, 6, elsewhere), "line");
    refused(row(9, 0, 0, elsewhere), "seat");
    refused(row(0, 3, 0, elsewhere), "drill");
    refused(row(0, 1, 0, "salty"), "not on the ballot");
    const std::string once = service.seats[0].servings[2][0].cups[0].code.digits;
    refused(row(0, 2, 0, once), "names 1 codes");
    refused(row(0, 2, 0, once + " " + once), "twice");
    refused("1,1,1," + cups[0].code.digits + ",certain\n", "certain");
    const std::string again =
        refusal(heading + row(0, 0, 0, cups[0].code.digits) + row(0, 0, 0, cups[1].code.digits), service);
    CHECK(again.find("answered twice: seat 1, Sugar, line 1") != std::string::npos);
    CHECK(refusal("seat,drill,answer\n1,1,2\n", service).find("line") != std::string::npos);
}
