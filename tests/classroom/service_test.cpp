#include "drills/classroom/service.hpp"

#include "drills/classroom/williams.hpp"
#include "engine/problem.hpp"
#include "tests/classroom/classes.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::drills::classroom;
using namespace sipladder::tests;

namespace {

std::string refusal(const ClassPlan& plan) {
    try {
        design(plan, Seed{1});
    } catch (const Refused& refused) {
        return refused.what();
    }
    return "";
}

/// Every cup of a person in the order served.
std::vector<Cup> cups_of(const classroom::Seat& seat) {
    std::vector<Cup> all;
    for (const auto& drill : seat.servings)
        for (const Serving& serving : drill) all.insert(all.end(), serving.cups.begin(), serving.cups.end());
    return all;
}

std::size_t place_of_target(const Serving& serving) {
    const auto found =
        std::find_if(serving.cups.begin(), serving.cups.end(), [](const Cup& cup) { return !cup.is_blank; });
    return static_cast<std::size_t>(found - serving.cups.begin());
}

ClassPlan random_class(std::uint64_t seed) {
    Random random(Seed{seed});
    ClassPlan plan = class_of(1 + random.below(200));
    plan.spares = random.below(6);
    plan.groups = random.below(3) == 0 ? 1 + random.below(std::min<std::size_t>(plan.people, 10)) : 0;
    plan.drills = {which_cup(1 + random.below(8)), put_in_order(2 + random.below(7)), name_it()};
    for (Sample& sample : plan.drills[0].samples) sample.times = 1 + random.below(3);
    return plan;
}

}  // namespace

// Balance for first-order carry-over: each ordered pair of different samples is adjacent equally often.
// @source williams_1949 (the property that defines these designs; from memory)
TEST_CASE("in Williams orders every sample has every place and every predecessor equally often") {
    for (std::size_t n = 1; n <= 12; ++n) {
        CAPTURE(n);
        const auto orders = williams_orders(n);
        CHECK(orders.size() == (n == 1 ? 1 : n % 2 == 0 ? n : 2 * n));
        std::map<std::pair<std::size_t, std::size_t>, std::size_t> at_place;
        std::map<std::pair<std::size_t, std::size_t>, std::size_t> after;
        for (const auto& order : orders) {
            CHECK(std::set<std::size_t>(order.begin(), order.end()).size() == n);
            for (std::size_t i = 0; i < n; ++i) {
                ++at_place[{i, order[i]}];
                if (i > 0) ++after[{order[i - 1], order[i]}];
            }
        }
        CHECK(at_place.size() == n * n);
        CHECK(after.size() == n * (n - 1));
        for (const auto& [pair, count] : at_place) CHECK(count == orders.size() / n);
        for (const auto& [pair, count] : after) CHECK(count == orders.size() / n);
    }
}

TEST_CASE("places of the target are balanced over the people and for each person") {
    for (const std::size_t people : {3u, 7u, 24u, 40u}) {
        const Service service = design(class_of(people), Seed{people});
        const std::size_t presentations = service.seats[0].servings[0].size();
        REQUIRE(presentations == 6);
        std::vector<std::vector<std::size_t>> of_presentation(presentations, std::vector<std::size_t>(3, 0));
        for (std::size_t s = 0; s < people; ++s) {
            std::vector<std::size_t> of_person(3, 0);
            for (std::size_t p = 0; p < presentations; ++p) {
                const Serving& serving = service.seats[s].servings[0][p];
                REQUIRE(serving.cups.size() == 3);
                CHECK(std::count_if(serving.cups.begin(), serving.cups.end(),
                                    [](const Cup& cup) { return cup.is_blank; }) == 2);
                ++of_presentation[p][place_of_target(serving)];
                ++of_person[place_of_target(serving)];
                CHECK(serving.cups[place_of_target(serving)].sample == p);  // weakest first
            }
            CHECK(of_person == std::vector<std::size_t>{2, 2, 2});
        }
        for (const auto& counts : of_presentation)
            CHECK(*std::max_element(counts.begin(), counts.end()) -
                      *std::min_element(counts.begin(), counts.end()) <=
                  1);
    }
}

TEST_CASE("samples to rank and single cups stand in every place equally often over a class that divides") {
    const Service service = design(class_of(40), Seed{5});  // 10 orders of 5 samples, 8 of 8 cups
    std::map<std::pair<std::size_t, std::size_t>, std::size_t> ranked;
    std::map<std::pair<std::size_t, std::size_t>, std::size_t> named;
    for (std::size_t s = 0; s < 40; ++s) {
        const auto& to_rank = service.seats[s].servings[2].at(0).cups;
        for (std::size_t i = 0; i < to_rank.size(); ++i) ++ranked[{i, to_rank[i].sample}];
        const auto& to_name = service.seats[s].servings[1];
        for (std::size_t i = 0; i < to_name.size(); ++i) ++named[{i, to_name[i].cups.at(0).sample}];
    }
    for (const auto& [pair, count] : ranked) CHECK(count == 8);
    for (const auto& [pair, count] : named) CHECK(count == 10);
}

