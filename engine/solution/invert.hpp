#pragma once

#include <algorithm>
#include <cmath>

namespace sipladder::solution {

/// The argument between `low` and `high` at which a monotone function takes the value `wanted`, which must
/// lie between its values there. A secant step is taken where it stays inside the bracket, else the bracket
/// is halved, so it always ends; the result is good to a few units of the last place of the larger end.
template <class Function>
double inverted(const Function& function, double wanted, double low, double high) {
    double below = function(low) - wanted;
    double above = function(high) - wanted;
    if (below == 0.0) return low;
    if (above == 0.0) return high;
    const double narrow = 4e-16 * std::max(std::abs(low), std::abs(high));
    for (int step = 0; step < 200 && std::abs(high - low) > narrow; ++step) {
        // Every third step halves, since secants can creep from one side.
        double next = step % 3 == 2 ? 0.5 * (low + high) : low - below * (high - low) / (above - below);
        if (!(next > std::min(low, high) && next < std::max(low, high))) next = 0.5 * (low + high);
        if (next == low || next == high) break;
        const double there = function(next) - wanted;
        if (there == 0.0) return next;
        if ((there < 0.0) == (below < 0.0)) {
            low = next;
            below = there;
        } else {
            high = next;
            above = there;
        }
    }
    return std::abs(below) < std::abs(above) ? low : high;
}

}  // namespace sipladder::solution
