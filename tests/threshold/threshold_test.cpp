#include "engine/threshold/threshold.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/curve_band.hpp"
#include "tests/support/within.hpp"
#include "tests/threshold/people.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <vector>

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

std::vector<Counts> some_counts() {
    return {{-0.7, 4, 1, 0.02}, {-0.2, 6, 3, 0.03}, {0.25, 8, 6, 0.02}, {0.7, 6, 6, 0.04}};
}

bool warns(const Threshold& found, Warning::Kind kind) {
    for (const Warning& warning : found.warnings)
        if (warning.kind == kind) return true;
    return false;
}

double mean_of(std::vector<Counts> counts, const std::vector<double>& moved) {
    for (std::size_t i = 0; i < counts.size(); ++i) counts[i].x_log10 += moved[i];
    Posterior posterior{Prior{}, three_afc, Grid{201, 0.05, 12}};
    for (const Counts& at : counts) posterior.update(at);
    return posterior.mean();
}

}  // namespace

TEST_CASE("the threshold of exact levels is the mean and the quantiles of the posterior") {
    std::vector<Counts> counts = some_counts();
    for (Counts& at : counts) at.u_own_log10 = 0.0;
    const Threshold found = threshold::threshold(counts, Prior{}, three_afc);
    Posterior posterior{Prior{}, three_afc, Fineness::fine};
    for (const Counts& at : counts) posterior.update(at);
    CHECK(found.mixing_sd_log10 == 0.0);
    CHECK(within(found.log10, posterior.mean(), 1e-12));
    CHECK(within(found.sd_log10, posterior.sd(), 1e-12));
    CHECK(within(found.lower_log10, posterior.quantile(0.025), 1e-12));
    CHECK(within(found.upper_log10, posterior.quantile(0.975), 1e-12));
    CHECK(within(found.value(), std::pow(10.0, found.log10), 1e-12));
    CHECK(found.lower() < found.value());
    CHECK(found.value() < found.upper());
}

TEST_CASE("a vanishing mixing error gives the interval of exact levels") {
    std::vector<Counts> counts = some_counts();
    for (Counts& at : counts) at.u_own_log10 = 0.0;
    const Threshold exact = threshold::threshold(counts, Prior{}, three_afc);
    FitSettings settings;
    settings.u_shared_log10 = 1e-6;
    const Threshold nearly = threshold::threshold(counts, Prior{}, three_afc, settings);
    CHECK(within(nearly.lower_log10, exact.lower_log10, 1e-5));
    CHECK(within(nearly.upper_log10, exact.upper_log10, 1e-5));
}

TEST_CASE("sensitivities are what moving one level at a time does to the mean") {
    const std::vector<Counts> counts = some_counts();
    Posterior posterior{Prior{}, three_afc, Grid{201, 0.05, 12}};
    for (const Counts& at : counts) posterior.update(at);
    const std::vector<double> found = sensitivities(posterior, counts);
    constexpr double step = 1e-4;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        std::vector<double> moved(counts.size(), 0.0);
        moved[i] = step;
        const double up = mean_of(counts, moved);
        moved[i] = -step;
        CHECK(within(found[i], (up - mean_of(counts, moved)) / (2.0 * step), 1e-6));
    }
    // With nothing but the answers to go by, theta would follow a shift of all levels in full. The prior
    // holds it back.
    const double all = std::accumulate(found.begin(), found.end(), 0.0);
    CHECK(all > 0.7);
    CHECK(all < 1.0);
}

TEST_CASE("mixing uncertainty is the spread that a thousand mixes of the same answers would show") {
    const std::vector<Counts> counts = some_counts();
    FitSettings settings;
    settings.u_shared_log10 = 0.0;
    const Threshold found = threshold::threshold(counts, Prior{}, three_afc, settings);
    Random random{Seed{20260101}};
    constexpr int mixes = 1000;
    double sum = 0.0;
    double square = 0.0;
    for (int i = 0; i < mixes; ++i) {
        std::vector<double> moved;
        for (const Counts& at : counts) moved.push_back(at.u_own_log10 * random.normal());
        const double off = mean_of(counts, moved) - found.log10;
        sum += off;
        square += off * off;
    }
    const double spread = std::sqrt(square / mixes - sum / mixes * sum / mixes);
    MESSAGE("mixing SD by sensitivity ", found.mixing_sd_log10, ", by ", mixes, " mixes ", spread);
    // The standard error of a spread from 1000 draws is 2.2 %, and the sensitivity is linear: 8 %.
    CHECK(within(found.mixing_sd_log10, spread, 0.0, 0.08));
}

