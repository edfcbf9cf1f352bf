#pragma once

#include "engine/solution/ladder.hpp"
#include "engine/solution/substance.hpp"

/// The ladders that are made unless somebody wants another: wide while nothing is known of a person, narrow
/// once something is. Simulated by this project: 5 rungs of ratio 2 around the assumed centre miss 18 to 39 %
/// of people, and around a known one are as good as 12 of 1.6.
namespace sipladder::solution {

enum class Rungs {
    six_of_three,  ///< the first ladder of a substance
    eight_of_two   ///< finer, for who mixes two bottles more
};

/// Around the centre of the assumed prior; lower where its strongest rung would pass the cap of a cup.
/// @checked tests/solution/ladder_test.cpp
Ladder first_ladder(const Substance& substance, Rungs rungs = Rungs::six_of_three);

/// Five rungs of ratio 2 around what was found of this person; lower where the cap of a cup asks for it.
/// @param found     a threshold, on the substance's scale, above 0
/// @throws Refused  for one that is not positive and finite
Ladder next_ladder(const Substance& substance, double found);

}  // namespace sipladder::solution
