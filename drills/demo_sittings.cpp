// What the invented person perceives, rather than notices: sittings of ready-made drills beside the weekly
// courses.

#include "drills/demo_parts.hpp"
#include "drills/plans.hpp"
#include "drills/programme.hpp"
#include "drills/record.hpp"
#include "drills/record_notes.hpp"
#include "engine/solution/planner.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills::demo_parts {

namespace {

constexpr double recognised_at = 2.2;          // times the detection threshold; judgement
constexpr double u_rel_of_close_steps = 0.01;  // where the step between two bottles is what counts

solution::MixPlan planned(const content::Content& content, const Demo& demo, const WantedSitting& sitting,
                          std::size_t ladder, const solution::Demand& demand,
                          const std::vector<std::string>& letters_taken) {
    const solution::Ladder& wanted = sitting.ladders[ladder];
    const std::string& base = sitting.bases[ladder].empty() ? sitting.base : sitting.bases[ladder];
    const auto ingredients = content.ingredients_of(wanted.substance());
    SIPLADDER_EXPECT(!ingredients.empty());
    const bool is_close = wanted.targets().back() < 2.0 * wanted.targets().front();
    return solution::plan({.ladder = wanted,
                           .substance = content.substance(wanted.substance()),
                           .ingredient = ingredients.front(),
                           .base = content.base(base),
                           .equipment = content.kitchen(demo.kitchen),
                           .demand = demand,
                           .wanted_u_rel = is_close ? u_rel_of_close_steps : 0.05,
                           .letters_taken = letters_taken,
                           .set = std::min<std::size_t>(ladder + 1, 9)});
}

/// The person's own threshold in this week, where a course follows it.
std::optional<double> theta_of(const Demo& demo, const std::string& substance, int week) {
    for (const DemoCourse& course : demo.courses)
        if (course.substance == substance)
            return std::log10(course.threshold_first_week) + course.drift_log10_per_week * (week - 1);
    return std::nullopt;
}

/// Drawn from what is assumed of people, with the thresholds that are true of this one.
Assessor person_for(const Demo& demo, const Plan& plan, int week, Random& random) {
    Assessor assessor = drawn_assessor(plan, random);
    if (plan.kind != Kind::recognition && plan.kind != Kind::nose && plan.kind != Kind::quick_look)
        return assessor;
    const double beyond = plan.kind == Kind::recognition ? std::log10(recognised_at) : 0.0;
    for (std::size_t series = 0; series < series_count(plan); ++series) {
        const auto theta = theta_of(demo, substance_of(plan, line_of_series(plan, series)).id, week);
        if (!theta) continue;
        threshold::Curve& truth = series == 0 ? assessor.truth : assessor.others.at(series - 1).truth;
        truth.theta_log10 = *theta + beyond;
    }
    return assessor;
}

/// The bottles of one sitting, mixed and kept.
std::vector<solution::MixedLadder> mix(journal::Journal& journal, const content::Content& content,
                                       const Demo& demo, const WantedSitting& sitting, const Uuid& person,
                                       const Instant& at, Random& random) {
    const std::vector<solution::Demand> demands = demands_of(sitting, content);
    std::vector<solution::MixedLadder> all;
    std::vector<std::string> letters;
    for (std::size_t i = 0; i < sitting.ladders.size(); ++i) {
        const solution::MixPlan plan = planned(content, demo, sitting, i, demands[i], letters);
        const solution::Readings readings = simulated_readings(plan, random);
        all.push_back(solution::as_mixed(plan, readings));
        for (const solution::MixedLevel& level : all.back().levels) letters.push_back(level.bottle);
        journal.append(journal::Fact{
            uuid_from(random), person, "mix", at, record::body_of_mix(plan, readings, all.back()), {}});
    }
    return all;
}

/// One drill from its first cup to its last. @return when it ended
Instant taste_through(journal::Journal& journal, State state, const Assessor& assessor, const Uuid& drill,
                      Instant now, Random& random) {
    int number = 0;
    while (!is_finished(state)) {
        now = later(now, tasting_ms + std::max(state.plan.rest_s, state.plan.rest_strong_s) * 1000);
        State after = taste(state, assessor, random, now);
        for (const journal::Entry& entry :
             record::entries_between(state, after, drill, number, now, random)) {
            journal.append(entry);
            ++number;
        }
        state = std::move(after);
    }
    return now;
}

}  // namespace

DemoSittingPlan read_sitting(const content::Field& field) {
    field.only({"week", "day", "minute", "drills"});
    DemoSittingPlan sitting;
    sitting.week = static_cast<int>(field.at("week").integer(1, 52));
    sitting.day = static_cast<int>(field.at("day").integer(0, 6));
    sitting.minute = static_cast<int>(field.at("minute").integer(0, 180));
    for (const content::Field& one : field.at("drills").each()) {
        one.only({"kind", "ladders", "presentations", "other_base", "condition"});
        content::ProgrammeDrill drill;
        drill.kind = one.at("kind").id();
        for (const content::Field& ladder : one.at("ladders").each()) drill.ladders.push_back(ladder.id());
        drill.blinding = "served";
        drill.presentations = static_cast<std::size_t>(one.at("presentations").integer(1, 60));
        if (one.at("other_base").is_there()) drill.other_base = one.at("other_base").id();
        if (one.at("condition").is_there()) drill.condition = one.at("condition").text();
        sitting.drills.push_back(std::move(drill));
    }
    return sitting;
}

void write_sitting(journal::Journal& journal, const content::Content& content, const Demo& demo,
                   const DemoSittingPlan& planned, const Uuid& person, Seed seed) {
    Random random(seed);
    const WantedSitting wanted = sitting_of(
        {.id = "demo", .name = {}, .why = {}, .base = demo.base, .cup = demo.cup, .drills = planned.drills},
        content);
    Instant now =
        later(demo.starts, (7 * (planned.week - 1) + planned.day) * day_ms + planned.minute * minute_ms);
    const auto mixed = mix(journal, content, demo, wanted, person, later(now, -mixing_ms), random);
    record::Circumstances circumstances;
    circumstances.blinding = "served";
    const Uuid sitting = uuid_from(random);
    journal.append(journal::Sitting{sitting, person, now, record::body_of(circumstances), {}});
    for (const Plan& plan : plans_of(wanted, content, mixed)) {
        const Assessor assessor = person_for(demo, plan, planned.week, random);
        State state = begin(plan, Seed{random.bits()});
        const Uuid drill = uuid_from(random);
        journal.append(journal::Drill{
            drill, sitting, name_of(plan.kind), now, record::body_of(state.plan, state.seed), {}});
        now = taste_through(journal, std::move(state), assessor, drill, now, random);
    }
}

}  // namespace sipladder::drills::demo_parts
