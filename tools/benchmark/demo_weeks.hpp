#pragma once

#include "engine/random.hpp"
#include "tools/simulate/figures.hpp"

#include <cstddef>
#include <functional>

namespace sipladder::benchmark {

struct DemoWeeks {
    simulate::Figure held;  ///< share of bands of the line that hold its true place; the seed is the unit
    std::size_t seeds{};    ///< whose ladders could all be mixed
};

/// The demo's courses of eight weeks, made over and over.
/// @param first     so many seeds from this one on
/// @param as_drawn  another person for each seed, drawn from what is assumed of people, in place of the
/// demo's
DemoWeeks demo_weeks(std::size_t seeds, Seed first, std::size_t threads, bool as_drawn,
                     const std::function<void(std::size_t done)>& progress = {});

}  // namespace sipladder::benchmark
