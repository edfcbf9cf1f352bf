// Nothing that is answered changes what comes next, so a sitting can be laid out beforehand and nothing can
// be learnt from the way it goes. Cards are used up in their order: the first whose letter no answer bears.

#include "drills/beforehand.hpp"

#include "drills/blinding/served.hpp"
#include "drills/classroom/williams.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sipladder::drills::beforehand {

namespace {

enum Use : std::uint64_t {
    order_use = 50'000,
    letters_use,
    codes_use
};  // away from those of drills/blinding

/// As even as can be, what is left over going to the middle.
std::vector<std::size_t> shared_out(std::size_t parts, std::size_t cups) {
    std::vector<std::size_t> counts(parts, cups / parts);
    const std::size_t more = cups % parts;
    for (std::size_t i = 0; i < more; ++i) ++counts[(parts - more) / 2 + i];
    return counts;
}

sealed_key::Identity identity_of(const Plan& plan, const Held& held, std::size_t poured) {
    return {bottle_of(plan, held), held.series, held.level, held.is_blank, static_cast<int>(poured)};
}

std::vector<Held> singles_in_order(const Plan& plan, Random random) {
    std::vector<Held> cups;
    for (const auto& one : shares(plan, plan.most_presentations))
        cups.insert(cups.end(), static_cast<std::size_t>(one.poured), {one.series, one.level, one.is_blank});
    random.shuffle(cups);
    return cups;
}

std::vector<std::vector<Held>> sets_in_order(const Plan& plan, Random random) {
    auto orders = classroom::williams_orders(plan.ladder.levels.size());
    random.shuffle(orders);
    std::vector<std::vector<Held>> sets;
    for (std::size_t i = 0; i < plan.most_presentations; ++i) {
        sets.emplace_back();
        for (const std::size_t level : orders[i % orders.size()]) sets.back().push_back({0, level, false});
    }
    return sets;
}

}  // namespace

std::vector<sealed_key::Identity> shares(const Plan& plan, std::size_t presentations) {
    std::vector<sealed_key::Identity> list;
    const bool has_blanks = rules_of(plan.kind).has_blanks;
    if (is_set(plan)) {
        for (std::size_t level = 0; level < plan.ladder.levels.size(); ++level)
            list.push_back(identity_of(plan, {0, level, false}, presentations));
        return list;
    }
    const std::size_t lines = line_count(plan);
    // Several substances: the blanks are one more of them. One: they are one more rung.
    const std::size_t parts = lines > 1 ? lines : plan.ladder.levels.size();
    std::vector<std::size_t> counts = shared_out(parts + (has_blanks ? 1 : 0), presentations);
    const std::size_t blanks = has_blanks ? counts.back() : 0;
    for (std::size_t line = 0; line < lines; ++line) {
        const std::size_t rungs = ladder_of(plan, line).levels.size();
        const std::vector<std::size_t> of_rungs =
            lines > 1 ? shared_out(rungs, counts[line])
                      : std::vector<std::size_t>(counts.begin(),
                                                 counts.begin() + static_cast<std::ptrdiff_t>(rungs));
        for (std::size_t level = 0; level < rungs; ++level)
            list.push_back(identity_of(plan, {line, level, false}, of_rungs[level]));
    }
    if (has_blanks) list.push_back(identity_of(plan, {0, 0, true}, blanks));
    return list;
}

std::vector<Card> cards(const Plan& plan, Seed seed) {
    const std::size_t together = cups_together(plan);
    std::vector<std::vector<Held>> held;
    if (is_set(plan))
        held = sets_in_order(plan, Random(derived(seed, order_use)));
    else
        for (const Held& one : singles_in_order(plan, Random(derived(seed, order_use))))
            held.push_back({one});
    const auto letters = served::letters(Random(derived(seed, letters_use)), held.size());
    Random coding(derived(seed, codes_use));
    const auto codes = blind_codes(coding, together * held.size(), plan.codes_before);
    std::vector<Card> all;
    for (std::size_t i = 0; i < held.size(); ++i) {
        const auto first = codes.begin() + static_cast<std::ptrdiff_t>(together * i);
        all.push_back(
            {letters[i], {first, first + static_cast<std::ptrdiff_t>(together)}, std::move(held[i])});
    }
    return all;
}

void check(const Plan& plan, Problems& problems) {
    problems.want(plan.blinding != Blinding::shuffled_tray, "blinding",
                  "lets the taster know which bottle it is", "a helper pours, a sealed key, or a class");
    problems.want(plan.order == Order::adaptive, "order", "is ascending", "cups in an order that is drawn");
    problems.want(plan.stop_sd_log10 == 0.0, "stop SD", "is set", "0: all the cups are wanted");
    const std::size_t cups = cups_together(plan) * plan.most_presentations;
    const std::size_t codes = most_blind_codes - std::min(plan.codes_before.size(), most_blind_codes);
    problems.want(cups <= codes, "cups", "are " + std::to_string(cups),
                  "at most " + std::to_string(codes) + ", the codes that are left");
}

void check_set(const Plan& plan, Problems& problems) {
    constexpr std::size_t fewest = 3;
    constexpr std::size_t most = 8;  // judgement: more cups side by side cannot be kept in mind
    const std::size_t rungs = plan.ladder.levels.size();
    problems.want(rungs >= fewest && rungs <= most, "cups of a set", "are " + std::to_string(rungs),
                  std::to_string(fewest) + " to " + std::to_string(most) + " rungs to put in order");
}

void check_condition(const Plan& plan, Problems& problems) {
    problems.want(plan.others.size() <= 1, "conditions", "are " + std::to_string(1 + plan.others.size()),
                  "one, or two to compare");
    if (plan.others.empty()) return;
    problems.want(plan.others.front().substance.id == plan.substance.id, "substance",
                  "is " + plan.others.front().substance.name + " in the other condition",
                  plan.substance.name + " in both");
    problems.want(!plan.others.front().condition.empty(), "other condition", "has no words",
                  "what is different, as \"with 5 g/L tartaric acid\"");
}

perception::Levels levels_of(const Plan& plan) {
    perception::Levels levels;
    levels.has_two_conditions = has_conditions(plan);
    const std::size_t lines = levels.has_two_conditions ? 2 : 1;
    for (std::size_t line = 0; line < lines; ++line) {
        const solution::MixedLadder& ladder = ladder_of(plan, line);
        double shared = 0.0;
        for (const solution::MixedLevel& level : ladder.levels) {
            levels.rungs.push_back({std::log10(level.mixed), level.u_own_rel * std::numbers::log10e, line});
            shared = std::max(shared, level.u_shared_rel * std::numbers::log10e);
        }
        levels.u_shared_log10[line] = shared;
    }
    if (levels.has_two_conditions) levels.same_bottles = plan.others.front().same_bottles;
    return levels;
}

std::size_t rung_of(const Plan& plan, const Held& held) {
    return (held.series == 0 ? 0 : plan.ladder.levels.size()) + held.level;
}

std::vector<Trial> done(const State& drill) {
    std::vector<Trial> trials;
    std::copy_if(drill.trials.begin(), drill.trials.end(), std::back_inserter(trials),
                 [](const Trial& trial) { return trial.is_done(); });
    return trials;
}

}  // namespace sipladder::drills::beforehand
