#pragma once

#include "drills/blinding/sealed_key.hpp"
#include "drills/difference.hpp"
#include "drills/plans.hpp"
#include "drills/record.hpp"
#include "tests/drills/people.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

/// One plan of every kind of drill in every blinding that it knows.
namespace sipladder::tests {

struct NamedPlan {
    std::string name;
    drills::Plan plan;
};

/// A line of another substance, bottles lettered from `first`.
inline drills::Line line_of(const std::string& id, const std::string& asked_for, char first, int portions) {
    drills::Line line{acid(), ladder_of(6, 3.0, portions), {}};
    line.substance.id = id;
    line.substance.name = id;
    line.substance.asked_for = asked_for;
    line.substance.component = solution::Component::salty;
    line.ladder.substance = id;
    for (auto& level : line.ladder.levels) level.bottle = std::string(1, first++);
    line.prior.mean_log10 = -1.0;
    line.prior.sd_log10 = 0.35;
    return line;
}

inline drills::Plan recognition_plan(drills::Blinding blinding, std::size_t presentations = 36) {
    drills::Plan plan = plan_of(6, 3.0, 30, presentations, blinding);
    plan.kind = drills::Kind::recognition;
    plan.others = {line_of("sodium_chloride", "salt", 'a', 30), line_of("sucrose", "sugar", 'h', 30)};
    plan.caps[0].per_sitting = plan.caps[0].per_day = 50.0;
    return plan;
}

inline drills::Plan difference_plan(drills::Blinding blinding, std::size_t presentations = 24) {
    drills::Plan plan = plan_of(6, 2.0, 30, presentations, blinding);
    plan.kind = drills::Kind::difference;
    // A pedestal of 2 g/L, and 0.07 to 2.3 g/L more.
    plan.pedestal = solution::MixedLevel{2.0, 2.0, 0.003, 0.015, "P", 60};
    for (auto& level : plan.ladder.levels) {
        level.mixed = 2.0 + 4.0 * level.mixed;
        level.u_own_rel = 0.003;
        level.portions = 30;
    }
    plan.ladder = drills::difference::added_ladder(plan.ladder, *plan.pedestal);
    plan.prior = drills::difference::assumed_prior(2.0, Scale::g_per_L);
    plan.caps[0].per_sitting = plan.caps[0].per_day = 50.0;
    return plan;
}

inline drills::Plan nose_plan(drills::Blinding blinding, std::size_t presentations = 24) {
    drills::Plan plan = plan_of(6, 3.0, 16, presentations, blinding);
    plan.kind = drills::Kind::nose;
    plan.caps[0].per_sitting = plan.caps[0].per_day = 50.0;
    return plan;
}

/// Twelve people, six rungs once each.
inline drills::classroom::Service example_class() {
    drills::classroom::ClassPlan plan;
    plan.people = 12;
    plan.drills.resize(1);
    plan.drills[0].name = "drill 1";
    plan.drills[0].question = "Which cup holds the acid?";
    for (const auto& level : ladder_of(6, 3.0, 8).levels)
        plan.drills[0].samples.push_back({level.bottle, "a rung"});
    return drills::classroom::design(plan, Seed{2026});
}

inline drills::Plan ascending_plan(drills::Blinding blinding, std::size_t rounds) {
    drills::Plan plan = plan_of(6, 3.0, 8, 6 * rounds, blinding);
    plan.order = drills::Order::ascending;
    if (blinding == drills::Blinding::class_service) plan.seat = drills::seat_in(example_class(), 0, 4);
    return plan;
}

inline drills::Plan tray_check_plan() {
    drills::Plan plan = usual_plan(drills::Blinding::shuffled_tray);
    plan.kind = drills::Kind::tray_check;
    return plan;
}

inline drills::Plan quick_look_plan(drills::Blinding blinding, std::size_t cups = 20) {
    drills::Plan plan = plan_of(6, 3.0, 12, cups, blinding);
    plan.kind = drills::Kind::quick_look;
    return plan;
}

/// Clear cups of three substances, two rungs each.
inline drills::Plan naming_plan(drills::Blinding blinding, std::size_t cups = 24) {
    drills::Plan plan = recognition_plan(blinding, cups);
    plan.kind = drills::Kind::naming;
    const auto clear = [](solution::MixedLadder& ladder) {
        ladder.levels.erase(ladder.levels.begin(), ladder.levels.end() - 2);
    };
    plan.substance.asked_for = "acid";
    clear(plan.ladder);
    for (drills::Line& other : plan.others) clear(other.ladder);
    return plan;
}

/// Plans of one substance, several rungs; enough of everything.
inline drills::Plan several_cups_plan(drills::Kind kind, drills::Blinding blinding, std::size_t rungs,
                                      double ratio, std::size_t presentations) {
    drills::Plan plan = plan_of(rungs, ratio, 40, presentations, blinding);
    plan.kind = kind;
    plan.substance.asked_for = "acid";
    plan.caps[0].per_sitting = plan.caps[0].per_day = 50.0;
    if (kind == drills::Kind::weight) plan.substance.component = solution::Component::weight;
    if (kind == drills::Kind::scaling) plan.words = {"nothing", "a trace", "clear", "strong"};
    if (kind == drills::Kind::persistence) plan.words = {"lemon", "steel"};
    return plan;
}
/// The same with another condition.
inline drills::Plan two_conditions(drills::Plan plan, bool same_bottles) {
    drills::Line other{plan.substance, plan.ladder, plan.prior};
    for (auto& level : other.ladder.levels) level.bottle += "2";
    other.condition = "with sugar";
    other.same_bottles = same_bottles;
    plan.others = {std::move(other)};
    return plan;
}
inline drills::Plan mouth_map_plan(drills::Blinding blinding, std::size_t cups = 24) {
    drills::Plan plan = naming_plan(blinding, cups);
    plan.kind = drills::Kind::mouth_map;
    plan.others.pop_back();
    plan.words = {"nothing", "sweet", "sour", "rough"};
    return plan;
}

/// One seat of a class for a plan whose cups are drawn beforehand.
inline drills::Plan seated(drills::Plan plan, drills::classroom::Task task) {
    drills::classroom::ClassPlan of_class;
    of_class.people = 12;
    of_class.drills.resize(1);
    drills::classroom::ClassDrill& drill = of_class.drills[0];
    drill.name = "drill 1";
    drill.task = task;
    drill.choices = {"one", "the other"};
    for (const drills::Held& held : drills::every_cup(plan))
        drill.samples.push_back({drills::bottle_of(plan, held), "a rung", 0.0,
                                 task == drills::classroom::Task::ranking ? 1U : 2U});
    const auto service = drills::classroom::design(of_class, Seed{2026});
    plan.blinding = drills::Blinding::class_service;
    plan.seat = drills::seat_at(service, 0, 4, plan);
    plan.most_presentations = plan.seat->settings.size();
    return plan;
}

inline std::vector<NamedPlan> every_plan() {
    using drills::Blinding;
    using drills::Kind;
    return {{"detection served", usual_plan(Blinding::served)},
            {"detection on a tray", usual_plan(Blinding::shuffled_tray)},
            {"detection ascending, served", ascending_plan(Blinding::served, 2)},
            {"detection ascending, class", ascending_plan(Blinding::class_service, 1)},
            {"quick look served", quick_look_plan(Blinding::served)},
            {"quick look with a sealed key", quick_look_plan(Blinding::sealed_key)},
            {"recognition served", recognition_plan(Blinding::served)},
            {"recognition with a sealed key", recognition_plan(Blinding::sealed_key)},
            {"difference served", difference_plan(Blinding::served)},
            {"difference on a tray", difference_plan(Blinding::shuffled_tray)},
            {"nose served", nose_plan(Blinding::served)},
            {"nose on a tray", nose_plan(Blinding::shuffled_tray)},
            {"tray check", tray_check_plan()},
            {"naming served", naming_plan(Blinding::served)},
            {"naming with a sealed key", naming_plan(Blinding::sealed_key)},
            {"naming, class", seated(naming_plan(Blinding::served), drills::classroom::Task::naming)},
            {"ranking served", several_cups_plan(Kind::ranking, Blinding::served, 5, 1.2, 4)},
            {"ranking with a sealed key", several_cups_plan(Kind::ranking, Blinding::sealed_key, 4, 1.2, 4)},
            {"ranking, class", seated(several_cups_plan(Kind::ranking, Blinding::served, 5, 1.2, 1),
                                      drills::classroom::Task::ranking)},
            {"scaling served", several_cups_plan(Kind::scaling, Blinding::served, 6, 1.8, 24)},
            {"scaling with a sealed key", several_cups_plan(Kind::scaling, Blinding::sealed_key, 6, 1.8, 24)},
            {"scaling, class", seated(several_cups_plan(Kind::scaling, Blinding::served, 6, 1.8, 14),
                                      drills::classroom::Task::graded)},
            {"balance served",
             two_conditions(several_cups_plan(Kind::balance, Blinding::served, 5, 1.8, 24), false)},
            {"balance with a sealed key",
             two_conditions(several_cups_plan(Kind::balance, Blinding::sealed_key, 5, 1.8, 24), true)},
            {"balance of one condition", several_cups_plan(Kind::balance, Blinding::served, 5, 1.8, 12)},
            {"mouth map served", mouth_map_plan(Blinding::served)},
            {"mouth map with a sealed key", mouth_map_plan(Blinding::sealed_key)},
            {"persistence served",
             two_conditions(several_cups_plan(Kind::persistence, Blinding::served, 3, 2.0, 18), false)},
            {"persistence with a sealed key",
             several_cups_plan(Kind::persistence, Blinding::sealed_key, 2, 2.0, 10)},
            {"persistence, class",
             seated(two_conditions(several_cups_plan(Kind::persistence, Blinding::served, 3, 2.0, 12), true),
                    drills::classroom::Task::graded)},
            {"weight served", several_cups_plan(Kind::weight, Blinding::served, 4, 1.5, 4)},
            {"weight with a sealed key", several_cups_plan(Kind::weight, Blinding::sealed_key, 4, 1.5, 4)}};
}

/// Somebody for this drill, drawn from what it assumes.
inline drills::Assessor somebody(const drills::Plan& plan, std::uint64_t seed) {
    Random random{Seed{seed}};
    return drills::drawn_assessor(plan, random);
}

namespace every {

using namespace drills;

/// Written down as it goes, as the window does it: copy, rows, then believe.
struct Kept {
    journal::Drill drill;
    std::vector<journal::Entry> entries;
    State state;
    Random ids{Seed{77}};

