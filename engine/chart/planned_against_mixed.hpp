#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"
#include "engine/units.hpp"

#include <string>
#include <vector>

namespace sipladder::chart {

/// One rung: what was wanted, what the plan gives and what is in the bottle.
struct RungMixed {
    double target{};
    double planned{};
    double mixed{};
    double u_rel{};  ///< relative standard uncertainty of `mixed`
    std::string bottle;
};

struct PlannedAgainstMixed {
    std::string title;
    solution::Component component{};
    Scale scale{};
    std::vector<RungMixed> rungs;  ///< weakest first
};

/// Rung by rung, strongest on top: how far planned (hollow) and mixed (filled, bar of twice its standard
/// uncertainty) lie from the target, in percent of it.
Chart planned_against_mixed(const PlannedAgainstMixed& data);

}  // namespace sipladder::chart
