#pragma once

#include "drills/drill.hpp"
#include "engine/journal/journal.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/solution/mix_plan.hpp"

#include <string>
#include <vector>

/// A drill to journal rows and back, in one place. The bodies are JSON with a version of their own.
namespace sipladder::drills::record {

/// The plan and seed of a drill as the body of its journal row.
std::string body_of(const Plan& plan, Seed seed);
/// Rows that bring the journal from `before` to `after` (a lock, a reveal, a rest cut short, a stop, the
/// end), numbered on; ids drawn from `ids`.
std::vector<journal::Entry> entries_between(const State& before, const State& after, const Uuid& drill,
                                            int next_number, const Instant& at, Random& ids);
/// The state that the rows tell, of any kind of drill. Entries that are struck out are left out;
/// a drill that came to its end stays done without them.
/// @throws Refused naming the row whose body cannot be read
State read(const journal::Drill& drill, const std::vector<journal::Entry>& entries);

/// A mix as kept: the plan's request in short, the ladder as mixed, bench steps with readings and with what
/// was skipped or spilled.
std::string body_of_mix(const solution::MixPlan& plan, const solution::BenchRecord& record,
                        const solution::MixedLadder& mixed);
std::string body_of_mix(const solution::MixPlan& plan, const solution::Readings& readings,
                        const solution::MixedLadder& mixed);
struct KeptMix {
    Uuid id;
    Instant at;
    solution::MixedLadder ladder;
    std::string substance;
    std::string ingredient_name;
    std::string base_name;
    std::string equipment_name;
};
KeptMix read_mix(const journal::Fact& fact);

}  // namespace sipladder::drills::record
