#include "engine/solution/usual_ladders.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::solution {

namespace {

/// The strongest rung is rounded to two digits, which may lift it by 5 % (9.5 from 9.05).
constexpr double below_cap = 0.95;

Ladder below_the_cap(const Substance& substance, const std::string& id, double centre, std::size_t rungs,
                     double ratio) {
    const double above_centre = std::pow(ratio, 0.5 * static_cast<double>(rungs - 1));
    if (substance.strongest_cup > 0.0)
        centre = std::min(centre, below_cap * substance.strongest_cup / above_centre);
    return ladder_around(id, substance.id, substance.scale, centre, rungs, ratio);
}

}  // namespace

Ladder first_ladder(const Substance& substance, Rungs rungs) {
    if (rungs == Rungs::six_of_three)
        return below_the_cap(substance, substance.id + "_six_of_three", substance.prior.centre, 6, 3.0);
    return below_the_cap(substance, substance.id + "_eight_of_two", substance.prior.centre, 8, 2.0);
}

Ladder next_ladder(const Substance& substance, double found) {
    return below_the_cap(substance, substance.id + "_around", found, 5, 2.0);
}

}  // namespace sipladder::solution
