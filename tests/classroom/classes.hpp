#pragma once

#include "drills/classroom/service.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// Classes that tests serve; invented.
namespace sipladder::tests {

inline drills::classroom::ClassDrill which_cup(std::size_t rungs) {
    drills::classroom::ClassDrill drill;
    drill.name = "Sugar";
    drill.question = "Which cup holds the sugar?";
    drill.task = drills::classroom::Task::which_of_three;
    for (std::size_t i = 0; i < rungs; ++i)
        drill.samples.push_back({std::string(1, static_cast<char>('P' + i)),
                                 "sucrose, rung " + std::to_string(i + 1), static_cast<double>(i + 1), 1});
    return drill;
}

inline drills::classroom::ClassDrill name_it() {
    return {"What is it?",
            "What does the cup taste of?",
            drills::classroom::Task::naming,
            {{"A", "sucrose", 10.0, 2},
             {"B", "tartaric acid", 0.5, 2},
             {"C", "grape tannin", 0.5, 2},
             {"base", "purified water", 0.0, 2}},
            "base",
            {"sweet", "sour", "astringent", "nothing"},
            Scale::g_per_L,
            false,
            Millilitres{12.0}};
}

inline drills::classroom::ClassDrill put_in_order(std::size_t samples) {
    drills::classroom::ClassDrill drill;
    drill.name = "Sour, weakest first";
    drill.question = "Put the cups in order, weakest first.";
    drill.task = drills::classroom::Task::ranking;
    drill.known_cup = false;
    for (std::size_t i = 0; i < samples; ++i)
        drill.samples.push_back({std::string(1, static_cast<char>('F' + i)),
                                 "tartaric acid, rung " + std::to_string(i + 1), static_cast<double>(i + 1),
                                 1});
    return drill;
}

inline drills::classroom::ClassPlan class_of(std::size_t people) {
    return {people, 2, 0, {which_cup(6), name_it(), put_in_order(5)}};
}

/// What stands beneath the codes of a ballot, from left to right, for cups put weakest first; fewer than ten.
inline std::string ranks_on_paper(const std::vector<std::size_t>& picked) {
    std::string text(picked.size(), '?');
    for (std::size_t rank = 0; rank < picked.size(); ++rank)
        text[picked[rank]] = static_cast<char>('1' + rank);
    return text;
}

}  // namespace sipladder::tests
