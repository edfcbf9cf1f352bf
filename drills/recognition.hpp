#pragma once

#include "drills/drill.hpp"

#include <optional>
#include <string>
#include <vector>

/// Recognition: single cups of several substances; "what is it?" The threshold of naming each right, where
/// chance is one in as many names as there are.
namespace sipladder::drills::recognition {

/// The word for a substance among the choices: "sugar", or "tartaric acid" where another is an acid too.
std::string name_asked(const Plan& plan, std::size_t line);
/// The order of substances is drawn beforehand from half as many cards again as are needed, so that it is
/// balanced and what is left cannot be counted out.
std::vector<std::size_t> drawn_order(const Plan& plan, Seed seed);
/// The most presentations that one substance can get.
std::size_t most_of_each(const Plan& plan);
/// Recognised later than detected: twice as much, spread as detection is (judgement).
threshold::Prior assumed_prior(const solution::Substance& substance);

struct Result {
    std::string name;  ///< "sugar"
    threshold::Threshold threshold;
    std::size_t taken_for_others{};  ///< cups of it that were named otherwise
};
std::vector<Result> result(const State& drill);

/// A name that is given to more of the cups not recognised than chance makes likely: its threshold looks
/// lower, the others' higher than they are.
struct NamingHabit {
    std::size_t name{};  ///< index into the names
    std::size_t times{};
    std::size_t mistakes{};
};
std::optional<NamingHabit> naming_habit(const State& drill);

}  // namespace sipladder::drills::recognition
