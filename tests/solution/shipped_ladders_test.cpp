#include "engine/content/content.hpp"
#include "engine/solution/planner.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

using namespace sipladder;

TEST_CASE(
    "every shipped ladder can be mixed to 5 % in every shipped kitchen, but from a powder of unstated "
    "content") {
    const content::Content content = content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    for (const solution::Equipment& kitchen : content.equipment)
        for (const solution::Ladder& ladder : content.ladders)
            for (const solution::Ingredient& ingredient : content.ingredients_of(ladder.substance())) {
                CAPTURE(kitchen.id);
                CAPTURE(ladder.id());
                CAPTURE(ingredient.id);
                const solution::MixPlan plan =
                    solution::plan({.ladder = ladder,
                                    .substance = content.substance(ladder.substance()),
                                    .ingredient = ingredient,
                                    .base = content.bases.front(),
                                    .equipment = kitchen,
                                    .demand = {}});
                const bool content_unstated = ingredient.id == "grape_tannin_unstated";
                CHECK(plan.met != content_unstated);
                CHECK(plan.advice.empty() != content_unstated);
                for (const solution::PlannedLevel& level : plan.levels) {
                    if (!content_unstated) CHECK(level.u_rel() <= 0.05);
                    CHECK(std::abs(level.mixed / level.target - 1.0) < 0.1);
                }
            }
}

TEST_CASE(
    "every shipped ladder can be made in the acid base, for the six presentations that its caps allow") {
    const content::Content content = content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    for (const solution::Ladder& ladder : content.ladders) {
        CAPTURE(ladder.id());
        const solution::MixPlan plan =
            solution::plan({.ladder = ladder,
                            .substance = content.substance(ladder.substance()),
                            .ingredient = content.ingredients_of(ladder.substance()).front(),
                            .base = content.base("acid_sugar_base"),
                            .equipment = content.kitchen("kitchen_fine"),
                            .demand = {.presentations = 6}});
        CHECK(plan.met);
        CHECK(plan.levels.size() == ladder.size());
    }
}
