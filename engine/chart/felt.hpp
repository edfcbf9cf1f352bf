#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"

#include <string>
#include <vector>

namespace sipladder::chart {

/// Cups of one condition: level against mark, or seconds one after the other.
struct FeltCups {
    std::string name;  ///< "in still water", "with acid"
    std::vector<Point> cups;
    /// Marks: the fitted line, level against mark; none: not drawn.
    std::vector<Point> line = {};
};

struct MarksAgainstLevel {
    std::string title;
    solution::Component component{};
    Scale scale{};
    std::vector<FeltCups> conditions;  ///< one or two; the second hollow
    std::string note = {};
};
/// Every cup's mark against its level on two log axes, with the power law that fits; marks of 0 stand at the
/// foot.
Chart marks_against_level(const MarksAgainstLevel& data);

/// Seconds of one condition.
struct Lasting {
    std::string name;
    std::vector<double> seconds;
    double middle{};  ///< with its 95 % interval
    double lower{};
    double upper{};
    double quarter{};         ///< a quarter is shorter; 0: not drawn
    double three_quarters{};  ///< a quarter is longer
};
struct HowLong {
    std::string title;
    solution::Component component{};
    std::vector<Lasting> conditions;
    double most_seconds{};  ///< where the watch stops
    std::string note = {};
};
/// Each cup's seconds on a log axis, the spread of half of them, the middle with its interval; and the limits
/// of common words for a length.
Chart how_long(const HowLong& data);

}  // namespace sipladder::chart
