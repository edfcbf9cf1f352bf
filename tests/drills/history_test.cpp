#include "drills/history.hpp"

#include "drills/record.hpp"
#include "drills/record_notes.hpp"
#include "engine/problem.hpp"
#include "tests/drills/people.hpp"
#include "tests/support/example_plan.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;

namespace {

/// A journal that is written as the window writes it.
struct Kept {
    journal::Journal journal = journal::Journal::in_memory();
    Random ids{Seed{5}};
    Uuid person = uuid_from(ids);

    Kept() { journal.append(journal::Person{person, "Ada", true, day(0)}); }

    static Instant day(int number) {
        constexpr std::int64_t ms = 86'400'000;
        return {1'772'391'900'000 + number * ms, 60, 0};
    }
    Uuid sitting(int on_day, const std::string& spoiler = "") {
        record::Circumstances asked;
        if (!spoiler.empty()) asked.spoilers.push_back(spoiler);
        asked.blinding = "served";
        const Uuid id = uuid_from(ids);
        journal.append(journal::Sitting{id, person, day(on_day), record::body_of(asked), {}});
        return id;
    }
    Uuid mix(int on_day, const solution::MixedLadder& ladder, const std::string& ingredient) {
        solution::MixPlan plan = example_plan();
        plan.request.substance.id = ladder.substance;
        plan.request.ingredient.name = ingredient;
        const Uuid id = uuid_from(ids);
        journal.append(journal::Fact{
            id, person, "mix", day(on_day), record::body_of_mix(plan, solution::Readings{}, ladder), {}});
        return id;
    }
    /// Answers at the left place until the drill is through. @return the drill's row
    Uuid drill(const Uuid& in, int on_day, const Plan& plan, std::size_t answers, std::size_t choice = 0) {
        State state = begin(plan, Seed{static_cast<std::uint64_t>(on_day) + 1});
        const journal::Drill row{uuid_from(ids),
                                 in,
                                 drills::name_of(plan.kind),
                                 day(on_day),
                                 record::body_of(plan, state.seed),
                                 {}};
        journal.append(row);
        int number = 0;
        for (std::size_t n = 0; n < answers; ++n) {
            const State after = lock(state, {choice, Certainty::leaning, day(on_day)});
            for (const auto& entry :
                 record::entries_between(state, after, row.id, number, day(on_day), ids)) {
                journal.append(entry);
                ++number;
            }
            state = after;
        }
        return row.id;
    }
};

std::size_t presentations(const trend::Sitting& sitting) {
    std::size_t sum = 0;
    for (const threshold::Counts& at : sitting.counts) sum += at.presentations;
    for (const threshold::HabitAnswers& told : sitting.told) sum += told.answers.size();
    return sum;
}

}  // namespace

TEST_CASE("the journal's sittings become the trend's, with mix, lot, base, blinding and notes") {
    Kept kept;
    const Plan plan = usual_plan(Blinding::served);
    const Uuid mix = kept.mix(0, plan.ladder, "tartaric acid powder");
    kept.drill(kept.sitting(1), 1, plan, 5);
    kept.drill(kept.sitting(8, "a cold"), 8, plan, 7);
    Plan tray = plan;
    tray.base_name = "other water";
    tray.ladder.levels[0].mixed *= 1.01;  // never kept as a mix
    kept.drill(kept.sitting(15), 15, tray, 4);
    const std::vector<Followed> found = followed(kept.journal, kept.person);
    REQUIRE(found.size() == 1);
    CHECK(found[0].substance.id == "tartaric_acid");
    CHECK(within(found[0].prior.mean_log10, std::log10(0.1), 1e-12));
    const auto& sittings = found[0].sittings;
    REQUIRE(sittings.size() == 3);
    CHECK(sittings[0].date == to_date(Kept::day(1)));
    CHECK(within(sittings[1].week - sittings[0].week, 1.0, 1e-9));
    CHECK(presentations(sittings[0]) == 5);
    CHECK(presentations(sittings[1]) == 7);
    CHECK(sittings[0].mix == mix.text);
    CHECK(sittings[1].mix == mix.text);
    CHECK(sittings[0].conditions.lot == "tartaric acid powder");
    CHECK(sittings[0].conditions.base == "still water");
    CHECK(sittings[0].conditions.blinding == "served");
    CHECK(within(sittings[0].u_shared_log10, 0.015 / std::log(10.0), 1e-12));
    // Served: certainty counts.
    CHECK(sittings[0].counts.empty());
    REQUIRE(sittings[0].told.size() == 1);
    CHECK(sittings[0].told[0].by == threshold::HabitAnswers::By::certainty);
    CHECK(within(sittings[0].told[0].answers[0].u_own_log10, 0.02 / std::log(10.0), 1e-12));
    for (const threshold::HabitAnswer& answer : sittings[0].told[0].answers)
        CHECK(answer.outcome % 3 == static_cast<std::size_t>(Certainty::leaning));
    CHECK(sittings[1].notes == std::vector<std::string>{"a cold"});
    CHECK(sittings[2].mix != mix.text);
    CHECK(sittings[2].conditions.lot.empty());
    CHECK(trend::trend(sittings, found[0].prior, threshold::three_afc).stretches.size() == 2);
}