    Kept(const Plan& plan, Seed seed) : state(begin(plan, seed)) {
        drill = {
            uuid_from(ids), uuid_from(ids), name_of(plan.kind), minute(0), record::body_of(plan, seed), {}};
    }
    void go_to(State after) {
        for (auto& row : record::entries_between(state, after, drill.id, static_cast<int>(entries.size()),
                                                 minute(entries.size()), ids))
            entries.push_back(std::move(row));
        state = std::move(after);
    }
    State again() const { return record::read(drill, entries); }
};

/// An answer to any question, another one for every number.
inline Answer answer_to(const Question& question, std::size_t cups, std::size_t number) {
    Answer answer{number % std::max<std::size_t>(question.choices.size(), 1), Certainty::leaning,
                  minute(number)};
    if (question.asks_order)
        for (std::size_t i = 0; i < cups; ++i) answer.order.push_back((i + number) % cups);
    if (question.mark) answer.mark = static_cast<double>(number * 37 % 1010) / 10.0;
    if (!question.places.empty()) answer.places = {number % question.places.size()};
    if (question.first_is_nothing && answer.choice == 0) {
        answer.places.clear();
        answer.mark = 0.0;
    }
    if (question.most_seconds > 0) answer.seconds = 0.7 + static_cast<double>(number * 7 % 30);
    if (!question.words.empty() && number % 2 == 0) answer.words = {number % question.words.size()};
    return answer;
}

/// One step: an answer and, apart from it, what is read in after it.
inline State one_step(State drill, std::size_t number) {
    const Step step = next_after_rest(drill);
    if (std::holds_alternative<Serve>(step)) {
        const Answer answer = answer_to(std::get<Serve>(step).question, cups_together(drill.plan), number);
        return lock(std::move(drill), answer);
    }
    REQUIRE(std::holds_alternative<Reveal>(step));
    if (drill.plan.blinding != Blinding::sealed_key)
        return reveal(std::move(drill), number * 7 % cups_together(drill.plan), minute(number));
    const auto list = sealed_key::pour_list(drill.plan);
    for (std::size_t offset = 0;; ++offset) {  // the next mark of which there is one left
        const std::size_t mark = (number * 5 + offset) % list.size();
        if (is_set(drill.plan)) {
            const auto& held = drill.trials[std::get<Reveal>(step).number].held;
            const bool is_there = std::any_of(held.begin(), held.end(), [&](const auto& one) {
                return one && one->level == list[mark].level;
            });
            if (is_there) continue;
            return reveal(std::move(drill), mark, minute(number));
        }
        const auto seen = std::count_if(drill.trials.begin(), drill.trials.end(), [&](const Trial& trial) {
            return trial.is_done() && trial.series == list[mark].series && trial.level == list[mark].level &&
                   trial.is_blank == list[mark].is_blank;
        });
        if (seen < list[mark].poured) return reveal(std::move(drill), mark, minute(number));
    }
}

inline State done(State drill, std::uint64_t seed) {
    const Assessor assessor = somebody(drill.plan, seed);
    return tasted(std::move(drill), assessor, Random{Seed{seed + 1}});
}

}  // namespace every

}  // namespace sipladder::tests
