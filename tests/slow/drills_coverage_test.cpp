// Every drill, sitting by sitting, by people drawn from what it assumes and bottles drawn from what they
// claim: no bias, and intervals that hold the truth 95 times in 100. SIPLADDER_LONG=1 asks 1000 people of
// each drill in place of 15.

#include "drills/tray_check.hpp"
#include "tests/drills/every_drill.hpp"
#include "tests/support/within.hpp"
#include "tools/simulate/drill_run.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

bool is_long() {
    return std::getenv("SIPLADDER_LONG") != nullptr;
}
std::size_t people_asked() {
    return is_long() ? 1000 : 15;
}

constexpr double far = 3.5;  // standard errors: one false alarm in two thousand figures

void check_held(const simulate::Figure& held) {
    const double se = std::sqrt(0.95 * 0.05 / static_cast<double>(people_asked()));
    CHECK(held.value > 0.95 - far * se);
}

}  // namespace

TEST_CASE(
    "what drills measure whose cups are drawn beforehand is unbiased, and its intervals hold 95 in 100") {
    for (const NamedPlan& one : every_plan()) {
        if (!drills::is_fixed(one.plan)) continue;
        CAPTURE(one.name);
        simulate::DrillRun run;
        run.plan = one.plan;
        run.assessors = people_asked();
        run.seed = Seed{2026};
        const simulate::DrillFigures found = simulate::run_drill(run);
        CHECK_FALSE(found.measured.empty());
        for (const auto& [name, measured] : found.measured) {
            CAPTURE(name);
            MESSAGE(one.name, ", ", name, ": bias ", measured.bias.value, " (", measured.bias.standard_error,
                    "), coverage ", measured.coverage_95.value, " (", measured.coverage_95.standard_error,
                    ")");
            CHECK(std::abs(measured.bias.value) < far * measured.bias.standard_error);
            check_held(measured.coverage_95);
        }
    }
}

TEST_CASE("in every drill and blinding the results are unbiased and the intervals hold 95 in 100") {
    for (const NamedPlan& one : every_plan()) {
        if (one.plan.kind == drills::Kind::tray_check || drills::is_fixed(one.plan)) continue;
        CAPTURE(one.name);
        simulate::DrillRun run;
        run.plan = one.plan;
        run.assessors = people_asked();
        run.seed = Seed{2026};
        const simulate::DrillFigures found = simulate::run_drill(run);
        MESSAGE(one.name, ": bias ", found.bias_log10.value, " (", found.bias_log10.standard_error,
                "), coverage ", found.coverage_95.value, " (", found.coverage_95.standard_error, "), RMSE ",
                found.rmse_log10.value, " (", found.rmse_log10.standard_error, "), claimed SD ",
                found.claimed_sd_log10.value, ", cups ", found.cups.value);
        CHECK(std::abs(found.bias_log10.value) < far * found.bias_log10.standard_error);
        check_held(found.coverage_95);
        if (!found.ratio_coverage_95) continue;
        MESSAGE(one.name, ", ratio: bias ", found.ratio_bias_log10->value, " (",
                found.ratio_bias_log10->standard_error, "), coverage ", found.ratio_coverage_95->value);
        CHECK(std::abs(found.ratio_bias_log10->value) < far * found.ratio_bias_log10->standard_error);
        check_held(*found.ratio_coverage_95);
    }
}

TEST_CASE("a Weber fraction covers the truth where pedestal, rungs and their stock are all off") {
    const drills::Plan plan = difference_plan(drills::Blinding::served);
    const double pedestal = plan.pedestal->mixed;
    std::vector<double> errors;
    std::size_t held = 0;
    for (std::size_t person = 0; person < people_asked(); ++person) {
        Random random{derived(Seed{77}, person)};
        drills::Assessor assessor = drills::drawn_assessor(plan, random);
        // What the bottles really hold, each weighed from one stock.
        const double stock = 1.0 + plan.pedestal->u_shared_rel * random.normal();
        const double really = stock * pedestal * (1.0 + plan.pedestal->u_own_rel * random.normal());
        assessor.mixing_error_shared_log10 = 0.0;
        for (std::size_t i = 0; i < plan.ladder.levels.size(); ++i) {
            const double added = plan.ladder.levels[i].mixed;
            const double own_rel = plan.ladder.levels[i].u_own_rel * added / (pedestal + added);
            const double total = stock * (pedestal + added) * (1.0 + own_rel * random.normal());
            assessor.mixing_error_own_log10[i] = std::log10(std::max(total - really, 1e-4) / added);
        }
        // The same part of whatever pedestal it is.
        const double weber_log10 = assessor.truth.theta_log10 - std::log10(pedestal);
        assessor.truth.theta_log10 = weber_log10 + std::log10(really);
        const auto drill = tasted(drills::begin(plan, derived(Seed{78}, person)), assessor, random);
        const drills::difference::Result found = drills::difference::result(drill);
        errors.push_back(std::log10(found.weber) - weber_log10);
        if (std::log10(found.weber_lower) <= weber_log10 && weber_log10 <= std::log10(found.weber_upper))
            ++held;
    }
    const simulate::Figure bias = simulate::mean_of(errors);
    const double share = static_cast<double>(held) / static_cast<double>(people_asked());
    MESSAGE("Weber fraction: bias ", bias.value, " (", bias.standard_error, ") log10, coverage ", share,
            " of ", people_asked());
    CHECK(std::abs(bias.value) < far * bias.standard_error);
    check_held({share, 0.0});
}

TEST_CASE("a tight tray is blamed twice in a hundred, and one that shows it half the time mostly is") {
    const drills::Plan plan = tray_check_plan();
    const auto blamed = [&](double sees_through) {
        std::size_t count = 0;
        const std::size_t trays = 10 * people_asked();
        for (std::size_t tray = 0; tray < trays; ++tray) {
            drills::Assessor assessor{{-1.0, 0.775, 0.03}, 0.0, {}};
            assessor.sees_through = sees_through;
            const auto drill =
                tasted(drills::begin(plan, Seed{tray}), assessor, Random{derived(Seed{5}, tray)});
            if (drills::tray_check::result(drill).is_seen_through) ++count;
        }
        return static_cast<double>(count) / static_cast<double>(trays);
    };
    const double tight = blamed(0.0);
    const double half = blamed(0.5);
    MESSAGE("tray check: blamed though tight ", tight, ", though half seen through ", half);
    const double n = 10.0 * static_cast<double>(people_asked());
    CHECK(within(tight, 0.01876, far * std::sqrt(0.01876 * 0.98124 / n)));
    // Right in 2 of 3: binomial upper tail from 8 of 12 on, 0.6315.
    CHECK(within(half, 0.6315, far * std::sqrt(0.6315 * 0.3685 / n)));
}