TEST_CASE("asking again at one rung does not average its mixing error away, spreading over rungs does") {
    const Prior prior;
    const auto own_part = [&](const std::vector<Counts>& counts) {
        return threshold::threshold(counts, prior, three_afc).mixing_sd_log10;
    };
    const double few = own_part({{0.0, 30, 20, 0.05}});
    const double many = own_part({{0.0, 300, 200, 0.05}});
    CHECK(many > few);
    CHECK(within(many, 0.05, 0.005));
    const double two_rungs = own_part({{0.0, 150, 100, 0.05}, {0.01, 150, 100, 0.05}});
    CHECK(within(two_rungs, many / std::numbers::sqrt2, 0.003));
}

TEST_CASE("the common error enters in full and in squares") {
    std::vector<Counts> counts = some_counts();
    const double own = threshold::threshold(counts, Prior{}, three_afc).mixing_sd_log10;
    FitSettings settings;
    settings.u_shared_log10 = 0.04;
    const Threshold found = threshold::threshold(counts, Prior{}, three_afc, settings);
    CHECK(within(found.mixing_sd_log10, std::hypot(own, 0.04), 1e-12));
    const double cells = std::accumulate(found.theta_density.begin(), found.theta_density.end(), 0.0);
    CHECK(within(cells, 1.0, 1e-9));
    double mean = 0.0;
    double square = 0.0;
    for (std::size_t i = 0; i < found.theta_density.size(); ++i) {
        mean += found.theta_density[i] * found.theta_grid_log10[i];
        square += found.theta_density[i] * found.theta_grid_log10[i] * found.theta_grid_log10[i];
    }
    CHECK(within(mean, found.log10, 1e-4));
    CHECK(within(std::sqrt(square - mean * mean), found.sd_log10, 1e-3));
}

TEST_CASE("a mixed ladder gives the same threshold as its counts") {
    const solution::MixedLadder ladder = exact_ladder(6, 3.0, 0.02, 0.01);
    Random random{Seed{7}};
    const Prior prior;
    const std::vector<Answered> answers = sitting(ladder, prior, Curve{0.2, 0.7, 0.02}, 12, random);
    const Threshold from_ladder = threshold::threshold(ladder, answers, prior, three_afc);
    FitSettings settings;
    settings.u_shared_log10 = 0.01 / std::numbers::ln10;
    const std::vector<Counts> counts = counts_of(ladder, answers);
    const Threshold from_counts = threshold::threshold(counts, prior, three_afc, settings);
    std::size_t served = 0;
    for (const Counts& at : counts) {
        served += at.presentations;
        CHECK(within(at.u_own_log10, 0.02 / std::numbers::ln10, 1e-15));
    }
    CHECK(served == answers.size());
    CHECK(within(from_ladder.log10, from_counts.log10, 1e-12));
    CHECK(within(from_ladder.lower_log10, from_counts.lower_log10, 1e-9));
    CHECK(within(from_ladder.sd_log10, from_counts.sd_log10, 1e-12));
}

TEST_CASE("the curve band holds the mean between its limits, rises, and spans what the cells say") {
    Posterior posterior{Prior{}, three_afc, band_grid};
    for (const Counts& at : some_counts()) posterior.update(at);
    std::vector<double> xs;
    for (int i = -20; i <= 20; ++i) xs.push_back(0.1 * i);
    const std::vector<CurvePoint> band = curve_band(posterior, xs);
    REQUIRE(band.size() == xs.size());
    for (std::size_t i = 0; i < band.size(); ++i) {
        CHECK(band[i].lower <= band[i].p);
        CHECK(band[i].p <= band[i].upper);
        CHECK(band[i].lower >= 1.0 / 3.0 - 1e-3);
        CHECK(band[i].upper <= 1.0);
        if (i > 0) CHECK(band[i].p > band[i - 1].p);
        double slow_mean = 0.0;
        double below_lower = 0.0;
        double above_upper = 0.0;
        std::size_t cell = 0;
        for (const double theta : posterior.thetas())
            for (const double width : posterior.widths())
                for (const double lapse : posterior.lapses()) {
                    const double p = right_probability({theta, width, lapse}, three_afc, xs[i]);
                    const double weight = posterior.cells()[cell++];
                    slow_mean += weight * p;
                    if (p < band[i].lower - 5e-4) below_lower += weight;
                    if (p > band[i].upper + 5e-4) above_upper += weight;
                }
        CHECK(within(band[i].p, slow_mean, 1e-12));
        CHECK(below_lower <= 0.025 + 1e-9);
        CHECK(above_upper <= 0.025 + 1e-9);
    }
}

