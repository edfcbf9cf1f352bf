#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"
#include "engine/threshold/curve_band.hpp"
#include "engine/threshold/threshold.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace sipladder::chart {

/// Right of served at one level as mixed.
struct LevelAnswers {
    double level{};  ///< g/L or % vol, as the scale says
    std::size_t right{};
    std::size_t served{};
};

/// One answer at its level as mixed.
struct OneAnswer {
    double level{};  ///< g/L or % vol, as the scale says
    bool is_right = false;
};

struct PsychometricCurve {
    std::string title;  ///< substance and base: "tartaric acid in still water"
    solution::Component component{};
    std::vector<LevelAnswers> levels;
    std::vector<threshold::CurvePoint> curve;  ///< ascending; points beyond the axis are left out
    threshold::Threshold threshold;
    double guess = 1.0 / 3.0;  ///< chance of being right without perceiving anything
    /// In the order given: each gets a mark of its own, right ones above the plot's 100 %, wrong ones below
    /// 0; none: only the shares by level.
    std::vector<OneAnswer> answers = {};
};

/// Share of right answers against level: every level's answers with the number served (size of the mark and a
/// label), the posterior's curve with its 95 % band, chance, and the threshold with its interval.
Chart psychometric_curve(const PsychometricCurve& data);

/// Answers pooled by level of the ladder; levels that were never served are left out.
std::vector<LevelAnswers> pooled(const solution::MixedLadder& ladder,
                                 const std::vector<threshold::Answered>& answers);

/// The posterior's curve over a ladder and a decade to either side of it, as far as its axis can reach.
std::vector<threshold::CurvePoint> curve_over(const solution::MixedLadder& ladder,
                                              const threshold::Posterior& posterior);

}  // namespace sipladder::chart
