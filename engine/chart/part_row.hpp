#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"

#include <string>
#include <vector>

namespace sipladder::chart {

/// A difference that is noticed, as a part of the level.
struct PartMeasure {
    std::string name;  ///< "two cups, on 20 g/L"
    double part{};     ///< 0.15 is 15 %
    double lower{};    ///< 95 %
    double upper{};
    std::string hover = {};
};
struct PartRow {
    std::string title;  ///< may be empty
    solution::Component component{};
    std::vector<PartMeasure> measures;  ///< at least one
};
/// How large a part of the level has to be added to be noticed, in percent on a log axis, one bar a measure.
Chart part_row(const PartRow& data);
/// The height that the row needs, as a multiple of the painter's small text height.
double part_row_lines(const PartRow& data);

}  // namespace sipladder::chart