TEST_CASE("counts that cannot be used are refused") {
    CHECK_THROWS_AS(threshold::threshold(std::vector<Counts>{{0.0, 3, 4, 0.0}}, Prior{}, three_afc), Refused);
    CHECK_THROWS_AS(threshold::threshold(std::vector<Counts>{{0.0, 3, 1, -0.1}}, Prior{}, three_afc),
                    Refused);
    CHECK_THROWS_AS(threshold::threshold(std::vector<Counts>{{std::nan(""), 3, 1, 0.0}}, Prior{}, three_afc),
                    Refused);
}

TEST_CASE("no answers, or few, are said") {
    const Threshold none = threshold::threshold(std::vector<Counts>{}, Prior{}, three_afc);
    CHECK(warns(none, Warning::Kind::too_few));
    CHECK(none.warnings.size() == 1);
    CHECK(within(none.log10, 0.0, 1e-9));
    CHECK(warns(threshold::threshold(std::vector<Counts>{{0.0, 7, 5, 0.0}}, Prior{}, three_afc),
                Warning::Kind::too_few));
    CHECK(!warns(threshold::threshold(std::vector<Counts>{{0.0, 8, 5, 0.0}}, Prior{}, three_afc),
                 Warning::Kind::too_few));
}

TEST_CASE("guessing throughout and all correct are said, an ordinary sitting is not warned of") {
    const Threshold guessing =
        threshold::threshold(std::vector<Counts>{{0.5, 6, 2, 0.0}, {1.0, 6, 2, 0.0}}, Prior{}, three_afc);
    CHECK(warns(guessing, Warning::Kind::guessing));
    CHECK(guessing.log10 > 0.5);
    const Threshold all =
        threshold::threshold(std::vector<Counts>{{-1.0, 8, 8, 0.0}, {0.0, 4, 4, 0.0}}, Prior{}, three_afc);
    CHECK(warns(all, Warning::Kind::all_correct));
    CHECK(!warns(all, Warning::Kind::guessing));
    CHECK(all.log10 < -0.5);
    const Threshold ordinary = threshold::threshold(some_counts(), Prior{}, three_afc);
    CHECK(ordinary.warnings.empty());
}

TEST_CASE("answers against the prior, at the edge of the range, and many lapses are said") {
    Prior own_history;
    own_history.kind = Prior::Kind::normal;
    own_history.mean_log10 = -1.0;
    own_history.sd_log10 = 0.15;
    CHECK(warns(threshold::threshold(some_counts(), own_history, three_afc), Warning::Kind::against_prior));
    own_history.mean_log10 = 0.1;
    CHECK(!warns(threshold::threshold(some_counts(), own_history, three_afc), Warning::Kind::against_prior));
    Prior flat;
    flat.kind = Prior::Kind::flat;
    flat.lower_log10 = 0.5;
    flat.upper_log10 = 2.0;
    CHECK(warns(threshold::threshold(some_counts(), flat, three_afc), Warning::Kind::grid_edge));
    flat.lower_log10 = -2.0;
    CHECK(!warns(threshold::threshold(some_counts(), flat, three_afc), Warning::Kind::grid_edge));
    const std::vector<Counts> slips{{0.0, 10, 7, 0.0}, {1.5, 10, 7, 0.0}};
    CHECK(warns(threshold::threshold(slips, Prior{}, three_afc), Warning::Kind::lapses));
}

