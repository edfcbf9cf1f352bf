// What happens at the bench: skipped and spilled steps, missed targets, and the tree of what is made from
// what.
#include "engine/problem.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/solution/dilution_tree.hpp"
#include "engine/solution/planner.hpp"
#include "tests/solution/kitchens.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

std::size_t first_into(const MixPlan& plan, const std::string& container) {
    const auto found = std::find_if(plan.steps.begin(), plan.steps.end(),
                                    [&](const Step& step) { return step.into == container; });
    REQUIRE(found != plan.steps.end());
    return static_cast<std::size_t>(found - plan.steps.begin());
}

std::vector<std::string> bottles_of(const MixedLadder& ladder) {
    std::vector<std::string> bottles;
    for (const MixedLevel& level : ladder.levels) bottles.push_back(level.bottle);
    std::sort(bottles.begin(), bottles.end());
    return bottles;
}

double determinant(std::vector<double> m, std::size_t n) {
    double product = 1.0;
    for (std::size_t i = 0; i < n; ++i) {
        product *= m[i * n + i];
        for (std::size_t row = i + 1; row < n; ++row) {
            const double factor = m[row * n + i] / m[i * n + i];
            for (std::size_t k = i; k < n; ++k) m[row * n + k] -= factor * m[i * n + k];
        }
    }
    return product;
}

PlanRequest for_a_class(std::size_t people) {
    PlanRequest request = sugar_request();
    request.demand.people = people;
    return request;
}

}  // namespace

TEST_CASE("the covariance holds the two parts of every level and is positive definite") {
    for (const PlanRequest& request : {sugar_request(), acid_request(), alcohol_request(), for_a_class(30)}) {
        const MixPlan planned = plan(request);
        const AsMixed mixed = after_mixing(planned, {});
        const LevelCovariance& c = mixed.covariance;
        CHECK(determinant(c.values, c.bottles.size()) > 0.0);
        for (std::size_t i = 0; i < c.bottles.size(); ++i) {
            const MixedLevel& level = mixed.ladder.levels[i];
            CHECK(c.bottles[i] == level.bottle);
            CHECK(within(c.u_rel(i), std::hypot(level.u_own_rel, level.u_shared_rel), 0.0, 1e-9));
            double squares = 0.0;
            for (const BudgetLine& line : mixed.budgets[i]) squares += line.u_rel * line.u_rel;
            CHECK(within(std::sqrt(squares), c.u_rel(i), 0.0, 1e-6));
            for (std::size_t j = 0; j < i; ++j) {
                CHECK(c.at(i, j) == c.at(j, i));
                CHECK(std::abs(c.correlation(i, j)) < 1.0);
                // What two levels have in common is never more than the shared part of either.
                CHECK(std::abs(c.at(i, j)) <=
                      level.u_shared_rel * mixed.ladder.levels[j].u_shared_rel * (1.0 + 1e-9));
            }
        }
    }
}

TEST_CASE("a covariance from readings is that of the same plan made with these readings") {
    const MixPlan planned = plan(sugar_request());
    BenchRecord record;
    for (std::size_t i = 0; i < planned.steps.size(); i += 3)
        record.readings[i] = planned.steps[i].reading * (i % 2 == 0 ? 1.04 : 0.97);
    MixPlan rewritten = planned;
    for (const auto& [step, value] : record.readings) rewritten.steps[step].reading = value;
    const AsMixed read = after_mixing(planned, record);
    const AsMixed made = after_mixing(rewritten, {});
    CHECK(read.ladder == made.ladder);
    CHECK(read.covariance.values == made.covariance.values);
    CHECK(read.ladder.levels != after_mixing(planned, {}).ladder.levels);
}

