#include "engine/solution/advice.hpp"

#include "engine/solution/mixture.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <optional>
#include <vector>

// What would help is found by planning again with one thing more, cheapest first. The classes of instrument
// are common shop goods (common practice, no source); flask tolerance: class B of ISO 1042, from memory;
// syringe tolerance: ISO 7886-1, from memory.

namespace sipladder::solution {

namespace {

struct Change {
    std::string what;
    PlanRequest request;
};

Vessel syringe(double nominal, double graduation) {
    return {"more",
            "new syringe",
            VesselKind::syringe,
            Millilitres{nominal},
            Millilitres{graduation},
            Millilitres{0.4 * nominal},
            0.05,
            Millilitres{0.0},
            true};
}

Vessel flask(double nominal, double tolerance) {
    return {"more",
            "flask",
            VesselKind::flask,
            Millilitres{nominal},
            Millilitres{0.0},
            Millilitres{nominal},
            0.0,
            Millilitres{tolerance},
            false};
}

Balance scale(double resolution, double capacity, double smallest) {
    return {"more", "scale", Grams{resolution}, Grams{capacity}, Grams{smallest}, 0.003};
}

/// True if the kitchen has a balance as fine as this one that carries as much.
bool has_balance(const Equipment& equipment, const Balance& wanted) {
    return std::any_of(equipment.balances.begin(), equipment.balances.end(), [&](const Balance& one) {
        return one.resolution <= wanted.resolution && one.capacity >= wanted.capacity &&
               one.smallest_load <= wanted.smallest_load;
    });
}

std::vector<Change> changes(const PlanRequest& request) {
    std::vector<Change> all;
    const auto with_vessel = [&](const std::string& what, const Vessel& vessel) {
        all.push_back({what, request});
        all.back().request.equipment.vessels.push_back(vessel);
    };
    const auto with_balance = [&](const std::string& what, const Balance& balance) {
        if (has_balance(request.equipment, balance)) return;
        all.push_back({what, request});
        all.back().request.equipment.balances.push_back(balance);
    };
    with_vessel("a new 5 mL syringe", syringe(5.0, 0.2));
    with_vessel("a new 1 mL syringe", syringe(1.0, 0.02));
    with_balance("a scale that shows 0.01 g and carries 200 g", scale(0.01, 200.0, 0.5));
    with_balance("a scale that shows 0.1 g and carries 1000 g", scale(0.1, 1000.0, 5.0));
    with_balance("a scale that shows 0.01 g and carries 500 g", scale(0.01, 500.0, 0.5));
    with_vessel("a 100 mL measuring flask", flask(100.0, 0.2));
    with_balance("a scale that shows 0.001 g and carries 100 g", scale(0.001, 100.0, 0.05));
    all.push_back(
        {"a pack of " + request.ingredient.name + " whose strength is stated to within 1 %", request});
    Ingredient& ingredient = all.back().request.ingredient;
    ingredient.content_half_width = std::min(ingredient.content_half_width, 0.01 * ingredient.content);
    ingredient.strength_half_width = std::min(ingredient.strength_half_width, 0.01 * ingredient.strength);
    ingredient.held_half_width = std::min(ingredient.held_half_width, 0.01 * ingredient.held);
    return all;
}

struct Helped {
    std::string what;
    double largest_u_rel{};
    bool met{};
};

/// The first change with which what is wanted is met, else the one that comes nearest.
std::optional<Helped> most_helpful(const PlanRequest& request) {
    std::optional<Helped> best;
    for (const Change& change : changes(request)) {
        const std::optional<Candidate> candidate = best_candidate(change.request);
        if (!candidate) continue;
        if (!best || candidate->met || candidate->largest_u_rel < best->largest_u_rel)
            best = Helped{change.what, candidate->largest_u_rel, candidate->met};
        if (best->met) return best;
    }
    return best;
}

}  // namespace

std::string advice_for(const MixPlan& plan) {
    const auto worst =
        std::max_element(plan.levels.begin(), plan.levels.end(),
                         [](const auto& one, const auto& other) { return one.u_rel() < other.u_rel(); });
    const double reached = worst->u_rel();
    const std::string unit = unit_text(plan.request.ladder.scale());
    std::string text = "The level of " + significant(worst->target, 2) + " " + unit + " is known to " +
                       percent(reached) + " only (" + percent(plan.request.wanted_u_rel) + " was wanted)";
    if (!worst->budget.empty())
        text += ", mostly because of: " + worst->budget.front().what + " (" +
                percent(worst->budget.front().u_rel) + ")";
    text += ". ";
    const std::optional<Helped> helped = most_helpful(plan.request);
    constexpr double worth_saying = 0.9;  // a change that takes off less than a tenth is no help; judgement
    if (!helped || (!helped->met && helped->largest_u_rel > worth_saying * reached))
        return text +
               "No single scale, syringe or flask in common use would help much; ask for less certainty or a "
               "stronger ladder.";
    return text + "What would help most is " + helped->what + ": the worst level would then be known to " +
           percent(helped->largest_u_rel) + (helped->met ? "." : ", which still misses it.");
}

std::string advice_to_make_any(const PlanRequest& request) {
    const std::optional<Helped> helped = most_helpful(request);
    if (!helped)
        return "another scale, larger or smaller vessels, fewer or smaller cups, or a stronger ladder";
    return helped->what + " would make it possible";
}

}  // namespace sipladder::solution
