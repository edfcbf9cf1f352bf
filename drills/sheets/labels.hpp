#pragma once

#include "drills/sheets/paper.hpp"
#include "engine/instant.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// Labels for cups and bottles, on sticky sheets of any grid or on plain paper to cut.
namespace sipladder::drills::sheets {

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
};

struct Label {
    std::string large;               ///< the code, or the bottle's letter
    std::vector<std::string> lines;  ///< small, below; too long a line ends in dots
};

/// One label for every bottle, stock and the base of a plan: its letter, which tells no level, when it was
/// mixed, until when it may be used, and what a stock is not for.
std::vector<Label> bottle_labels(const solution::MixPlan& plan, const Instant& mixed);

/// Label after label, row by row; no label is split. The same labels and moment give the same bytes.
/// @throws Refused  for a grid without labels, with labels smaller than 12 by 8 mm or that overlap, or that
///                  does not fit the paper; all problems at once
std::string labels_pdf(const std::vector<Label>& labels, const LabelGrid& grid, Paper paper,
                       const std::string& title, const Instant& made);

}  // namespace sipladder::drills::sheets
