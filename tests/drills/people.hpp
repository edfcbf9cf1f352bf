#pragma once

#include "drills/assessor.hpp"
#include "drills/detection.hpp"

#include <cmath>
#include <string>

/// Plans and people that the tests of this folder share. The ladder is mixed by hand; nothing comes from
/// content/.
namespace sipladder::tests {

inline solution::Substance acid() {
    solution::Substance substance;
    substance.id = "tartaric_acid";
    substance.name = "tartaric acid";
    substance.asked_for = "Which cup holds the acid?";
    substance.component = solution::Component::sour;
    substance.scale = Scale::g_per_L;
    substance.strongest_cup = 5.0;
    substance.strongest_stock = 150.0;
    substance.rest_s = 60;
    substance.prior = {0.1, 0.35, "made up for this test", "judgement"};
    return substance;
}

inline solution::MixedLadder ladder_of(std::size_t rungs, double ratio, int portions) {
    const std::string bottles = "KRBWTCZNGQ";
    solution::MixedLadder ladder{"tartaric_acid", "still_water", Scale::g_per_L, {}};
    for (std::size_t i = 0; i < rungs; ++i) {
        const double level =
            0.1 * std::pow(ratio, static_cast<double>(i) - 0.5 * static_cast<double>(rungs - 1));
        ladder.levels.push_back({level, 1.01 * level, 0.02, 0.015, std::string(1, bottles.at(i)), portions});
    }
    return ladder;
}

inline drills::detection::Plan plan_of(std::size_t rungs, double ratio, int portions,
                                       std::size_t presentations, drills::Blinding blinding) {
    drills::detection::Plan plan;
    plan.substance = acid();
    plan.base_name = "still water";
    plan.ladder = ladder_of(rungs, ratio, portions);
    plan.prior.name = "made up for this test";
    plan.prior.mean_log10 = -1.0;
    plan.prior.sd_log10 = 0.35;
    plan.blinding = blinding;
    plan.most_presentations = presentations;
    plan.rest_s = 60;
    plan.caps = {
        {.what = "acid_g", .per_sitting = 2.0, .per_day = 3.0, .source = "judgement", .why = "made up"}};
    return plan;
}
inline drills::detection::Plan usual_plan(drills::Blinding blinding) {
    return plan_of(6, 3.0, 8, 12, blinding);
}

inline Instant minute(std::size_t number) {
    const auto ms = static_cast<std::int64_t>(number) * 60'000;
    return {1'772'391'900'000 + ms, 60, ms};
}

/// Somebody in the middle of the ladder.
inline drills::Assessor usual_assessor() {
    return {{-1.0, 0.775, 0.03}, 0.0, {}};
}

/// Tastes until the drill says that it is over.
inline drills::detection::State tasted(drills::detection::State drill, const drills::Assessor& assessor,
                                       Random random) {
    while (!drills::detection::is_finished(drill))
        drill = drills::taste(std::move(drill), assessor, random, minute(drill.trials.size()));
    return drill;
}

}  // namespace sipladder::tests
