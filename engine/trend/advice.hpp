#pragma once

#include "engine/trend/trend.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

/// What to drill next, and why: value types with numbers, so that the advice can be explained.
namespace sipladder::trend {

/// A substance that could be drilled next, as it stands.
struct Standing {
    std::string name;                  ///< as shown: "grape tannin in water"
    std::optional<double> log10;       ///< last estimate; nothing: never measured
    double sd_log10{};                 ///< when it was measured; of the assumed prior where it never was
    double weeks_since{};              ///< since the last sitting
    std::optional<double> goal_log10;  ///< threshold wanted by the person
    std::size_t presentations = 12;    ///< of the drill offered
    std::size_t cups = 36;
    double minutes{};
    double width_log10 = 0.775;
    double lapse = 0.03;
};

struct Advice {
    std::size_t standing{};      ///< index into what was given
    double sd_now_log10{};       ///< staleness included
    double sd_after_log10{};     ///< expected
    double precision_gain{};     ///< ln of sd_now / sd_after
    double stale_share{};        ///< of today's variance, what came with time
    double beyond_goal_log10{};  ///< above the goal by this much; 0 at or below it, or without one
    double gain{};               ///< precision gain, weighed by the distance from the goal
    double gain_per_cup{};
    double gain_per_minute{};
    std::string words;  ///< "Grape tannin: 12 presentations would take it from ±0.21 to about ±0.14 …"
};

/// Best gain a cup first; ties in the order given.
/// @throws Refused  naming the substance whose numbers are out of range
/// @checked         tests/trend/trend_test.cpp
std::vector<Advice> what_next(const std::vector<Standing>& standings, const Settings& settings = {});

}  // namespace sipladder::trend
