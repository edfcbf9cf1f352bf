#pragma once

#include "engine/chart/painter.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace sipladder::chart {

/// The text in lines no wider than `width`, broken at blanks (a word that is too wide by itself is broken
/// between letters). At most `most_lines`; what does not fit ends in "…". Never empty.
std::vector<std::string> broken(std::string_view text, double width, TextSize size, const Painter& painter,
                                std::size_t most_lines);

}  // namespace sipladder::chart
