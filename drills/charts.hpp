#pragma once

#include "drills/drill.hpp"
#include "drills/mouth_map.hpp"
#include "drills/naming.hpp"
#include "engine/chart/chart.hpp"

#include <cstddef>
#include <vector>

namespace sipladder::drills {

/// The pictures of what a drill found whose cups were drawn beforehand: confusion table, words against g/L,
/// marks against level, mouth maps, seconds. None for other drills, or before the first cup is done.
std::vector<chart::Chart> charts_of(const State& drill);

/// What was taken for what.
/// @param plan  whose names the result has
chart::Chart naming_chart(const Plan& plan, const naming::Result& result);
/// Where one substance was felt.
/// @param thing  index into Result::of, no blank
/// @pre a cup of it is done
chart::Chart mouth_chart(const Plan& plan, const mouth_map::Result& result, std::size_t thing);
/// The curve of one series of answers that are right or wrong.
/// @param with_answers  every answer has a mark of its own
chart::Chart curve_of(const State& drill, const threshold::Threshold& threshold, std::size_t series = 0,
                      bool with_answers = false);

}  // namespace sipladder::drills
