#pragma once

#include "engine/chart/chart.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace sipladder::chart {

struct ConfusionTable {
    std::string title;
    std::string y_title;               ///< what rows and columns are
    std::vector<std::string> rows;     ///< what was served
    std::vector<Ink> inks;             ///< of the rows
    std::vector<std::string> columns;  ///< what it was called; column i is right for row i
    std::vector<std::vector<std::size_t>> counts;
    /// Cells that are no plain mistake: row, column.
    std::vector<std::pair<std::size_t, std::size_t>> known_overlaps = {};
    std::string note = {};
};

/// What was taken for what: a field for each pair, the deeper the larger its share of the row, with its
/// count; the right ones framed, known overlaps framed with dashes.
Chart confusion_table(const ConfusionTable& data);
/// The height that so many rows need, as a multiple of the painter's small text height.
double confusion_table_lines(std::size_t rows);

}  // namespace sipladder::chart
