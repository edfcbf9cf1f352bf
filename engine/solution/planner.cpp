#include "engine/solution/planner.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/solution/advice.hpp"
#include "engine/solution/base_steps.hpp"
#include "engine/solution/bench_steps.hpp"
#include "engine/solution/budget.hpp"
#include "engine/solution/mixture.hpp"
#include "engine/solution/provisions.hpp"
#include "engine/solution/recipe.hpp"
#include "engine/solution/request_check.hpp"
#include "engine/solution/search.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

// The search (search.cpp) finds the recipe; here it is named, summed and written down. Each part can be read
// alone: the letters, the budget of a level, the shopping, the checks.

namespace sipladder::solution {

namespace {

/// FNV-1a, 64 bit: the letters follow the ladder's name and the seed, nothing else.
std::uint64_t hashed(const std::string& text) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : text) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 1099511628211ULL;
    }
    return hash;
}

bool tells_order(const std::vector<std::string>& letters) {
    return std::is_sorted(letters.begin(), letters.end()) || std::is_sorted(letters.rbegin(), letters.rend());
}

}  // namespace

std::vector<std::string> bottle_letters(const PlanRequest& request) {
    const std::string alphabet = "DEFGHJKMNPQRSTUVWXYZ";
    std::vector<std::string> letters;
    const auto add = [&](const std::string& letter) {
        const auto& taken = request.letters_taken;
        if (std::find(taken.begin(), taken.end(), letter) == taken.end()) letters.push_back(letter);
    };
    for (const char letter : alphabet) add(std::string(1, letter));
    for (char again = '2'; request.ladder.size() > letters.size() && again <= '9'; ++again)
        for (const char letter : alphabet) add(std::string(1, letter) + again);
    Random random(derived(request.letters, hashed(request.ladder.id())));
    std::vector<std::string> drawn;
    do {
        random.shuffle(letters);
        drawn.assign(letters.begin(), letters.begin() + static_cast<std::ptrdiff_t>(request.ladder.size()));
    } while (drawn.size() > 2 && tells_order(drawn));
    return drawn;
}

namespace {

void name_containers(const PlanRequest& request, Candidate& candidate) {
    const std::vector<std::string> letters = bottle_letters(request);
    std::size_t level = 0;
    for (std::size_t i = 0; i < candidate.makings.size(); ++i) {
        Making& making = candidate.makings[i];
        if (i >= candidate.stocks && making.batch == 1) ++level;
        const std::string of_set = request.set > 1 ? std::to_string(request.set) : std::string();
        making.into = i < candidate.stocks ? "stock " + std::string(1, static_cast<char>('A' + i)) + of_set
                                           : "bottle " + letters.at(level - 1);
    }
}

std::string origin_of(const PlanRequest& request, const std::vector<Making>& makings, const Making& making) {
    return making.from == ingredient_itself ? request.ingredient.name : makings[making.from].into;
}

void add_levels(MixPlan& plan, const Candidate& candidate, const std::vector<Mixture>& all,
                std::size_t first_step) {
    const PlanRequest& request = plan.request;
    const std::vector<Bottle> made = bottles(candidate.makings, all);
    const std::vector<Bottle> levels(made.begin() + static_cast<std::ptrdiff_t>(candidate.stocks),
                                     made.end());
    const std::vector<bool> is_shared = shared_errors(levels);
    for (std::size_t i = 0; i < levels.size(); ++i) {
        const Bottle& bottle = levels[i];
        const Parts u = parts(bottle, is_shared);
        PlannedLevel level;
        level.target = request.ladder.targets()[i];
        level.mixed = level_from_held(request.substance, GramsPerLitre{bottle.held_g_per_L});
        level.u_own_rel = u.own;
        level.u_shared_rel = u.shared;
        level.bottle = bottle.name.substr(std::string("bottle ").size());
        level.made_from = origin_of(request, candidate.makings, candidate.makings[bottle.makings.front()]);
        level.volume = Millilitres{bottle.volume_mL};
        level.portions = portions_from(request.demand, level.volume);
        level.budget = budget_of(request, candidate.makings, bottle, is_shared, first_step);
        level.batches = bottle.makings.size();
        plan.levels.push_back(std::move(level));
    }
    for (std::size_t i = 0; i < candidate.stocks; ++i) {
        const Parts u = parts(made[i], is_shared);
        plan.stocks.push_back({candidate.makings[i].into,
                               level_from_held(request.substance, GramsPerLitre{all[i].held_g_per_L}),
                               std::hypot(u.own, u.shared), Millilitres{all[i].volume_mL},
                               origin_of(request, candidate.makings, candidate.makings[i]),
                               drawn_from(candidate.makings, all, i)});
    }
}

}  // namespace

double PlannedLevel::u_rel() const {
    return std::hypot(u_own_rel, u_shared_rel);
}

MixPlan plan(const PlanRequest& request) {
    const std::vector<Problem> problems = problems_of(request);
    if (!problems.empty()) throw Refused(problems);
    std::optional<Candidate> found = best_candidate(request);
    if (!found)
        throw Refused("equipment " + request.equipment.name,
                      "cannot make " +
                          fixed(largest_volume_needed(request.demand, request.ladder.size()).value, 0) +
                          " mL of every level of this ladder",
                      advice_to_make_any(request));
    Candidate& candidate = *found;
    name_containers(request, candidate);
    const std::vector<Mixture> all = mixtures(request, candidate.makings);
    const Millilitres base_volume = base_needed(request, all);
    BaseMix base = base_mix(request, base_volume);
    MixPlan plan{.request = request,
                 .levels = {},
                 .stocks = {},
                 .steps = std::move(base.steps),
                 .shopping = {},
                 .checks = {},
                 .cautions = {},
                 .met = candidate.met,
                 .operations = candidate.operations,
                 .advice = {},
                 .base_volume = base_volume};
    const std::size_t first_step = plan.steps.size();
    plan.operations += first_step;
    for (Step& step : steps_of(request, candidate.makings)) plan.steps.push_back(std::move(step));
    plan.left_over = Millilitres{candidate.left_over_mL};
    add_levels(plan, candidate, all, first_step);
    add_shopping(plan, candidate, all);
    add_checks(plan, candidate, all);
    add_keeping(plan);
    add_cautions(plan);
    if (!plan.met) plan.advice = advice_for(plan);
    return plan;
}

}  // namespace sipladder::solution
