#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"
#include "engine/threshold/threshold.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::chart {

/// What others report, on the threshold's scale.
struct Reported {
    double lower{};
    double upper{};
    std::string whose;  ///< who, with how many people, by what method: shown on hover
};

struct PalateRow {
    std::string title;  ///< substance and base; empty where the row stands in a table that names it
    solution::Component component{};
    threshold::Threshold threshold;
    std::optional<Reported> reported;
    std::string hover;  ///< number, interval, prior, mixing share, where it came from
};

/// One threshold on one log axis: filled ridge of the posterior, interval bar, the component's mark at the
/// estimate, and behind it the pale band of what papers report.
Chart palate_row(const PalateRow& data);

/// The height that a row without title needs, as a multiple of the painter's small text height.
constexpr double palate_row_lines = 4.0;

}  // namespace sipladder::chart
