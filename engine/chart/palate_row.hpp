#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"
#include "engine/threshold/threshold.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::chart {

/// What others report of the same kind of threshold, on the threshold's scale.
struct Reported {
    double lower{};
    double upper{};
    std::string whose;  ///< who, with how many people, by what method: shown on hover
};

/// One threshold of a row.
struct PalateMeasure {
    std::string name;  ///< "detection": said at its bar where the row has several
    threshold::Threshold threshold;
    std::optional<Reported> reported = {};
    std::string hover = {};  ///< number, interval, prior, mixing share, where it came from
};

struct PalateRow {
    std::string title;  ///< substance and base; empty where the row stands in a table that names it
    solution::Component component{};
    std::optional<PalateMeasure> filled;    ///< detection: a filled ridge, a pale band
    std::optional<PalateMeasure> outlined;  ///< recognition: an outline, a band with dashed ends
    std::vector<PalateMeasure> beside;      ///< the same in other ways: bars without a ridge
};

/// The thresholds of one substance in one base on one log axis: ridges of the posteriors, interval bars with
/// the component's mark at the estimate, and behind them what papers report.
/// @pre at least one threshold, all on one scale
Chart palate_row(const PalateRow& data);

/// The height that the row needs, as a multiple of the painter's small text height.
double palate_row_lines(const PalateRow& data);

}  // namespace sipladder::chart
