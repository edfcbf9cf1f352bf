#pragma once

#include "drills/drill.hpp"
#include "drills/habits.hpp"
#include "drills/senses.hpp"
#include "engine/random.hpp"
#include "engine/threshold/psychometric.hpp"

#include <vector>

/// The simulated assessor that tests, simulator and demo share. Never used for a real person.
namespace sipladder::drills {

/// What is true of one person, one substance and one way of tasting, and of the bottles.
struct Traits {
    threshold::Curve truth;
    double mixing_error_shared_log10{};
    std::vector<double> mixing_error_own_log10;  ///< per rung; empty: none
};

/// How single cups are graded: the grade is the number of cut points that the percept exceeds; a blank is
/// Normal(0, 1), a cup of a level Normal(d', 1 + (sd_ratio - 1) min(1, d'/2)).
struct Grading {
    double first_cut = 0.8;
    double spacing = 0.7;
    double sd_ratio = 1.0;
    double wander = 0.0;  ///< SD of what is added to all cuts from each cup to the next
    Seed steps = {};      ///< of the wandering
};

/// How certainty of a 3-AFC answer follows the lead of the strongest percept over the second.
struct Sureness {
    double first = 0.7;    ///< lead at which "leaning" begins
    double spacing = 1.0;  ///< how much further "sure" does
};

struct Assessor {
    threshold::Curve truth;
    double
        mixing_error_shared_log10{};  ///< what the bottles really hold beyond the as-mixed value, common part
    std::vector<double> mixing_error_own_log10;  ///< per rung; empty: none
    Habits habits = {};
    std::vector<Traits> others = {};  ///< of the series after the first, see `series_count`
    Grading grading = {};
    Sureness sureness = {};
    double sees_through = 0.0;         ///< tray check: how often the level is told by look or smell, 0 to 1
    Seed table = {};                   ///< sealed key: how the hand shuffles the cups
    Senses senses = {};                ///< of drills whose cups are drawn beforehand
    std::vector<Traits> bottles = {};  ///< of those drills, line by line; truth says nothing; empty: as mixed
};

/// An assessor drawn from the assumed prior of a plan, with mixing errors drawn from the ladder's
/// uncertainties.
Assessor drawn_assessor(const Plan& plan, Random& random);
/// The same person before bottles whose mixing errors are drawn from what the ladder claims.
Assessor with_drawn_mixing_errors(Assessor assessor, const solution::MixedLadder& ladder, Random& random);
/// What the level's cup truly holds, log10.
double true_log10(const Assessor& assessor, const solution::MixedLadder& ladder, std::size_t level);
/// Answers one presentation of the drill's next step and, on a shuffled tray, reveals; once a sealed key is
/// asked for, reads in one line of it. Returns the state after it; a finished drill comes back as it was.
/// `at` is the instant of the answer.
/// @pre no answer on a tray waits for its reveal: how the tray stood then, only the taster of that cup knows
State taste(State drill, const Assessor& assessor, Random& random, const Instant& at);

}  // namespace sipladder::drills
