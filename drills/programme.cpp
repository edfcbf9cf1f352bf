// What a sitting has to have in bottles follows from its drills one by one: each says how often a rung may be
// asked for, and what one bottle has to supply is the sum.

#include "drills/programme.hpp"

#include "drills/blinding/sealed_key.hpp"
#include "drills/pacing.hpp"
#include "drills/rules.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

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

/// Bottles are named by number here: the letters are drawn with the plan of the mix.
solution::MixedLadder on_target(const solution::Ladder& ladder, const std::string& base, int portions,
                                std::size_t& bottles) {
    solution::MixedLadder mixed{ladder.substance(), base, ladder.scale(), {}};
    for (const double target : ladder.targets())
        mixed.levels.push_back({target, target, 0.0, 0.0, "bottle " + std::to_string(++bottles), portions});
    return mixed;
}

/// Cups of a drill of which what is left over cannot be served again: known ones too.
std::size_t cups_of(const Plan& plan) {
    const std::size_t fillings = rules_of(plan.kind).tastes ? plan.most_presentations : 1;
    return fillings * cups_together(plan) + known_cups(plan);
}

const std::string& base_of(const WantedSitting& sitting, std::size_t ladder) {
    return ladder < sitting.bases.size() && !sitting.bases[ladder].empty() ? sitting.bases[ladder]
                                                                           : sitting.base;
}

Plan plan_of(const WantedSitting& sitting, const WantedDrill& drill, const content::Content& content,
             const std::vector<solution::MixedLadder>& mixed, const safety::Intake& today,
             const safety::Intake& in_sitting) {
    std::vector<solution::MixedLadder> ladders;
    for (const std::size_t at : drill.ladders) ladders.push_back(mixed.at(at));
    DrillOptions options;
    options.blinding = drill.blinding;
    options.presentations = drill.presentations;
    options.cup = sitting.cup;
    options.order = drill.order;
    options.condition = drill.condition;
    if (!drill.condition.empty() && ladders.size() == 1) {
        ladders.push_back(otherwise_served(ladders.front(), drill.condition));
        options.same_bottles = true;
    }
    return drill_plan(content, drill.kind, ladders, options, today, in_sitting);
}

/// Portions of each rung of one line that a drill may pour, the known clear cup left out.
std::vector<std::size_t> poured_of(const Plan& plan, std::size_t line) {
    const std::size_t rungs = ladder_of(plan, line).levels.size();
    std::vector<std::size_t> poured(rungs, 0);
    if (!rules_of(plan.kind).tastes) {  // the tray is filled once, from the strongest
        poured.back() = 1;
        return poured;
    }
    const std::size_t lines = line_count(plan);
    if (is_fixed(plan)) {
        std::fill(poured.begin(), poured.end(),
                  static_cast<std::size_t>(
                      portions_needed(plan.kind, plan.blinding, plan.most_presentations, lines, rungs)));
        return poured;
    }
    if (plan.blinding == Blinding::sealed_key) {
        for (const sealed_key::Identity& one : sealed_key::pour_list(plan))
            if (!one.is_blank && line_of_series(plan, one.series) == line)
                poured[one.level] = static_cast<std::size_t>(one.poured);
        return poured;
    }
    const std::size_t of_line = (plan.most_presentations + lines - 1) / lines;
    const double share = plan.order == Order::ascending ? 1.0 / static_cast<double>(rungs) : portions_share;
    const auto each = static_cast<std::size_t>(std::ceil(share * static_cast<double>(of_line) - 1e-9));
    std::fill(poured.begin(), poured.end(), each);
    return poured;
}

