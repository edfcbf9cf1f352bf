// The taster writes the marks beneath, shuffles, and only then sets the codes on top, so which code stands on
// which cup is chance of the hand and unknown even to the program. What the program draws is which codes are
// called.

#include "drills/blinding/sealed_key.hpp"

#include "drills/beforehand.hpp"
#include "drills/rules.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/quick_look.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace sipladder::drills::sealed_key {

namespace {

/// As even as can be over the rungs, what is left over going to the middle ones.
std::vector<int> shared_out(std::size_t rungs, std::size_t cups) {
    std::vector<int> counts(rungs, static_cast<int>(cups / rungs));
    const std::size_t more = cups % rungs;
    for (std::size_t i = 0; i < more; ++i) ++counts[(rungs - more) / 2 + i];
    return counts;
}

Identity rung_of(const Plan& plan, std::size_t series, std::size_t level, int poured) {
    const auto& levels = ladder_of(plan, line_of_series(plan, series)).levels;
    return {levels[level].bottle, series, level, false, poured};
}

}  // namespace

std::size_t cups_poured(const Plan& plan) {
    // A set is one of every rung, which is known and helps nobody to order it: nothing to count out.
    if (is_set(plan)) return cups_together(plan) * plan.most_presentations;
    return (plan.most_presentations * 7 + 4) / 5;
}

std::vector<Identity> pour_list(const Plan& plan) {
    if (is_fixed(plan))
        return beforehand::shares(plan, is_set(plan) ? plan.most_presentations : cups_poured(plan));
    std::vector<Identity> list;
    const std::size_t all = cups_poured(plan);
    if (rules_of(plan.kind).has_blanks) {
        const threshold::GradedTray tray = threshold::graded_tray(plan.ladder.levels.size(), all);
        for (std::size_t level = 0; level < tray.of_level.size(); ++level)
            list.push_back(rung_of(plan, 0, level, tray.of_level[level]));
        list.push_back({"base", 0, 0, true, tray.blanks});
        return list;
    }
    const std::size_t lines = line_count(plan);
    for (std::size_t line = 0; line < lines; ++line) {
        const std::size_t share = all / lines + (line < all % lines ? 1 : 0);
        const std::vector<int> counts = shared_out(ladder_of(plan, line).levels.size(), share);
        for (std::size_t level = 0; level < counts.size(); ++level)
            list.push_back(rung_of(plan, line, level, counts[level]));
    }
    return list;
}

std::vector<BlindCode> codes(const Plan& plan, Seed seed) {
    constexpr std::uint64_t codes_use = 4;  // away from the uses of blinding/served
    Random random(derived(seed, codes_use));
    return blind_codes(random, cups_poured(plan), plan.codes_before);
}

State read_in(State drill, std::span<const KeyEntry> entries, const Instant& at) {
    const std::vector<Identity> list = pour_list(drill.plan);
    std::map<std::string, std::size_t> wanted;  // code to choice
    Problems problems;
    for (const KeyEntry& entry : entries) {
        const auto identity = std::find_if(list.begin(), list.end(),
                                           [&](const Identity& one) { return one.mark == entry.mark; });
        const bool is_served = std::any_of(drill.trials.begin(), drill.trials.end(), [&](const Trial& trial) {
            return !trial.is_done() && trial.shown.codes.front().digits == entry.code;
        });
        problems.want(is_served, "cup " + entry.code, "is not one whose key is wanted",
                      "the code of a cup that was tasted and not read in yet");
        problems.want(identity != list.end(), "cup " + entry.code, "bears \"" + entry.mark + "\"",
                      "the mark of a cup that was poured");
        problems.want(!wanted.contains(entry.code), "cup " + entry.code, "is read in twice", "once");
        wanted[entry.code] = static_cast<std::size_t>(identity - list.begin());
    }
    problems.refuse_if_any();
    for (const Trial& trial : std::vector<Trial>(drill.trials)) {
        if (trial.is_done()) continue;
        const auto entry = wanted.find(trial.shown.codes.front().digits);
        if (entry == wanted.end())
            throw Refused("cup " + trial.shown.codes.front().digits, "is missing from the key",
                          "every cup that was tasted, in one go");
        drill = reveal(std::move(drill), entry->second, at);
    }
    return drill;
}

}  // namespace sipladder::drills::sealed_key