TEST_CASE(
    "drills of one sitting are one, a later mix of the same levels is another, and what is struck is gone") {
    Kept kept;
    const Plan plan = usual_plan(Blinding::served);
    kept.mix(0, plan.ladder, "first pack");
    const Uuid first = kept.sitting(1);
    kept.drill(first, 1, plan, 3);
    kept.drill(first, 1, plan, 4);
    kept.mix(2, plan.ladder, "second pack");
    const Uuid second = kept.sitting(3);
    kept.drill(second, 3, plan, 3);
    const Uuid wrong = kept.drill(kept.sitting(4), 4, plan, 3);
    kept.drill(kept.sitting(5), 5, plan, 0);  // nothing answered
    kept.journal.strike_out(uuid_from(kept.ids), wrong, "somebody else sat", Kept::day(4));
    const std::vector<Followed> found = followed(kept.journal, kept.person);
    REQUIRE(found.size() == 1);
    REQUIRE(found[0].sittings.size() == 2);
    CHECK(presentations(found[0].sittings[0]) == 7);
    CHECK(found[0].sittings[0].conditions.lot == "first pack");
    CHECK(found[0].sittings[1].conditions.lot == "second pack");
    CHECK(found[0].sittings[0].mix != found[0].sittings[1].mix);
    CHECK(followed(kept.journal, uuid_from(kept.ids)).empty());
}

TEST_CASE("a quick look is a sitting of the same line, with its blanks, and a tray's certainty stays out") {
    Kept kept;
    const Plan plan = usual_plan(Blinding::served);
    Plan look = plan;
    look.kind = Kind::quick_look;
    look.most_presentations = 12;
    kept.drill(kept.sitting(1), 1, plan, 5);
    const Uuid both = kept.sitting(8);
    kept.drill(both, 8, look, 9, 2);
    kept.drill(both, 8, plan, 4);
    const std::vector<Followed> found = followed(kept.journal, kept.person);
    REQUIRE(found.size() == 1);
    REQUIRE(found[0].sittings.size() == 2);
    const trend::Sitting& second = found[0].sittings[1];
    CHECK(second.counts.empty());
    REQUIRE(second.told.size() == 2);
    CHECK(second.told[0].by == threshold::HabitAnswers::By::grades);
    CHECK(second.told[0].answers.size() == 9);
    CHECK(second.told[1].answers.size() == 4);
    std::size_t blanks = 0;
    for (const threshold::HabitAnswer& cup : second.told[0].answers) {
        CHECK(cup.outcome == 2);
        if (!cup.x_log10) ++blanks;
    }
    CHECK(blanks > 0);
    CHECK(blanks < 9);
    trend::Settings settings;
    settings.practice = 0;
    const trend::Trend line = trend::trend(found[0].sittings, found[0].prior, threshold::three_afc, settings);
    CHECK(line.stretches.size() == 1);
    CHECK(line.points[1].own.sd_log10 < line.points[0].own.sd_log10);

    Kept alone;
    alone.drill(alone.sitting(1), 1, usual_plan(Blinding::shuffled_tray), 0);
    Plan tray = usual_plan(Blinding::shuffled_tray);
    State state = begin(tray, Seed{3});
    const Uuid sitting = alone.sitting(2);
    const journal::Drill row{
        uuid_from(alone.ids), sitting, "detection", Kept::day(2), record::body_of(tray, state.seed), {}};
    alone.journal.append(row);
    int number = 0;
    for (const bool answers : {true, false}) {
        const State after =
            answers ? lock(state, {0, Certainty::sure, Kept::day(2)}) : reveal(state, 0, Kept::day(2));
        for (const auto& entry :
             record::entries_between(state, after, row.id, number, Kept::day(2), alone.ids)) {
            alone.journal.append(entry);
            ++number;
        }
        state = after;
    }
    const std::vector<Followed> of_tray = followed(alone.journal, alone.person);
    REQUIRE(of_tray.size() == 1);
    CHECK(of_tray[0].sittings[0].told.empty());
    CHECK(presentations(of_tray[0].sittings[0]) == 1);
}
