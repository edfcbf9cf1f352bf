#pragma once

#include "tools/simulate/crowd.hpp"

#include <cstddef>
#include <optional>

/// Simulated people who say how sure they are, or grade single cups. Percepts are Normal(0, 1) for a blank
/// and Normal(d', 1) for a spiked cup, d' being what makes the person right in 3-AFC as often as the curve
/// says. Every presentation of a person has its own draws, whatever method asks.
namespace sipladder::simulate {

/// How a person comes by certainty: 0 guessed, 1 leaning, 2 sure.
struct Sureness {
    enum class Kind {
        lead,   ///< by how far the strongest percept leads the second: beyond c leaning, beyond c + spacing
                ///< sure
        empty,  ///< drawn without regard to anything
        level   ///< by the level, which the person knows, right or wrong
    };
    Kind kind = Kind::lead;
    double first_lower = 0.4;  ///< c, uniform between people
    double first_upper = 1.0;
    double spacing = 1.0;
    double jitter = 0.0;  ///< SD of a fresh shift of both cuts at each presentation, c not below 0
    double sure = 0.35;   ///< shares of empty certainty
    double leaning = 0.35;
};

struct SureResponse {
    bool correct{};
    std::size_t certainty{};
};

/// Answer to presentation `number` (0 for the first), the clear cup at this level.
SureResponse sure_response(const Sureness& sureness, const Person& person, std::size_t number,
                           double x_log10);

/// How a person grades single cups, 0 to 3: how many of c, c + spacing, c + 2 spacing the percept exceeds.
struct Grading {
    double first_lower = 0.0;  ///< c at the first cup, uniform between people
    double first_upper = 0.9;
    double spacing_lower = 0.7;  ///< log-uniform between people
    double spacing_upper = 0.7;
    double walk = 0.0;      ///< SD of what is added to c from each cup to the next
    double jitter = 0.0;    ///< SD of a fresh shift at each cup
    double sd_ratio = 1.0;  ///< noise of clear cups over that of blanks
};

/// Grades of one person, cup after cup. The same cup number has the same draws, whatever is served.
class Grader {
  public:
    Grader(const Grading& grading, const Person& person);
    /// @param number   of the cup, 0 for the first; asked in ascending order
    /// @param x_log10  nothing: a blank
    std::size_t grade(std::size_t number, std::optional<double> x_log10);

  private:
    Grading grading_;
    threshold::Curve truth_;
    Seed luck_;
    double first_{};
    double spacing_{};
    std::size_t walked_ = 0;
};

/// Is cup `number` of this person a blank, in a drill where a third of the cups are?
bool is_blank_cup(const Person& person, std::size_t number);

}  // namespace sipladder::simulate