/// Cups of the base alone.
std::size_t blanks_of(const Plan& plan) {
    if (!beside_bottle(plan).empty()) return 0;
    const std::size_t known = known_cups(plan) > 0 ? 1 : 0;
    const std::size_t together = cups_together(plan);
    if (is_set(plan)) return known;
    if (together > 1) return (together - 1) * (known == 0 ? 1 : plan.most_presentations) + known;
    if (!rules_of(plan.kind).has_blanks) return known;
    if (plan.blinding == Blinding::sealed_key)
        for (const sealed_key::Identity& one : sealed_key::pour_list(plan))
            if (one.is_blank) return static_cast<std::size_t>(one.poured) + known;
    return (plan.most_presentations + 1) / 2 + known;  // a third are meant to be, drawn one by one
}

void add_demand(const WantedSitting& sitting, const WantedDrill& drill, const Plan& plan,
                std::vector<solution::Demand>& all) {
    const std::size_t lines = line_count(plan);
    for (std::size_t line = 0; line < lines; ++line) {
        // Another condition of the same bottles draws on the first ladder once more.
        const std::size_t at = drill.ladders[line < drill.ladders.size() ? line : 0];
        solution::Demand& demand = all[at];
        std::vector<std::size_t> poured = poured_of(plan, line);
        const std::size_t rungs = sitting.ladders[at].size();
        // The pedestal is the ladder's own weakest rung, in every cup beside and in the known one.
        if (poured.size() < rungs) poured.insert(poured.begin(), plan.most_presentations + 1);
        if (known_clear(plan, line)) ++poured.back();
        for (std::size_t rung = 0; rung < rungs; ++rung) demand.of_rung[rung] += poured[rung];
        if (line == 0) *demand.blanks += blanks_of(plan);
        if (rules_of(plan.kind).tastes) demand.presentations += (plan.most_presentations + lines - 1) / lines;
        demand.cups_per_presentation = std::max(demand.cups_per_presentation, cups_together(plan));
    }
}

}  // namespace

solution::MixedLadder otherwise_served(solution::MixedLadder ladder, const std::string& condition) {
    for (solution::MixedLevel& level : ladder.levels) level.bottle += ", " + condition;
    return ladder;
}

WantedSitting sitting_of(const content::Programme& programme, const content::Content& content) {
    WantedSitting sitting{.name = "programme " + programme.id,
                          .drills = {},
                          .ladders = {},
                          .base = programme.base,
                          .cup = programme.cup,
                          .most_minutes = programme.most_minutes};
    std::vector<std::pair<std::string, std::string>> ids;  // ladder and base
    for (const content::ProgrammeDrill& drill : programme.drills) {
        WantedDrill wanted{.kind = kind_of(drill.kind),
                           .blinding = blinding_of(drill.blinding),
                           .presentations = drill.presentations,
                           .ladders = {},
                           .condition = drill.condition};
        const auto add = [&](const std::string& id, const std::string& base) {
            const auto there = std::find(ids.begin(), ids.end(), std::pair(id, base));
            wanted.ladders.push_back(static_cast<std::size_t>(there - ids.begin()));
            if (there != ids.end()) return;
            ids.emplace_back(id, base);
            sitting.ladders.push_back(content.ladder(id));
            sitting.bases.push_back(base);
        };
        for (const std::string& id : drill.ladders) add(id, programme.base);
        if (!drill.other_base.empty()) add(drill.ladders.front(), drill.other_base);
        sitting.drills.push_back(std::move(wanted));
    }
    return sitting;
}

std::vector<solution::MixedLadder> on_target(const WantedSitting& sitting) {
    std::size_t most = 1;
    for (const WantedDrill& drill : sitting.drills) most += drill.presentations + 1;
    std::vector<solution::MixedLadder> mixed;
    std::size_t bottles = 0;
    for (std::size_t i = 0; i < sitting.ladders.size(); ++i)
        mixed.push_back(on_target(sitting.ladders[i], base_of(sitting, i), static_cast<int>(most), bottles));
    return mixed;
}

std::vector<Plan> plans_of(const WantedSitting& sitting, const content::Content& content,
                           const std::vector<solution::MixedLadder>& mixed,
                           const safety::Intake& taken_today) {
    std::vector<Plan> plans;
    safety::Intake today = taken_today;
    safety::Intake in_sitting;
    for (const WantedDrill& drill : sitting.drills) {
        plans.push_back(plan_of(sitting, drill, content, mixed, today, in_sitting));
        const safety::Intake worst = worst_intake(plans.back());
        today += worst;
        in_sitting += worst;
    }
    return plans;
}

