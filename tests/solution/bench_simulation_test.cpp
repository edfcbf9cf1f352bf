// A second way: people at the bench follow the printed sentences (person_at_bench.hpp). How the levels in
// their bottles scatter, and together, is compared with the covariance that the plan claims.

#include "engine/content/content.hpp"
#include "engine/problem.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/solution/planner.hpp"
#include "tests/solution/person_at_bench.hpp"
#include "tools/benchmark/plans.hpp"
#include "tools/benchmark/random_request.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

/// What many people found in the bottles of one plan, in the order of its levels.
struct Scatter {
    std::vector<double> mean;
    std::vector<double> covariance;  ///< of the levels relative to their mean, row by row
};

Scatter scatter(const solution::MixPlan& plan, int people, Seed seed) {
    const PersonAtBench person(plan);
    const std::size_t count = plan.levels.size();
    Scatter found{std::vector<double>(count, 0.0), std::vector<double>(count * count, 0.0)};
    Random random(seed);
    for (int i = 0; i < people; ++i) {
        const std::map<std::string, double> levels = person.mix(random);
        std::vector<double> off;
        for (const solution::PlannedLevel& level : plan.levels)
            off.push_back(levels.at(level.bottle) / level.mixed - 1.0);
        for (std::size_t row = 0; row < count; ++row) {
            found.mean[row] += off[row] / people;
            for (std::size_t column = 0; column < count; ++column)
                found.covariance[row * count + column] += off[row] * off[column] / people;
        }
    }
    for (std::size_t row = 0; row < count; ++row)
        for (std::size_t column = 0; column < count; ++column)
            found.covariance[row * count + column] -= found.mean[row] * found.mean[column];
    return found;
}

/// Largest difference between claimed and found, over the levels.
struct Differences {
    double u_rel{};        ///< of a standard uncertainty, relative
    double correlation{};  ///< absolute
    double mean{};         ///< of the mean level from the planned one, in standard uncertainties
};

Differences differences(const solution::MixPlan& plan, int people, Seed seed) {
    const Scatter found = scatter(plan, people, seed);
    const solution::LevelCovariance claimed = solution::planned_covariance(plan);
    const std::size_t count = plan.levels.size();
    Differences worst;
    for (std::size_t row = 0; row < count; ++row) {
        const double sd = std::sqrt(found.covariance[row * count + row]);
        worst.u_rel = std::max(worst.u_rel, std::abs(sd / claimed.u_rel(row) - 1.0));
        worst.mean = std::max(worst.mean, std::abs(found.mean[row]) / claimed.u_rel(row));
        for (std::size_t column = 0; column < row; ++column) {
            const double other = std::sqrt(found.covariance[column * count + column]);
            const double correlation = found.covariance[row * count + column] / (sd * other);
            worst.correlation =
                std::max(worst.correlation, std::abs(correlation - claimed.correlation(row, column)));
        }
    }
    return worst;
}

}  // namespace

TEST_CASE("people who follow the printed steps scatter, and their bottles together, as the plan claims") {
    const content::Content content = content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    const bool is_long = std::getenv("SIPLADDER_LONG") != nullptr;
    const std::uint64_t requests = is_long ? 500 : 40;
    const int people = is_long ? 8000 : 4000;
    std::uint64_t refused = 0;
    double worst_u_rel = 0.0;
    for (std::uint64_t seed = 1; seed <= requests; ++seed) {
        CAPTURE(seed);
        const solution::PlanRequest request = benchmark::random_request(content, Seed{seed});
        CAPTURE(request.substance.id);
        CAPTURE(request.equipment.id);
        std::optional<solution::MixPlan> plan;
        try {
            plan = solution::plan(request);
        } catch (const Refused& why) {
            MESSAGE("seed ", seed, " refused: ", std::string(why.what()));
            ++refused;
            continue;
        }
        CHECK(benchmark::impossible_in(*plan) == 0);
        const Differences found = differences(*plan, people, Seed{seed + 1000});
        worst_u_rel = std::max(worst_u_rel, found.u_rel);
        // 4000 people know a standard deviation to 1.1 %, and a correlation to 0.016.
        CHECK(found.u_rel < 0.05);
        CHECK(found.correlation < 0.07);
        CHECK(found.mean < 0.12);
    }
    MESSAGE("claimed and simulated uncertainty differ by at most ", worst_u_rel, ", ", refused, " refused");
    CHECK(refused * 50 <= requests);
}

TEST_CASE("a rung that stands near its cap is mixed to the cap or below, never rounded up across it") {
    // For 0.48 g/L three tablets in a round 1200 g are near enough, but 0.5016 g/L is over the cap of 0.5.
    const content::Content content = content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    const solution::PlanRequest request = benchmark::random_request(content, Seed{452});
    REQUIRE(request.substance.id == "caffeine");
    REQUIRE(request.ladder.targets().back() > 0.95 * request.substance.strongest_cup);
    const solution::MixPlan plan = solution::plan(request);
    CHECK(benchmark::impossible_in(plan) == 0);
    CHECK(solution::as_mixed(plan, {}).levels.size() == plan.levels.size());
}

TEST_CASE(
    "whatever number is spoilt in a request, it is planned as it should be or refused with a field's name") {
    const content::Content content = content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    constexpr double spoilt[] = {0.0,
                                 -1.0,
                                 1e-300,
                                 1e9,
                                 1e300,
                                 std::numeric_limits<double>::quiet_NaN(),
                                 std::numeric_limits<double>::infinity(),
                                 120.0,
                                 1000.0};
    int refusals = 0;
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        CAPTURE(seed);
        solution::PlanRequest request = benchmark::random_request(content, Seed{seed});
        request.to_buy = {};
        Random random(Seed{seed + 5000});
        const double value = spoilt[random.below(std::size(spoilt))];
        solution::Ingredient& pack = request.ingredient;
        double* const fields[] = {&request.demand.cup.value,
                                  &request.demand.spare,
                                  &request.demand.rinse.value,
                                  &request.demand.portions_share,
                                  &request.wanted_u_rel,
                                  &pack.content.value,
                                  &pack.content_half_width.value,
                                  &pack.strength.value,
                                  &pack.held.value,
                                  &pack.per_piece.value,
                                  &request.equipment.balances[0].resolution.value,
                                  &request.equipment.balances[0].smallest_load.value,
                                  &request.equipment.balances[0].capacity.value,
                                  &request.equipment.vessels[0].nominal.value,
                                  &request.equipment.vessels[0].graduation.value,
                                  &request.equipment.vessels[0].tolerance_rel,
                                  &request.substance.strongest_cup,
                                  &request.substance.strongest_stock};
        *fields[random.below(std::size(fields))] = value;
        if (random.below(8) == 0) request.demand.people = random.below(2) == 0 ? 0 : 1000000000;
        if (random.below(8) == 0) request.demand.presentations = random.below(2) == 0 ? 0 : 1000000000;
        try {
            const solution::MixPlan plan = solution::plan(request);
            CHECK(benchmark::impossible_in(plan) == 0);
            for (const solution::PlannedLevel& level : plan.levels) CHECK(std::isfinite(level.u_rel()));
        } catch (const Refused& refused) {
            ++refusals;
            for (const Problem& problem : refused.problems()) {
                CHECK_FALSE(problem.where.empty());
                CHECK_FALSE(problem.right.empty());
            }
        }
    }
    CHECK(refusals > 60);
    CHECK(refusals < 290);
}
