#include "drills/classroom/results.hpp"

#include "drills/classroom/invented.hpp"
#include "engine/content/csv.hpp"
#include "tests/classroom/classes.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <set>

using namespace sipladder;
using namespace sipladder::drills::classroom;
using namespace sipladder::tests;

namespace {

Assumed wide(const std::string& /*substance*/) {
    threshold::Prior prior;
    prior.mean_log10 = 0.4;
    prior.sd_log10 = 0.7;
    prior.name = "wide";
    return {prior, solution::Component::sweet};
}

ClassPlan named_class(std::size_t people) {
    ClassPlan plan = class_of(people);
    for (std::size_t i = 0; i < 4; ++i) plan.drills[1].samples[i].right = i;
    return plan;
}

/// The cup that holds it, or else the first that does not.
std::size_t pick(const Serving& serving, bool right) {
    for (std::size_t i = 0; i < serving.cups.size(); ++i)
        if (serving.cups[i].is_blank != right) return i;
    return 0;
}

/// A class that graded the base and one sample "nothing" or "something", with so many "something" each.
SinglesResult graded_by(std::size_t people, std::size_t base_yes, std::size_t sample_yes) {
    ClassDrill drill{"Is it there?", "Do you taste it?",
                     Task::graded,   {{"base", "purified water"}, {"A", "sucrose", 4.0}},
                     "base",         {"nothing", "something"}};
    const Service service = design({people, 0, 0, {drill}}, Seed{5});
    Ballots ballots;
    for (std::size_t seat = 0; seat < people; ++seat)
        for (std::size_t line = 0; line < 2; ++line) {
            const std::size_t sample = service.seats[seat].servings[0][line].cups.front().sample;
            const std::size_t yes = sample == 0 ? base_yes : sample_yes;
            ballots.answers.push_back({seat, 0, line, {seat < yes ? 1U : 0U}, std::nullopt});
        }
    return std::get<SinglesResult>(results(ballots, service, {}, wide, Seed{1}).drills[0]);
}

}  // namespace

TEST_CASE("a class's threshold is that of its counts, and its best estimate follows the rule of ASTM E679") {
    const Service service = design(class_of(3), Seed{3});
    Ballots ballots;
    for (std::size_t seat = 0; seat < 3; ++seat)  // right from rung 1, 3 and 5 on
        for (std::size_t line = 0; line < 6; ++line)
            ballots.answers.push_back({seat,
                                       0,
                                       line,
                                       {pick(service.seats[seat].servings[0][line], line >= 2 * seat)},
                                       std::nullopt});
    const ClassResults all = results(ballots, service, {"Ada", "", "Ada"}, wide, Seed{1});
    CHECK(all.names ==
          std::vector<std::string>{"Ada (seat 1)", "seat 2", "Ada (seat 3)", "seat 4", "seat 5"});
    const auto& found = std::get<ThresholdResult>(all.drills[0]);
    REQUIRE(found.seats.size() == 3);
    // Geometric means of the last level missed and the next; half a step below the series for who missed
    // none.
    const double by_hand[] = {std::log10(1.0 / std::sqrt(2.0)), std::log10(std::sqrt(2.0 * 3.0)),
                              std::log10(std::sqrt(4.0 * 5.0))};
    double mean = 0.0;
    for (std::size_t i = 0; i < 3; ++i) {
        REQUIRE(found.best[i].has_value());
        CHECK(within(found.best[i]->log10, by_hand[i], 1e-12));
        mean += by_hand[i] / 3.0;
    }
    REQUIRE(found.best_of_class.has_value());
    CHECK(within(found.best_of_class->log10, mean, 1e-12));
    std::vector<panel::Member> members{{all.names[0], {}}, {all.names[1], {}}, {all.names[2], {}}};
    for (std::size_t seat = 0; seat < 3; ++seat)
        for (std::size_t rung = 0; rung < 6; ++rung)
            members[seat].counts.push_back(
                {std::log10(static_cast<double>(rung + 1)), 1, rung >= 2 * seat ? 1U : 0U});
    const panel::Panel pooled = panel::pooled(members, wide("").prior, threshold::three_afc);
    CHECK(within(found.pooled.mean.log10, pooled.mean.log10, 1e-12));
    for (std::size_t i = 0; i < 3; ++i) CHECK(found.pooled.people[i].shrunken == pooled.people[i].shrunken);
    REQUIRE(found.rungs.size() == 6);
    CHECK(found.rungs[0].correct == 1);
    CHECK(within(found.rungs[0].test.p_value, 1.0 - 8.0 / 27.0, 1e-12));  // one or more of three at 1/3
    CHECK(found.rungs[5].correct == 3);
    CHECK(within(found.rungs[5].test.p_value, 1.0 / 27.0, 1e-12));
}