TEST_CASE("a habit of place, a rise during the sitting and a taste that stays are said") {
    const auto kinds = [](const std::vector<Asked>& asked) {
        Posterior posterior{Prior{}, three_afc, Fineness::coarse};
        for (const Asked& one : asked) posterior.update(Log10Level{one.x_log10}, one.correct());
        return warnings_in_order(posterior, asked);
    };
    const auto has = [](const std::vector<Warning>& warnings, Warning::Kind kind) {
        return std::any_of(warnings.begin(), warnings.end(),
                           [&](const Warning& one) { return one.kind == kind; });
    };
    // Right where the level is clear, and otherwise always the left cup.
    std::vector<Asked> left;
    for (std::size_t i = 0; i < 12; ++i) left.push_back({-0.3, i % 3, 0});
    for (std::size_t i = 0; i < 6; ++i) left.push_back({0.6, i % 3, i % 3});
    const std::vector<Warning> habit = kinds(left);
    REQUIRE(has(habit, Warning::Kind::position_habit));
    CHECK(habit.front().text.find("left cup was picked 14 of 18") != std::string::npos);
    std::vector<Asked> even;
    for (std::size_t i = 0; i < 18; ++i)
        even.push_back({0.0, i % 3, i % 2 == 0 ? i % 3 : (i + 1 + i % 2) % 3});
    CHECK(kinds(even).empty());
    // All right at first, guesses later, at one and the same level.
    std::vector<Asked> tired;
    for (std::size_t i = 0; i < 24; ++i)
        tired.push_back({0.0, i % 3, i < 12 || i % 3 == 0 ? i % 3 : (i + i % 2 + 1) % 3});
    CHECK(has(kinds(tired), Warning::Kind::fatigue));
    std::reverse(tired.begin(), tired.end());
    CHECK(!has(kinds(tired), Warning::Kind::fatigue));
    // Every clear cup is followed by a miss, every faint one by a right answer.
    std::vector<Asked> stays;
    for (std::size_t i = 0; i < 12; ++i) {
        stays.push_back({0.8, i % 3, i % 3});
        stays.push_back({0.1, i % 3, (i + 1 + i % 2) % 3});
        stays.push_back({0.1, i % 3, i % 3});
    }
    CHECK(has(kinds(stays), Warning::Kind::carry_over));
    CHECK(kinds({}).empty());
    CHECK(kinds({{0.0, 1, 2}, {0.0, 1, 2}}).empty());  // too few to tell
}

TEST_CASE("a curve that rises slowly is said") {
    const std::vector<Counts> slow{{-1.2, 40, 20, 0.0}, {0.0, 40, 27, 0.0}, {1.2, 40, 34, 0.0}};
    CHECK(warns(threshold::threshold(slow, Prior{}, three_afc), Warning::Kind::shallow));
    const std::vector<Counts> usual{{-0.6, 40, 15, 0.0}, {0.0, 40, 27, 0.0}, {0.6, 40, 38, 0.0}};
    CHECK(!warns(threshold::threshold(usual, Prior{}, three_afc), Warning::Kind::shallow));
    Prior known;
    known.width_ln_sd = 0.0;
    known.lapses = {{0.03, 1.0}};
    const Threshold found = threshold::threshold(slow, known, three_afc);
    CHECK(!warns(found, Warning::Kind::shallow));  // nothing was left to learn
    CHECK(!warns(found, Warning::Kind::lapses));
}

TEST_CASE("people without trouble seldom see a warning of trouble") {
    const Prior prior;
    const solution::MixedLadder ladder = exact_ladder(8, 2.0);
    int warned = 0;
    constexpr int people = 100;
    for (int person = 0; person < people; ++person) {
        Random random{Seed{static_cast<std::uint64_t>(person) + 50}};
        const Curve truth{0.3 * random.normal(), 0.775, 0.02};
        std::vector<Counts> counts = counts_of(ladder, sitting(ladder, prior, truth, 16, random));
        Posterior posterior{prior, three_afc, Fineness::coarse};
        for (const Counts& at : counts) posterior.update(at);
        if (!warnings_for(posterior, counts, Scale::g_per_L).empty()) ++warned;
    }
    MESSAGE(warned, " of ", people, " ordinary sittings were warned of");
    CHECK(warned <= 15);
}
