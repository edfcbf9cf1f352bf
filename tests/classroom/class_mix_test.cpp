#include "drills/classroom/class_mix.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "tests/support/shipped_content.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <map>
#include <set>
#include <string>

using namespace sipladder;
using namespace sipladder::drills::classroom;
using namespace sipladder::tests;

namespace {

ClassDrill empty_drill(Task task, double cup_mL) {
    ClassDrill drill;
    drill.name = "drill";
    drill.question = "?";
    drill.task = task;
    drill.cup = Millilitres{cup_mL};
    drill.base = "purified_water";
    drill.known_cup = task == Task::which_of_three;
    if (task == Task::graded) drill.choices = {"nothing", "perhaps", "yes", "clearly"};
    return drill;
}

solution::Ladder ladder(const std::string& substance, std::vector<double> levels) {
    return {substance + "_class", substance, Scale::g_per_L, std::move(levels)};
}

/// One to four drills on sugar, acid and salt, some of them on the same ladder.
std::vector<WantedDrill> random_drills(Random& random) {
    const std::vector<solution::Ladder> ladders{ladder("sucrose", {1.0, 2.0, 4.0, 8.0}),
                                                ladder("tartaric_acid", {0.2, 0.4, 0.8}),
                                                ladder("sodium_chloride", {0.5, 1.5})};
    std::vector<WantedDrill> wanted;
    for (std::size_t drills = 1 + random.below(4); drills > 0; --drills) {
        const auto task = static_cast<Task>(random.below(4));
        WantedDrill one{empty_drill(task, 8.0 + static_cast<double>(random.below(5))),
                        {ladders[random.below(ladders.size())]},
                        task == Task::ranking ? 1 : 1 + random.below(2)};
        if (task == Task::naming) one.ladders = ladders;
        wanted.push_back(std::move(one));
    }
    return wanted;
}

}  // namespace

TEST_CASE("over random classes recipe and cups agree to the last one, and every bottle holds what it pours") {
    const content::Content& content = *tests::shipped_content();
    const solution::Equipment& kitchen = content.kitchen("kitchen_fine");
    for (std::uint64_t seed = 1; seed <= 25; ++seed) {
        CAPTURE(seed);
        Random random(Seed{seed});
        const std::size_t people = 1 + random.below(40);
        const ClassMix mix = mix_class(random_drills(random), people + 2, content, kitchen, Seed{seed});
        const Service service = design({people, 2, 0, mix.drills}, Seed{seed});
        std::map<std::string, std::size_t> cups;
        std::map<std::string, double> poured_mL;
        for (const BottleNeed& need : bottle_needs(service)) {
            cups[need.bottle] += need.cups;
            poured_mL[need.bottle] += need.in_cups.value;
        }
        std::set<std::string> letters;
        double base_mL = 0.0;
        for (const solution::MixPlan& made : mix.mixes) {
            base_mL += made.base_volume.value;
            for (std::size_t rung = 0; rung < made.levels.size(); ++rung) {
                const solution::PlannedLevel& level = made.levels[rung];
                CHECK(letters.insert(level.bottle).second);
                CHECK(cups[level.bottle] == (people + 2) * made.request.demand.of_rung[rung]);
                CHECK(level.volume.value >= poured_mL[level.bottle]);
            }
        }
        CHECK(base_mL >= poured_mL["base"]);
        CHECK(letters.size() + (cups.contains("base") ? 1 : 0) == cups.size());
    }
}

TEST_CASE("names to tick are those of the substances, and levels are those as planned") {
    const content::Content& content = *tests::shipped_content();
    const ClassMix mix = mix_class({{empty_drill(Task::naming, 10.0),
                                     {ladder("sucrose", {4.0, 8.0}), ladder("tartaric_acid", {0.4, 0.8})},
                                     2}},
                                   6, content, content.kitchen("kitchen_fine"), Seed{1});
    const ClassDrill& drill = mix.drills.front();
    CHECK(drill.choices == std::vector<std::string>{"sucrose", "tartaric acid", "the base alone"});
    REQUIRE(drill.samples.size() == 5);
    CHECK(drill.samples[0].right == 2U);
    CHECK(drill.samples[0].substance.empty());
    for (std::size_t i = 1; i < 5; ++i) {
        const auto& level = mix.mixes[(i - 1) / 2].levels[(i - 1) % 2];
        CHECK(drill.samples[i].right == (i - 1) / 2);
        CHECK(drill.samples[i].bottle == level.bottle);
        CHECK(drill.samples[i].level == level.mixed);
        CHECK(within(level.mixed, level.target, 0.0, 0.05));
    }
}

TEST_CASE("the recipe is the same whoever sits a drill out, the first seat too") {
    const content::Content& content = *tests::shipped_content();
    WantedDrill sugar{empty_drill(Task::ranking, 10.0), {ladder("sucrose", {1.0, 2.0, 4.0})}, 1};
    const ClassMix all = mix_class({sugar}, 6, content, content.kitchen("kitchen_fine"), Seed{1});
    sugar.drill.sits_out = {0};  // 2026-12: "cup volume: is 0 mL", since cups are counted on the first seat
    const ClassMix some = mix_class({sugar}, 6, content, content.kitchen("kitchen_fine"), Seed{1});
    CHECK(some.mixes.front().request.demand == all.mixes.front().request.demand);
    CHECK(some.drills.front().sits_out == std::set<std::size_t>{0});
}

TEST_CASE("a class's intake counts every cup, known ones and blanks included") {
    const content::Content& content = *tests::shipped_content();
    WantedDrill sugar{empty_drill(Task::which_of_three, 10.0), {ladder("sucrose", {1.0, 2.0, 4.0})}, 1};
    ClassMix mix = mix_class({sugar}, 6, content, content.kitchen("kitchen_fine"), Seed{1});
    double by_hand_g = 0.0;
    for (const Sample& sample : mix.drills.front().samples) by_hand_g += sample.level * 0.010;
    by_hand_g += mix.drills.front().samples.back().level * 0.010;  // the known one
    CHECK(within(intake_of_class(mix.drills, content).sugar.value, by_hand_g, 1e-9));
    sugar.ladders.push_back(sugar.ladders.front());
    CHECK_THROWS_AS(mix_class({sugar}, 6, content, content.kitchen("kitchen_fine"), Seed{1}), Refused);
    sugar.ladders.clear();
    CHECK_THROWS_AS(mix_class({sugar}, 6, content, content.kitchen("kitchen_fine"), Seed{1}), Refused);
}