TEST_CASE("orders of a class give rank sums, tau and swapped neighbours") {
    const Service service = design({2, 0, 0, {put_in_order(5)}}, Seed{3});
    Ballots ballots;
    const std::vector<std::size_t> orders[] = {{0, 1, 2, 3, 4}, {1, 0, 2, 4, 3}};
    for (std::size_t seat = 0; seat < 2; ++seat) {
        std::vector<std::size_t> picked;
        const std::vector<Cup>& cups = service.seats[seat].servings[0][0].cups;
        for (const std::size_t sample : orders[seat])
            for (std::size_t i = 0; i < cups.size(); ++i)
                if (cups[i].sample == sample) picked.push_back(i);
        ballots.answers.push_back({seat, 0, 0, picked, std::nullopt});
    }
    const ClassResults all = results(ballots, service, {}, wide, Seed{1});
    const auto& found = std::get<RankingResult>(all.drills[0]);
    CHECK(found.neighbours_swapped == std::vector<std::size_t>{0, 2});
    CHECK(found.tau[0] == 1.0);
    CHECK(within(*found.tau[1], 0.6, 1e-12));  // two of ten pairs the other way: (8 - 2) / 10
    REQUIRE(found.friedman.has_value());
    CHECK(found.friedman->rank_sums == std::vector<double>{3, 3, 6, 9, 9});
    CHECK(found.page->statistic == 1 * 3 + 2 * 3 + 3 * 6 + 4 * 9 + 5 * 9);
}

TEST_CASE("yes and no of a class lie as far apart as the normal quantiles of their shares") {
    // z(0.84) - z(0.5) = 0.9945, z(0.69) - z(0.31) = 0.9917: table of the standard normal distribution, from
    // memory; with two grades the ordinal probit is that difference.
    const SinglesResult half = graded_by(100, 50, 84);
    REQUIRE(half.distances.size() == 1);
    REQUIRE(half.distances[0].d_prime.has_value());
    CHECK(within(*half.distances[0].d_prime, 0.99446, 1e-4));
    CHECK(within(*graded_by(100, 31, 69).distances[0].d_prime, 2.0 * 0.49585, 1e-4));
    CHECK(!graded_by(20, 0, 20).distances[0].d_prime.has_value());  // apart wholly
    CHECK(!graded_by(20, 0, 0).distances[0].d_prime.has_value());   // nobody tasted anything
}

TEST_CASE("an invented class of 24 is found as it was made") {
    ClassPlan plan = named_class(24);
    const Service service = design(plan, Seed{11});
    const InventedPeople people{std::log10(2.5), 0.2, 0.1, 0.75};
    double worst = 0.0;
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        const Ballots ballots = invented_answers(service, people, Seed{seed});
        const Ballots again =
            read_ballots(content::read_csv(ballots_csv(ballots, service), "ballots.csv"), service);
        CHECK(again.answers == ballots.answers);
        CHECK(again.gaps.empty());
        const ClassResults all = results(again, service, {}, wide, Seed{1});
        CHECK(all.seats.size() == 24);
        const auto& threshold = std::get<ThresholdResult>(all.drills[0]);
        worst = std::max(worst, std::abs(threshold.pooled.mean.log10 - people.threshold_log10) /
                                    threshold.pooled.mean.sd_log10);
        const auto& named = std::get<SinglesResult>(all.drills[1]);
        REQUIRE(named.named.has_value());
        CHECK(named.named->answers == 24 * 8);
        const double share =
            static_cast<double>(named.named->right) / static_cast<double>(named.named->answers);
        CHECK(within(share, 0.75 + 0.25 / 4.0, 0.12));  // four standard errors
        REQUIRE(named.bits.has_value());
        CHECK(named.most_bits == 2.0);
        CHECK(named.bits->value < 1.6);
        CHECK(named.bits->value > 0.5);
        CHECK(std::get<RankingResult>(all.drills[2]).page->p < 1e-6);
    }
    CHECK(worst < 3.5);
}

TEST_CASE("a class whose ballots are empty has empty results, and the wall knows nobody") {
    const Service service = design(named_class(4), Seed{3});
    const ClassResults all = results({{}, {0, 1, 2, 3}, {}}, service, {}, wide, Seed{1});
    CHECK(all.seats.empty());
    CHECK(std::get<ThresholdResult>(all.drills[0]).seats.empty());
    CHECK(!std::get<SinglesResult>(all.drills[1]).named.has_value());
    CHECK(!std::get<RankingResult>(all.drills[2]).friedman.has_value());
    const std::vector<std::string> names = wall_names(202, Seed{4});
    CHECK(std::set<std::string>(names.begin(), names.end()).size() == 202);
    CHECK(names == wall_names(202, Seed{4}));
    CHECK(names != wall_names(202, Seed{5}));
    for (const std::string& name : names) CHECK(name.find_first_of("AEIOUQY") == std::string::npos);
}
