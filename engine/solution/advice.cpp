#include "engine/solution/advice.hpp"

#include "engine/solution/search.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <optional>

// What would help is found by planning again with one instrument more out of those that could be bought, and
// once with a pack whose content is known better. Instruments that the bench has already are not tried again.

namespace sipladder::solution {

namespace {

struct Change {
    std::string what;
    PlanRequest request;
};

bool is_there(const Equipment& equipment, const Balance& wanted) {
    return std::any_of(equipment.balances.begin(), equipment.balances.end(), [&](const Balance& one) {
        return one.resolution <= wanted.resolution && one.capacity >= wanted.capacity &&
               one.smallest_load <= wanted.smallest_load &&
               one.gain_half_width_rel <= wanted.gain_half_width_rel;
    });
}

bool is_there(const Equipment& equipment, const Vessel& wanted) {
    return std::any_of(equipment.vessels.begin(), equipment.vessels.end(), [&](const Vessel& one) {
        return one.id == wanted.id || (one.kind == wanted.kind && one.nominal == wanted.nominal &&
                                       one.graduation == wanted.graduation);
    });
}

std::string with_article(const std::string& name) {
    const bool is_vowel = !name.empty() && std::string("aeiou").find(name.front()) != std::string::npos;
    return (is_vowel ? "an " : "a ") + name;
}

/// Half-width of a content or strength that is stated well; judgement.
constexpr double well_known_rel = 0.01;

Change better_pack(const PlanRequest& request) {
    const bool is_powder = is_dry(request.ingredient);
    Change change{"a pack of " + request.ingredient.name + " whose " + (is_powder ? "content" : "strength") +
                      " is known to within " + percent(well_known_rel),
                  request};
    Ingredient& pack = change.request.ingredient;
    pack.content_half_width = std::min(pack.content_half_width, well_known_rel * pack.content);
    pack.strength_half_width = std::min(pack.strength_half_width, well_known_rel * pack.strength);
    pack.held_half_width = std::min(pack.held_half_width, well_known_rel * pack.held);
    pack.per_piece_half_width = std::min(pack.per_piece_half_width, well_known_rel * pack.per_piece);
    return change;
}

std::vector<Change> changes(const PlanRequest& request) {
    std::vector<Change> all;
    if (u_rel_of(request.ingredient) >= request.wanted_u_rel) {  // no instrument makes up for that
        all.push_back(better_pack(request));
        return all;
    }
    for (const Balance& balance : request.to_buy.balances) {
        if (is_there(request.equipment, balance)) continue;
        all.push_back({with_article(balance.name), request});
        all.back().request.equipment.balances.push_back(balance);
    }
    for (const Vessel& vessel : request.to_buy.vessels) {
        if (is_there(request.equipment, vessel)) continue;
        all.push_back({with_article(vessel.name), request});
        all.back().request.equipment.vessels.push_back(vessel);
    }
    if (u_rel_of(request.ingredient) > well_known_rel / 1.7) all.push_back(better_pack(request));
    return all;
}

struct Helped {
    std::string what;
    double largest_u_rel{};
    bool met{};
};

/// The change that comes furthest: one that meets what is wanted with most to spare, else the nearest miss.
/// @param is_any_good  the first change with which there is any recipe will do
std::optional<Helped> most_helpful(const PlanRequest& request, bool is_any_good) {
    std::optional<Helped> best;
    for (const Change& change : changes(request)) {
        const std::optional<Candidate> candidate = best_candidate(change.request, Effort::quick);
        if (!candidate) continue;
        if (!best || (candidate->met && !best->met) ||
            (candidate->met == best->met && candidate->largest_u_rel < best->largest_u_rel))
            best = Helped{change.what, candidate->largest_u_rel, candidate->met};
        if (is_any_good) return best;
    }
    return best;
}

}  // namespace

Equipment every_instrument(const std::vector<Equipment>& kitchens) {
    Equipment all;
    for (const Equipment& kitchen : kitchens) {
        for (const Balance& balance : kitchen.balances)
            if (std::none_of(all.balances.begin(), all.balances.end(),
                             [&](const Balance& one) { return one.id == balance.id; }))
                all.balances.push_back(balance);
        for (const Vessel& vessel : kitchen.vessels)
            if (std::none_of(all.vessels.begin(), all.vessels.end(),
                             [&](const Vessel& one) { return one.id == vessel.id; }))
                all.vessels.push_back(vessel);
    }
    return all;
}

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
    const std::optional<Helped> helped = most_helpful(plan.request, false);
    constexpr double worth_saying = 0.9;  // a change that takes off less than a tenth is no help; judgement
    if (!helped || (!helped->met && helped->largest_u_rel > worth_saying * reached))
        return text +
               "No single instrument of the list would help much; ask for less certainty or a stronger "
               "ladder.";
    return text + "What would help most is " + helped->what + ": the worst level would then be known to " +
           percent(helped->largest_u_rel) + (helped->met ? "." : ", which still misses it.");
}

std::string advice_to_make_any(const PlanRequest& request) {
    const std::optional<Helped> helped = most_helpful(request, true);
    if (!helped)
        return "another scale, larger or smaller vessels, fewer or smaller cups, or a stronger ladder";
    return helped->what + " would make it possible";
}

}  // namespace sipladder::solution