std::vector<solution::Demand> demands_of(const WantedSitting& sitting, const content::Content& content) {
    std::vector<solution::Demand> all;
    for (const solution::Ladder& ladder : sitting.ladders) {
        solution::Demand demand;
        demand.presentations = 0;
        demand.cups_per_presentation = 1;
        demand.cup = sitting.cup;
        demand.portions_share = portions_share;
        demand.of_rung.assign(ladder.size(), 0);
        demand.blanks = 0;
        all.push_back(std::move(demand));
    }
    const std::vector<Plan> plans = plans_of(sitting, content, on_target(sitting));
    for (std::size_t i = 0; i < plans.size(); ++i) add_demand(sitting, sitting.drills[i], plans[i], all);
    for (solution::Demand& demand : all) {
        demand.presentations = std::max<std::size_t>(demand.presentations, 1);
        for (std::size_t& portions : demand.of_rung) portions = std::max<std::size_t>(portions, 1);
    }
    return all;
}

int minutes_of(const Plan& plan) {
    constexpr int looking_s = 30;    // judgement: spin, look, sniff
    constexpr int answering_s = 30;  // judgement; with three cups two minutes in all
    constexpr int each_cup_s = 30;
    const auto n = static_cast<int>(plan.most_presentations);
    if (!rules_of(plan.kind).tastes) return (n * looking_s + 59) / 60;
    const auto rest =
        static_cast<int>(pacing::rest_after(plan, ladder_of(plan, 0).levels.size() - 1).count());
    const int each = answering_s + each_cup_s * static_cast<int>(cups_together(plan)) + rest;
    return (n * each + 59) / 60;
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
    const WantedSitting sitting = sitting_of(programme, content);
    return budget_of(plans_of(sitting, content, on_target(sitting)));
}

std::vector<Problem> problems_of(const WantedSitting& sitting, const content::Content& content,
                                 std::span<const Plan> plans,
                                 std::span<const std::string> no_ethanol_reasons) {
    std::vector<Problem> problems;
    const auto note = [&](const std::string& what, const std::string& right) {
        problems.push_back({sitting.name, what, right});
    };
    for (const Plan& plan : plans) try {
            begin(plan, Seed{}, no_ethanol_reasons);  // holds the worst case of the drills before it
        } catch (const Refused& refused) {
            for (const Problem& one : refused.problems()) note(one.where + " " + one.what, one.right);
        }
    for (Problem& one : limits_crossed(sitting, content, plans)) problems.push_back(std::move(one));
    return problems;
}

std::vector<Problem> limits_crossed(const WantedSitting& sitting, const content::Content& content,
                                    std::span<const Plan> plans) {
    std::vector<Problem> problems;
    const auto note = [&](const std::string& what, const std::string& right) {
        problems.push_back({sitting.name, what, right});
    };
    const Budget budget = budget_of(plans);
    if (budget.cups > content.sitting.most_cups)
        note("takes " + std::to_string(budget.cups) + " cups",
             "at most " + std::to_string(content.sitting.most_cups) + " in one sitting");
    const int minutes = sitting.most_minutes > 0
                            ? std::min(sitting.most_minutes, content.sitting.most_minutes)
                            : content.sitting.most_minutes;
    if (budget.minutes > minutes)
        note("takes " + std::to_string(budget.minutes) + " minutes", "at most " + std::to_string(minutes));
    return problems;
}

std::vector<Problem> problems_of(const content::Programme& programme, const content::Content& content,
                                 std::span<const std::string> no_ethanol_reasons) {
    const WantedSitting sitting = sitting_of(programme, content);
    return problems_of(sitting, content, plans_of(sitting, content, on_target(sitting)), no_ethanol_reasons);
}

}  // namespace sipladder::drills
