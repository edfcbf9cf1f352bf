// Read whole from the journal: a person has a few hundred rows at most, and a second copy of the truth would
// need rules for when it is stale.

#include "gui/app/history.hpp"

#include "drills/record_notes.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

namespace record = drills::record;

void read_facts(History& history, const std::vector<journal::Fact>& facts) {
    for (const journal::Fact& fact : facts) {
        if (fact.struck) continue;
        if (fact.kind == "mix") {
            history.mixes.push_back(record::read_mix(fact));
            history.draft.reset();
            history.planned.reset();
        }
        if (fact.kind == "sitting_plan")
            if (auto plan = record::read_sitting_plan(fact)) history.planned = {fact.at, std::move(*plan)};
        if (fact.kind == "mix_draft") history.draft = record::read_mix_draft(fact);
        if (fact.kind == "goal") {
            record::Goal goal = record::read_goal(fact);
            std::erase_if(history.goals, [&](const record::Goal& one) {
                return one.substance == goal.substance && one.base_name == goal.base_name;
            });
            history.goals.push_back(std::move(goal));
        }
        if (fact.kind != "cautions_read") continue;
        history.cautions_read = true;
        history.no_ethanol_reasons = record::read_cautions_read(fact).no_ethanol_reasons;
    }
    std::reverse(history.mixes.begin(), history.mixes.end());
}

/// Bottles of a substance that the content lacks, by an older program or without its own file, are not
/// served.
void leave_out_unknown(History& history, const content::Content& content) {
    std::erase_if(history.mixes, [&](const record::KeptMix& mix) {
        return std::ranges::find(content.substances, mix.substance, &solution::Substance::id) ==
               content.substances.end();
    });
}

void count_today(History& history, const PastDrill& past) {
    // A drill may span two days: what counts is when each cup was tasted.
    const std::string& today = history.today;
    history.taken_today += drills::intake_on(past.state, today);
    history.cups_today += drills::cups_on(past.state, today);
    if (to_date(past.last) != today) return;
    std::int64_t first_ms = past.started.utc_ms;
    if (to_date(past.started) != today)
        for (const drills::Trial& trial : past.state.trials)
            if (trial.given && to_date(trial.given->at) == today) {
                first_ms = trial.given->at.utc_ms;
                break;
            }
    history.seconds_today += static_cast<long>((past.last.utc_ms - first_ms) / 1000);
}

/// What a later program has written of other drills is left to it.
bool is_known(const std::string& kind) {
    return std::ranges::any_of(drills::every_kind,
                               [&](drills::Kind one) { return drills::name_of(one) == kind; });
}

void read_drill(History& history, const journal::Journal& journal, const journal::Drill& drill) {
    const std::vector<journal::Entry> entries = journal.entries(drill.id);
    PastDrill past{.sitting = drill.sitting,
                   .drill = drill.id,
                   .started = drill.started,
                   .last = entries.empty() ? drill.started : entries.back().at,
                   .rows = static_cast<int>(entries.size()),
                   .state = record::read(drill, entries)};
    count_today(history, past);
    (drills::is_finished(past.state) ? history.done : history.unfinished).push_back(std::move(past));
}

void find_palate(History& history, const content::Content& content) {
    for (const PastDrill& past : history.done) {
        const auto& plan = past.state.plan;
        if (plan.kind != drills::Kind::detection) continue;
        const bool is_known = std::ranges::any_of(history.palate, [&](const PalateEntry& entry) {
            return entry.past.state.plan.substance.id == plan.substance.id &&
                   entry.past.state.plan.base_name == plan.base_name;
        });
        if (is_known || drills::answered(past.state).empty()) continue;
        history.palate.push_back({past, drills::threshold_so_far(past.state)});
    }
    const auto rank = [&](const PalateEntry& entry) {
        return std::ranges::find(content.substances, entry.past.state.plan.substance.id,
                                 &solution::Substance::id) -
               content.substances.begin();
    };
    std::ranges::stable_sort(history.palate, {}, rank);
}

}  // namespace

History read_history(const journal::Journal& journal, const content::Content& content, const Uuid& person,
                     const Instant& now) {
    History history;
    history.today = to_date(now);
    read_facts(history, journal.facts(person));
    leave_out_unknown(history, content);
    for (const journal::Sitting& sitting : journal.sittings(person)) {
        if (sitting.struck) continue;
        for (const journal::Drill& drill : journal.drills(sitting.id))
            if (!drill.struck && is_known(drill.kind)) read_drill(history, journal, drill);
    }
    std::reverse(history.done.begin(), history.done.end());
    std::reverse(history.unfinished.begin(), history.unfinished.end());
    find_palate(history, content);
    return history;
}

}  // namespace sipladder::gui
