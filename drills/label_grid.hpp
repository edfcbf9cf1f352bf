#pragma once

#include <cstddef>

namespace sipladder::drills {

/// A sheet of labels, in millimetres as the pack states them.
struct LabelGrid {
    std::size_t columns = 3;
    std::size_t rows = 8;
    double width_mm = 64.0;  ///< of one label
    double height_mm = 33.0;
    double left_mm = 9.0;  ///< from the edge of the paper to the first label
    double top_mm = 8.0;
    double across_mm = 64.0;  ///< from the left edge of one label to that of the next
    double down_mm = 33.0;
    bool cutting_marks = true;  ///< short lines at the corners, for plain paper

    bool operator==(const LabelGrid&) const = default;
};

}  // namespace sipladder::drills
