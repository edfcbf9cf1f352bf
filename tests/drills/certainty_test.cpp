#include "drills/detection.hpp"
#include "tests/drills/people.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;

namespace {

enum class Sure { follows_level, guesses_always };

/// A sitting of a person of this curve, who knows the level of a tray and is sure by it alone.
detection::State sitting(Blinding blinding, const threshold::Curve& truth, Sure sure, Seed seed) {
    auto drill = detection::begin(usual_plan(blinding), seed);
    Random random{derived(seed, 5)};
    const std::vector<double> levels = threshold::levels_log10(drill.plan.ladder);
    while (const auto now = detection::serving(drill)) {
        const double x = levels[now->level];
        const bool correct = random.uniform() < right_probability(truth, threshold::three_afc, x);
        const double place = random.uniform();
        const auto stood = now->place.value_or(static_cast<std::size_t>(3.0 * place));
        const std::size_t picked = correct ? stood : (stood + 1) % 3;
        const double level_seen = x - truth.theta_log10 + 0.3;
        Certainty said = level_seen > 0.0 ? Certainty::sure
                                          : (level_seen > -0.4 ? Certainty::leaning : Certainty::guessed);
        if (sure == Sure::guesses_always) said = Certainty::guessed;
        drill = detection::lock(std::move(drill), {picked, said, minute(drill.trials.size())});
        if (!drill.trials.back().is_done())
            drill = detection::reveal(std::move(drill), stood, minute(drill.trials.size()));
    }
    return drill;
}

threshold::Curve person(const detection::Plan& plan) {
    return {plan.prior.mean_log10 + 0.1, 0.8, 0.02};
}

}  // namespace

TEST_CASE("certainty counts where the taster cannot know the level, never in the shuffled tray") {
    const auto served = usual_plan(Blinding::served);
    const auto tray = usual_plan(Blinding::shuffled_tray);
    CHECK(detection::certainty_counts(served));
    CHECK_FALSE(detection::certainty_counts(tray));
    const auto drill = sitting(Blinding::served, person(served), Sure::follows_level, Seed{3});
    const auto fit = detection::with_certainty(drill);
    REQUIRE(fit);
    CHECK(fit->with_certainty == drill.trials.size());
    CHECK(detection::answered(drill).front().certainty.has_value());
    CHECK_FALSE(detection::with_certainty(detection::begin(served, Seed{3})));
}

TEST_CASE(
    "a person in the shuffled tray whose certainty follows the level gets the threshold of one who says "
    "nothing") {
    const auto plan = usual_plan(Blinding::shuffled_tray);
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        CAPTURE(seed);
        const auto by_level = sitting(plan.blinding, person(plan), Sure::follows_level, Seed{seed});
        const auto silent = sitting(plan.blinding, person(plan), Sure::guesses_always, Seed{seed});
        REQUIRE(by_level.trials.size() == silent.trials.size());
        CHECK(by_level.trials != silent.trials);  // it is recorded
        CHECK_FALSE(detection::with_certainty(by_level));
        for (const threshold::Answered& answer : detection::answered(by_level))
            CHECK_FALSE(answer.certainty.has_value());
        const threshold::Threshold with = detection::result(by_level);
        const threshold::Threshold without = detection::result(silent);
        CHECK(with.log10 == without.log10);
        CHECK(with.sd_log10 == without.sd_log10);
    }
}

TEST_CASE(
    "by rule 3 certainty chooses and is in the result where a helper serves, by older rules it does not") {
    const auto plan = usual_plan(Blinding::served);
    const auto drill = sitting(plan.blinding, person(plan), Sure::follows_level, Seed{4});
    REQUIRE(drill.habits());
    CHECK(drill.habits()->answers() == drill.trials.size());
    const auto fit = detection::with_certainty(drill);
    REQUIRE(fit);
    CHECK(detection::result(drill).log10 == fit->threshold.log10);
    const Finding found = finding(drill);
    CHECK(found.thresholds.front().threshold.sd_log10 == fit->threshold.sd_log10);
    REQUIRE_FALSE(found.sentences.empty());
    CHECK(found.sentences.front() == fit->text);
    // The same answers by what was chosen without their certainty.
    auto plain = plan;
    plain.rule_version = 2;
    CHECK_FALSE(detection::resume(plain, Seed{4}, drill.trials).habits());
    const auto silent = sitting(plan.blinding, person(plan), Sure::guesses_always, Seed{4});
    const auto levels_of = [](const detection::State& state) {
        std::vector<std::size_t> levels;
        for (const detection::Trial& trial : state.trials) levels.push_back(trial.level);
        return levels;
    };
    CHECK(levels_of(drill) != levels_of(silent));
    CHECK_FALSE(sitting(Blinding::shuffled_tray, person(plan), Sure::follows_level, Seed{4}).habits());
}

TEST_CASE("assessors whose certainty follows their percepts are claimed more narrowly than by picks alone") {
    const auto plan = usual_plan(Blinding::served);
    double with = 0.0;
    double without = 0.0;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        Random traits{Seed{seed}};
        const auto drill = tasted(detection::begin(plan, Seed{seed}), drawn_assessor(plan, traits),
                                  Random{derived(Seed{seed}, 9)});
        with += detection::result(drill).sd_log10;
        auto answers = detection::answered(drill);
        for (threshold::Answered& answer : answers) answer.certainty.reset();
        without += threshold::threshold(plan.ladder, answers, plan.prior, task_of(plan)).sd_log10;
    }
    CHECK(with < 0.97 * without);
}