TEST_CASE("a bottle whose load was forgotten is base and no level, and one left undiluted is its source") {
    const MixPlan planned = plan(sugar_request());
    const PlannedLevel& drawn =
        *std::find_if(planned.levels.begin(), planned.levels.end(),
                      [](const PlannedLevel& one) { return one.made_from == "stock A"; });
    const std::size_t load = first_into(planned, "bottle " + drawn.bottle);
    BenchRecord forgotten;
    forgotten.skipped = {load};
    const AsMixed without = after_mixing(planned, forgotten);
    CHECK(without.ladder.levels.size() == planned.levels.size() - 1);
    REQUIRE(without.missed.size() == 1);
    CHECK(without.missed[0].bottle == drawn.bottle);
    CHECK(without.missed[0].left_out);
    CHECK(without.missed[0].mixed == 0.0);
    BenchRecord undiluted;
    undiluted.skipped = {load + 1};
    const AsMixed strong = after_mixing(planned, undiluted);
    const auto as_stock = std::find_if(strong.ladder.levels.begin(), strong.ladder.levels.end(),
                                       [&](const MixedLevel& one) { return one.bottle == drawn.bottle; });
    REQUIRE(as_stock != strong.ladder.levels.end());
    CHECK(within(as_stock->mixed, planned.stocks[0].concentration, 0.0, 1e-9));
    CHECK(as_stock->portions == 0);
    CHECK(std::any_of(strong.missed.begin(), strong.missed.end(),
                      [&](const Missed& one) { return one.bottle == drawn.bottle && !one.left_out; }));
}

TEST_CASE("powder that was never dissolved and a stock without sugar leave their bottles out") {
    const MixPlan planned = plan(request_of(sucrose(), powder(sucrose()), 6.0, kitchen_fine()));
    BenchRecord record;
    record.skipped = {first_into(planned, "stock A")};
    std::vector<std::string> others;
    for (const PlannedLevel& level : planned.levels)
        if (level.made_from != "stock A") others.push_back(level.bottle);
    std::sort(others.begin(), others.end());
    REQUIRE(others.size() >= 2);
    CHECK(bottles_of(after_mixing(planned, record).ladder) == others);
    BenchRecord dry;
    dry.skipped = {first_into(planned, "bottle " + planned.levels.back().bottle) + 1};
    const AsMixed mixed = after_mixing(planned, dry);
    CHECK(mixed.ladder.levels.size() == planned.levels.size() - 1);
    CHECK(mixed.missed.at(0).reason.find("undissolved") != std::string::npos);
}

TEST_CASE(
    "what is spilled of a load weakens its level and makes it less certain, of a mixture only its cups") {
    const MixPlan planned = plan(sugar_request());
    const PlannedLevel& level = planned.levels.back();
    const std::size_t load = first_into(planned, "bottle " + level.bottle);
    BenchRecord spilled;
    spilled.left[load] = 0.7 * planned.steps[load].reading;
    const AsMixed weaker = after_mixing(planned, spilled);
    const auto found = std::find_if(weaker.ladder.levels.begin(), weaker.ladder.levels.end(),
                                    [&](const MixedLevel& one) { return one.bottle == level.bottle; });
    CHECK(within(found->mixed, 0.7 * level.mixed, 0.0, 0.02));
    // A tenth of the 30 % lost, rectangular, as part of what is left.
    CHECK(
        within(found->u_own_rel, std::hypot(level.u_own_rel / 0.7, 0.03 / 0.7 / std::sqrt(3.0)), 0.0, 0.02));
    BenchRecord half;
    half.left[load + 1] = 0.5 * planned.steps[load + 1].reading;
    const MixedLadder fewer = after_mixing(planned, half).ladder;
    CHECK(fewer.levels.back().mixed == as_planned(planned).levels.back().mixed);
    CHECK(fewer.levels.back().portions < as_planned(planned).levels.back().portions);
    BenchRecord stock;
    stock.left[first_into(planned, "stock A") + 1] = 1.0;
    CHECK_FALSE(after_mixing(planned, stock).notes.empty());
}

