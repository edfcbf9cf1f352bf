#include "engine/solution/budget.hpp"

#include "engine/problem.hpp"
#include "engine/solution/bench_steps.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::solution {

namespace {

constexpr double nothing = 1e-9;

std::string container_of(const Making& making) {
    if (making.batches == 1) return making.into;
    return making.into + " (" + std::to_string(making.batch) + " of " + std::to_string(making.batches) + ")";
}

BudgetLine reading_line(const Equipment& equipment, const Making& making, const Reading& reading,
                        const std::string& doing, std::size_t step) {
    BudgetLine line;
    line.instrument = instrument_name(equipment, reading.instrument);
    line.step = step;
    line.what = container_of(making) + ": " + doing + " (" + line.instrument +
                (reading.instrument.is_balance ? ", display)" : ", reading)");
    return line;
}

BudgetLine line_of(const PlanRequest& request, const std::vector<Making>& makings, const ErrorSource& source,
                   std::size_t first_step) {
    BudgetLine line;
    switch (source.kind) {
        case ErrorSource::Kind::ingredient:
            line.what = (request.ingredient.form == IngredientForm::powder   ? "purity of "
                         : request.ingredient.form == IngredientForm::tablet ? "content of "
                                                                             : "strength of ") +
                        request.ingredient.name;
            return line;
        case ErrorSource::Kind::instrument:
            line.instrument = instrument_name(request.equipment, source.instrument);
            line.what = "calibration of the " + line.instrument;
            return line;
        case ErrorSource::Kind::load: {
            const Making& making = makings[source.making];
            return reading_line(request.equipment, making, making.load,
                                making.load.instrument.is_balance ? "weighing in" : "measuring in",
                                first_step + 2 * source.making);
        }
        case ErrorSource::Kind::total: {
            const Making& making = makings[source.making];
            return reading_line(request.equipment, making, making.total, "filling up",
                                first_step + 2 * source.making + 1);
        }
    }
    SIPLADDER_EXPECT(false);
}

}  // namespace

std::vector<BudgetLine> budget_of(const PlanRequest& request, const std::vector<Making>& makings,
                                  const Bottle& bottle, const std::vector<bool>& is_shared,
                                  std::size_t first_step) {
    const std::vector<ErrorSource> sources = error_sources(request.equipment, makings.size());
    std::vector<BudgetLine> budget;
    for (std::size_t i = 0; i < sources.size(); ++i) {
        if (std::abs(bottle.effects[i]) <= nothing) continue;
        BudgetLine line = line_of(request, makings, sources[i], first_step);
        line.u_rel = std::abs(bottle.effects[i]);
        line.shared = is_shared[i];
        budget.push_back(std::move(line));
    }
    if (bottle.between_rel > nothing) {
        BudgetLine line;
        line.what =
            bottle.name + ": difference between its " + std::to_string(bottle.makings.size()) + " batches";
        line.u_rel = bottle.between_rel;
        budget.push_back(std::move(line));
    }
    std::stable_sort(budget.begin(), budget.end(),
                     [](const BudgetLine& one, const BudgetLine& other) { return one.u_rel > other.u_rel; });
    return budget;
}

}  // namespace sipladder::solution