TEST_CASE("over random classes nobody meets a code twice, neighbours differ, and every cup is poured") {
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        const ClassPlan plan = random_class(seed);
        const Service service = design(plan, Seed{seed});
        REQUIRE(service.seats.size() == plan.people + plan.spares);
        std::map<std::pair<std::size_t, std::string>, std::size_t> wanted;  // drill, bottle
        for (std::size_t s = 0; s < service.seats.size(); ++s) {
            const classroom::Seat& seat = service.seats[s];
            const std::vector<Cup> cups = cups_of(seat);
            std::set<std::string> codes;
            for (const Cup& cup : cups) codes.insert(cup.code.digits);
            CHECK(codes.size() == cups.size());
            if (s > 0 && service.plan.groups > 1) {
                const classroom::Seat& neighbour = service.seats[s - 1];
                CHECK(neighbour.group != seat.group);
                CHECK(place_of_target(seat.servings[0][0]) < 3);
                const auto target = [](const classroom::Seat& of) {
                    return of.servings[0][0].cups[place_of_target(of.servings[0][0])].code;
                };
                CHECK(target(neighbour) != target(seat));
            }
            for (std::size_t d = 0; d < plan.drills.size(); ++d) {
                const ClassDrill& drill = plan.drills[d];
                for (const Serving& serving : seat.servings[d])
                    for (const Cup& cup : serving.cups)
                        ++wanted[{d, cup.is_blank ? drill.blank_bottle : drill.samples[cup.sample].bottle}];
                if (!drill.known_cup) continue;
                ++wanted[{d, drill.samples.back().bottle}];
                ++wanted[{d, drill.blank_bottle}];
            }
        }
        std::map<std::pair<std::size_t, std::string>, std::size_t> poured;
        std::size_t cups = 0;
        std::set<std::tuple<std::size_t, std::size_t, std::string>> lines;
        for (const PourLine& line : pour_lines(service)) {
            poured[{line.drill, line.bottle}] += line.cups;
            cups += line.cups;
            CHECK((line.code.digits.empty() ||
                   lines.insert({line.drill, line.group, line.code.digits}).second));
        }
        CHECK(poured == wanted);
        CHECK(cups == costs(plan).cups);
        std::map<std::pair<std::size_t, std::string>, std::size_t> mixed;
        double litres = 0.0;
        for (const BottleNeed& need : bottle_needs(service)) {
            mixed[{need.drill, need.bottle}] += need.cups;
            litres += need.in_cups.value / 1000.0;
        }
        CHECK(mixed == wanted);
        CHECK(within(litres, costs(plan).litres, 1e-9));
    }
}

TEST_CASE("the same plan and seed give the same service, and another seed other codes and places") {
    const auto text = [](const Service& service) {
        std::string all;
        for (const classroom::Seat& seat : service.seats)
            for (const Cup& cup : cups_of(seat)) all += cup.code.digits + std::to_string(cup.sample);
        return all;
    };
    CHECK(text(design(class_of(24), Seed{3})) == text(design(class_of(24), Seed{3})));
    CHECK(text(design(class_of(24), Seed{3})) != text(design(class_of(24), Seed{4})));
}

TEST_CASE("the size of a code tells nothing of what the cup holds") {
    // Chance is one in three for the target to bear the largest of three codes: 600 classes, 4 sd are 0.077.
    int largest = 0;
    constexpr int classes = 600;
    for (int seed = 1; seed <= classes; ++seed) {
        ClassPlan plan{1, 0, 0, {which_cup(1)}};
        const Service service = design(plan, Seed{static_cast<std::uint64_t>(seed)});
        const Serving& serving = service.seats[0].servings[0][0];
        const Cup& target = serving.cups[place_of_target(serving)];
        if (std::all_of(serving.cups.begin(), serving.cups.end(),
                        [&](const Cup& cup) { return cup.code <= target.code; }))
            ++largest;
    }
    CHECK(std::abs(largest / static_cast<double>(classes) - 1.0 / 3.0) < 0.077);
}

TEST_CASE("what a class costs is known before it is chosen") {
    // 24 people x 12 presentations x 3 cups are 864 cups.
    ClassPlan plan{24, 0, 0, {which_cup(6)}};
    for (Sample& sample : plan.drills[0].samples) sample.times = 2;
    plan.drills[0].known_cup = false;
    const Costs found = costs(plan);
    CHECK(found.cups == 864);
    CHECK(found.cups_a_person == 36);
    CHECK(found.litres == 8.64);
    CHECK(found.pouring_minutes == 116);
}

TEST_CASE("impossible classes are refused, all that is wrong at once") {
    CHECK(refusal(class_of(0)).find("people") != std::string::npos);
    CHECK(refusal(class_of(201)).find("1 to 200") != std::string::npos);
    ClassPlan empty{10, 1, 0, {}};
    CHECK(refusal(empty).find("at least one drill") != std::string::npos);
    ClassPlan twice = class_of(10);
    twice.drills[0].samples[1].bottle = "P";
    twice.drills[1].choices = {"sweet"};
    CHECK(refusal(twice).find("bottle P twice") != std::string::npos);
    CHECK(refusal(twice).find("two or more") != std::string::npos);
    ClassPlan many = class_of(10);
    for (Sample& sample : many.drills[0].samples) sample.times = 40;
    CHECK(refusal(many).find("codes there are") != std::string::npos);
    ClassPlan dry = class_of(10);
    dry.drills[2].cup = Millilitres{0.0};
    CHECK(refusal(dry).find("drill 3") != std::string::npos);
}