TEST_CASE("a record that cannot be is refused and the step named") {
    const MixPlan planned = plan(sugar_request());
    const auto refusal = [&](const BenchRecord& record) -> std::string {
        try {
            after_mixing(planned, record);
        } catch (const Refused& refused) {
            return refused.problems().front().where;
        }
        return "";
    };
    CHECK(refusal({{{0, planned.steps[0].reading}}, {0}, {}}) == "step 1");
    CHECK(refusal({{}, {planned.steps.size()}, {}}) == "step " + std::to_string(planned.steps.size() + 1));
    CHECK(refusal({{}, {}, {{2, 2.0 * planned.steps[2].reading}}}) == "step 3");
    CHECK(refusal({{}, {}, {{2, 0.0}}}) == "step 3");
    BenchRecord all;
    for (std::size_t i = 0; i < planned.steps.size(); ++i) all.skipped.insert(i);
    CHECK(refusal(all) == "steps");
}

TEST_CASE("batches lie apart by their own readings, and what they read adds to the level's uncertainty") {
    const MixPlan planned = plan(for_a_class(40));
    const auto several = std::find_if(planned.levels.begin(), planned.levels.end(),
                                      [](const PlannedLevel& one) { return one.batches > 1; });
    REQUIRE(several != planned.levels.end());
    CHECK(std::any_of(several->budget.begin(), several->budget.end(), [](const BudgetLine& line) {
        return line.what.find("difference between its") != std::string::npos && !line.shared;
    }));
    const std::size_t load = first_into(planned, "bottle " + several->bottle);
    CHECK(planned.steps[load].batches == several->batches);
    const auto level_after = [&](const BenchRecord& record) {
        const MixedLadder ladder = after_mixing(planned, record).ladder;
        return *std::find_if(ladder.levels.begin(), ladder.levels.end(),
                             [&](const MixedLevel& one) { return one.bottle == several->bottle; });
    };
    const double off = 0.3;
    const double n = static_cast<double>(several->batches);
    const MixedLevel uneven = level_after({{{load, (1.0 + off) * planned.steps[load].reading}}, {}, {}});
    CHECK(within(uneven.mixed, several->mixed * (1.0 + off / n), 0.0, 0.005));
    const double apart = off * std::sqrt((1.0 - 1.0 / n) / n) / (1.0 + off / n);
    CHECK(within(uneven.u_own_rel, std::hypot(apart, several->u_own_rel), 0.0, 0.05));
}

TEST_CASE("the dilution tree holds every bottle once, and volumes add up") {
    for (const PlanRequest& request : {sugar_request(), acid_request(), alcohol_request(), for_a_class(40)}) {
        const MixPlan planned = plan(request);
        const DilutionTree tree = dilution_tree(planned);
        CHECK(tree.nodes.size() == 2 + planned.stocks.size() + planned.levels.size());
        CHECK(tree.nodes[0].name == request.ingredient.name);
        CHECK(tree.nodes[1].name == request.base.name);
        std::vector<double> drawn(tree.nodes.size(), 0.0), poured(tree.nodes.size(), 0.0);
        for (const TreeEdge& edge : tree.edges) {
            CHECK(edge.from < edge.to);
            CHECK(edge.step < planned.steps.size());
            CHECK(edge.how.find(planned.steps[edge.step].with) != std::string::npos);
            drawn[edge.from] += edge.volume.value;
            poured[edge.to] += edge.volume.value;
        }
        for (std::size_t i = 0; i < tree.nodes.size(); ++i) {
            const TreeNode& node = tree.nodes[i];
            CHECK(within(node.drawn.value, drawn[i], 1e-6));
            if (i < 2) continue;
            // From a stock and base, volume is kept but for contraction; a powder adds none here.
            CHECK(within(poured[i], node.volume.value, 0.0, 1e-6));
            CHECK(node.depth >= 1);
            CHECK(node.u_rel > 0.0);
            if (node.kind == TreeNodeKind::stock) CHECK(node.drawn < node.volume);
        }
    }
}
