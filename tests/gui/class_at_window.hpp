#pragma once

#include "drills/classroom/invented.hpp"
#include "tests/classroom/classes.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

/// Somebody who runs a class at the window.
namespace sipladder::tests {

using namespace gui;
using drills::classroom::BallotAnswer;
using drills::classroom::Cell;
using drills::classroom::Pass;
using drills::classroom::Task;

/// A class of so many, its usual plan kept.
inline AtWindow with_design(const std::string& people = "4") {
    AtWindow at;
    at.want(GoTo{Place::classroom});
    at.want(TypeClassTitle{"Evening class"});
    at.want(MakeClass{});
    at.want(TypeMembers{people});
    at.want(AddMembers{});
    at.want(AllAgree{});
    at.want(GoToStep{ClassStep::plan});
    at.want(KeepClass{});
    at.settle();
    const std::string notice = at.app.notice ? at.app.notice->lines.front() : std::string();
    CAPTURE(notice);
    REQUIRE(at.app.classroom.kept);
    return at;
}

/// The keys that fill the line under the finger with this answer.
inline std::string keys_of(const BallotAnswer& answer, const drills::classroom::Service& service) {
    const auto& drill = service.plan.drills[answer.drill];
    if (drill.task == Task::naming || drill.task == Task::graded)
        return std::to_string(answer.picked.front() + 1);
    if (drill.task == Task::ranking) return ranks_on_paper(answer.picked);
    const auto& cups = service.seats[answer.seat].servings[answer.drill][answer.serving].cups;
    return cups[answer.picked.front()].code.digits + " ";
}

inline std::vector<BallotAnswer> invented(const AtWindow& at) {
    return drills::classroom::invented_answers(at.app.classroom.kept->service, {0.3}, Seed{5}).answers;
}

/// The whole pile, person by person.
inline void type_in(AtWindow& at, const std::vector<BallotAnswer>& answers) {
    at.want(GoToStep{ClassStep::entry});
    const auto& service = at.app.classroom.kept->service;
    for (const BallotAnswer& answer : answers) {
        if (answer.seat >= service.plan.people || at.app.classroom.entry.absent.contains(answer.seat))
            continue;
        REQUIRE(at.app.classroom.entry.at == Cell{answer.seat, answer.drill, answer.serving});
        for (const char key : keys_of(answer, service)) at.want(BallotKey{key});
    }
}

inline std::string problem_of(const AtWindow& at) {
    return at.app.notice && at.app.notice->is_problem ? at.app.notice->lines.front() : std::string();
}

}  // namespace sipladder::tests
