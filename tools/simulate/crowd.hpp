#pragma once

#include "drills/habits.hpp"
#include "engine/random.hpp"
#include "engine/threshold/psychometric.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

/// Simulated people with common random numbers: person i, presentation t, always the same draw, whatever
/// method asks, so that methods are compared on the same people and the same luck.
namespace sipladder::simulate {

/// Whom to draw. log10 units; thresholds around `theta_mean`.
struct Population {
    double theta_mean = 0.0;
    double theta_sd = 0.35;
    double width_lower = 0.5;  ///< 10 to 90 % width, log-uniform up to `width_upper`
    double width_upper = 1.2;
    double lapse_a = 1.5;  ///< Beta(a, b) of the share of presentations lapsed
    double lapse_b = 48.5;
    std::optional<double> lapse;  ///< everybody's, in place of the Beta
    drills::Habits habits;        ///< everybody's, but the favoured place, which is drawn
};

/// What luck holds for one presentation.
struct Luck {
    double answer{};       ///< below the probability of being right: right
    double elsewhere{};    ///< which of the other two places, when wrong
    std::size_t spiked{};  ///< where the clear cup stands, 0 to 2
};

struct Person {
    threshold::Curve truth;
    drills::Habits habits;
    Seed bottles;            ///< for what the bottles hold beyond their labels
    std::vector<Luck> luck;  ///< one for each presentation
};

/// @param presentations  how many draws of luck the person needs; more of them leave the first as they are
Person person_of(const Population& population, Seed seed, std::size_t index, std::size_t presentations);

struct Response {
    std::size_t picked{};
    bool correct{};
};

/// @param number          of the presentation, 0 for the first
/// @param x_before_log10  what the presentation before held
Response response(const Person& person, std::size_t number, double x_log10,
                  std::optional<double> x_before_log10);

/// The threshold that an estimate after `presentations` is to hit: the mean of those that held so far.
double target(const Person& person, std::size_t presentations);

}  // namespace sipladder::simulate
