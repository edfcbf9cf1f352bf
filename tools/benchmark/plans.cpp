#include "tools/benchmark/plans.hpp"

#include "engine/problem.hpp"
#include "engine/solution/planner.hpp"
#include "tools/benchmark/random_request.hpp"

#include <algorithm>
#include <cmath>
#include <ctime>
#include <vector>

namespace sipladder::benchmark {

namespace {

bool is_multiple(double value, double step) {
    return step <= 0.0 || std::abs(value / step - std::round(value / step)) < 1e-6;
}

bool is_possible(const solution::Equipment& equipment, const solution::Step& step) {
    if (step.unit == "pieces") return step.reading >= 1.0 && is_multiple(step.reading, 1.0);
    if (step.unit == "g") {
        for (const solution::Balance& balance : equipment.balances)
            if (balance.id == step.with_id)
                return is_multiple(step.reading, balance.resolution.value) &&
                       step.reading >= balance.smallest_load.value && step.reading <= balance.capacity.value;
        return false;
    }
    const double fill = step.reading / static_cast<double>(step.fills);
    for (const solution::Vessel& vessel : equipment.vessels)
        if (vessel.id == step.with_id)
            return is_multiple(fill, vessel.graduation.value) && fill >= vessel.smallest.value - 1e-9 &&
                   fill <= vessel.nominal.value + 1e-9 &&
                   (vessel.graduation.value > 0.0 || fill == vessel.nominal.value);
    return false;
}

double ms_since(std::clock_t start) {
    return 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

double median(std::vector<double> values) {
    if (values.empty()) return 0.0;
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
}

}  // namespace

std::size_t impossible_in(const solution::MixPlan& plan) {
    const solution::Substance& substance = plan.request.substance;
    std::size_t wrong = 0;
    for (const solution::Step& step : plan.steps)
        if (!is_possible(plan.request.equipment, step)) ++wrong;
    for (const solution::PlannedStock& stock : plan.stocks) {
        const bool dissolves = substance.scale == Scale::pct_vol || substance.solubility.value <= 0.0 ||
                               stock.concentration <= substance.solubility.value;
        if (stock.concentration > substance.strongest_stock * (1.0 + solution::cap_tolerance) || !dissolves ||
            stock.drawn > stock.volume)
            ++wrong;
    }
    for (const solution::PlannedLevel& level : plan.levels)
        if (level.mixed > substance.strongest_cup * (1.0 + solution::cap_tolerance) || level.portions < 1)
            ++wrong;
    return wrong;
}

PlanFigures plan_figures(const content::Content& content, std::size_t requests) {
    PlanFigures figures;
    std::vector<double> ms;
    std::vector<double> operations;
    for (std::size_t seed = 1; seed <= requests; ++seed) {
        const solution::PlanRequest request = random_request(content, Seed{seed});
        const std::clock_t start = std::clock();
        try {
            const solution::MixPlan plan = solution::plan(request);
            ms.push_back(ms_since(start));
            operations.push_back(static_cast<double>(plan.operations));
            if (plan.met) ++figures.met;
            figures.impossible += impossible_in(plan);
        } catch (const Refused&) {
            ++figures.refused;
            ms.push_back(ms_since(start));
        }
        if (ms.back() > figures.worst_ms) {
            figures.worst_ms = ms.back();
            figures.worst_seed = seed;
        }
    }
    figures.requests = requests;
    figures.median_ms = median(ms);
    figures.median_operations = median(operations);
    return figures;
}

}  // namespace sipladder::benchmark
