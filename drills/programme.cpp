#include "drills/programme.hpp"

#include "drills/pacing.hpp"
#include "drills/rules.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills {

namespace {

constexpr double portions_share =
    0.6;  // of the presentations, of every rung: simulated, see design of demand

Blinding blinding_of(const std::string& name) {
    if (name == "sealed_key") return Blinding::sealed_key;
    return name == "served" ? Blinding::served : Blinding::shuffled_tray;
}

Kind kind_of(const std::string& name) {
    for (const Kind kind : every_kind)
        if (name_of(kind) == name) return kind;
    throw Refused("drill", "is a \"" + name + "\"", "one that this program knows");
}

/// A ladder as if mixed on target, enough for the whole programme, bottles lettered on from `first`.
solution::MixedLadder on_target(const content::Content& content, const BenchDemand& demand,
                                std::size_t first) {
    const solution::Ladder& ladder = content.ladder(demand.ladder);
    const auto portions = static_cast<int>(std::ceil(
                              portions_share * static_cast<double>(demand.demand.presentations) - 1e-9)) +
                          1;
    solution::MixedLadder mixed{ladder.substance(), demand.base, ladder.scale(), {}};
    for (const double target : ladder.targets()) {
        const std::string bottle(1, static_cast<char>('A' + static_cast<int>(first % 26)));
        mixed.levels.push_back({target, target, 0.0, 0.0, bottle + std::to_string(first / 26 + 1), portions});
        ++first;
    }
    return mixed;
}

std::vector<solution::MixedLadder> all_on_target(const content::Programme& programme,
                                                 const content::Content& content) {
    std::vector<solution::MixedLadder> mixed;
    std::size_t bottles = 0;
    for (const BenchDemand& demand : bench_demand(programme, content)) {
        mixed.push_back(on_target(content, demand, bottles));
        bottles += mixed.back().levels.size();
    }
    return mixed;
}

int minutes_of(const Plan& plan) {
    constexpr int looking_s = 30;    // judgement: spin, look, sniff
    constexpr int answering_s = 30;  // judgement; with three cups two minutes in all, as for a single drill
    constexpr int each_cup_s = 30;
    const auto n = static_cast<int>(plan.most_presentations);
    if (!rules_of(plan.kind).tastes) return (n * looking_s + 59) / 60;
    const auto rest =
        static_cast<int>(pacing::rest_after(plan, ladder_of(plan, 0).levels.size() - 1).count());
    const int each = answering_s + each_cup_s * static_cast<int>(cups_together(plan)) + rest;
    return (n * each + 59) / 60;
}

std::size_t cups_of(const Plan& plan) {
    const std::size_t fillings = rules_of(plan.kind).tastes ? plan.most_presentations : 1;
    return fillings * cups_together(plan) + known_cups(plan);
}

/// Presentations of which `portions_share` is what each rung of a ladder has to have.
std::size_t share_of(const content::ProgrammeDrill& drill, std::size_t rungs) {
    const Kind kind = kind_of(drill.kind);
    const std::size_t lines = drill.ladders.size();
    if (rules_of(kind).is_fixed) {
        const int portions =
            portions_needed(kind, blinding_of(drill.blinding), drill.presentations, lines, rungs);
        return static_cast<std::size_t>(std::ceil(portions / portions_share - 1e-9));
    }
    // A substance among several gets its share; a tray that is not tasted from is filled once.
    return rules_of(kind).tastes ? (drill.presentations + lines - 1) / lines : 1;
}

}  // namespace

std::vector<Plan> plans_of(const content::Programme& programme, const content::Content& content,
                           const std::vector<solution::MixedLadder>& mixed,
                           const safety::Intake& taken_today) {
    std::vector<Plan> plans;
    safety::Intake today = taken_today;
    safety::Intake sitting;
    for (const content::ProgrammeDrill& drill : programme.drills) {
        std::vector<solution::MixedLadder> ladders;
        for (const std::string& id : drill.ladders) {
            const std::string& substance = content.ladder(id).substance();
            const auto found = std::find_if(mixed.begin(), mixed.end(), [&](const auto& ladder) {
                return ladder.substance == substance;
            });
            if (found == mixed.end())
                throw Refused(programme.name, "needs " + id + ", which is not mixed", "mix it first");
            ladders.push_back(*found);
        }
        DrillOptions options;
        options.blinding = blinding_of(drill.blinding);
        options.presentations = drill.presentations;
        options.cup = programme.cup;
        plans.push_back(drill_plan(content, kind_of(drill.kind), ladders, options, today, sitting));
        const safety::Intake worst = worst_intake(plans.back());
        today += worst;
        sitting += worst;
    }
    return plans;
}

std::vector<BenchDemand> bench_demand(const content::Programme& programme, const content::Content& content) {
    std::vector<BenchDemand> all;
    for (const content::ProgrammeDrill& drill : programme.drills) {
        const Rules& rules = rules_of(kind_of(drill.kind));
        for (const std::string& id : drill.ladders) {
            const std::size_t share = share_of(drill, content.ladder(id).size());
            auto there = std::find_if(all.begin(), all.end(),
                                      [&](const BenchDemand& one) { return one.ladder == id; });
            if (there == all.end()) {
                all.push_back({id, programme.base, {}});
                there = all.end() - 1;
                there->demand.presentations = 0;
                there->demand.cups_per_presentation = 1;
                there->demand.cup = programme.cup;
                there->demand.portions_share = portions_share;
            }
            there->demand.presentations += share;
            there->demand.cups_per_presentation =
                std::max({there->demand.cups_per_presentation, rules.cups_together, std::size_t{1}});
        }
    }
    return all;
}

Budget budget_of(std::span<const Plan> plans) {
    Budget budget;
    for (const Plan& plan : plans) {
        budget.cups += cups_of(plan);
        budget.minutes += minutes_of(plan);
        budget.worst += worst_intake(plan);
    }
    return budget;
}

Budget budget_of(const content::Programme& programme, const content::Content& content) {
    return budget_of(plans_of(programme, content, all_on_target(programme, content)));
}

std::vector<Problem> problems_of(const content::Programme& programme, const content::Content& content,
                                 std::span<const std::string> no_ethanol_reasons) {
    std::vector<Problem> problems;
    const auto note = [&](const std::string& what, const std::string& right) {
        problems.push_back({"programme " + programme.id, what, right});
    };
    const std::vector<Plan> plans = plans_of(programme, content, all_on_target(programme, content));
    for (const Plan& plan : plans) try {
            begin(plan, Seed{}, no_ethanol_reasons);  // holds the worst case of the drills before it
        } catch (const Refused& refused) {
            for (const Problem& one : refused.problems()) note(one.where + " " + one.what, one.right);
        }
    const Budget budget = budget_of(plans);
    if (budget.cups > content.sitting.most_cups)
        note("takes " + std::to_string(budget.cups) + " cups",
             "at most " + std::to_string(content.sitting.most_cups) + " in one sitting");
    const int minutes = programme.most_minutes > 0
                            ? std::min(programme.most_minutes, content.sitting.most_minutes)
                            : content.sitting.most_minutes;
    if (budget.minutes > minutes)
        note("takes " + std::to_string(budget.minutes) + " minutes", "at most " + std::to_string(minutes));
    return problems;
}

}  // namespace sipladder::drills
