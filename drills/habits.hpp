#pragma once

#include "engine/threshold/psychometric.hpp"

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

/// How a simulated assessor may depart from the curve that is fitted. Never used for a real person.
namespace sipladder::drills {

/// What a fixed leaning towards one of three places does to the answers: that place adds `shift` (d' units)
/// to the percept of whatever cup stands there, a blank is Normal(0, 1), the clear cup Normal(d', 1), and the
/// strongest percept is picked. Tabulated once, since each share is an integral.
/// @source judgement (signal detection of textbooks; the size of the leaning is the simulation's)
class PlaceBias {
  public:
    /// @param shift  0 to 4
    explicit PlaceBias(double shift);
    double shift() const { return shift_; }
    /// Shares of the favoured place, given how far the curve has risen (0 to 1).
    struct Shares {
        double right_there{};      ///< the clear cup stands at the favoured place and is picked
        double right_elsewhere{};  ///< it stands elsewhere and is picked
        double lured{};            ///< it stands elsewhere and the favoured place is picked
    };
    Shares at(double rise) const;

  private:
    double shift_{};
    std::vector<Shares> shares_;  // at equal steps of d'
    std::vector<double> rises_;
};

struct Habits {
    std::shared_ptr<const PlaceBias> place_bias;  ///< nothing: no leaning
    std::size_t favoured_place{};                 ///< 0 to 2
    double fatigue_log10{};     ///< the threshold rises by this from one presentation to the next
    double carry_over_log10{};  ///< and by this while the level before was clearly above it
    bool weibull = false;       ///< the rise is a Weibull curve of the same midpoint in place of a logistic
};

/// The threshold that holds at presentation `number` (0 for the first).
/// @param x_before_log10  what the presentation before held; nothing: this is the first
double theta_now(const threshold::Curve& truth, const Habits& habits, std::size_t number,
                 std::optional<double> x_before_log10);

/// Probability that each of three places is picked when the clear cup, of strength x, stands at `spiked`.
std::array<double, 3> pick_probabilities(const threshold::Curve& now, const Habits& habits, double x_log10,
                                         std::size_t spiked);

}  // namespace sipladder::drills
