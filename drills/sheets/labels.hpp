#pragma once

#include "drills/label_grid.hpp"
#include "drills/sheets/paper.hpp"
#include "engine/instant.hpp"
#include "engine/solution/mix_plan.hpp"

#include <string>
#include <vector>

/// Labels for cups and bottles, on sticky sheets of any grid or on plain paper to cut.
namespace sipladder::drills::sheets {

struct Label {
    std::string large;               ///< the code, or the bottle's letter
    std::vector<std::string> lines;  ///< small, below; too long a line ends in dots
};

/// One label for every bottle, stock and the base of a plan: its letter, which tells no level, when it was
/// mixed, until when it may be used, what it holds that has to be known (alcohol, caffeine, allergens), and
/// what a stock is not for.
std::vector<Label> bottle_labels(const solution::MixPlan& plan, const Instant& mixed);

/// Label after label, row by row; no label is split. The same labels and moment give the same bytes.
/// @throws Refused  for a grid without labels, with labels smaller than 12 by 8 mm or that overlap, or that
///                  does not fit the paper; all problems at once
std::string labels_pdf(const std::vector<Label>& labels, const LabelGrid& grid, Paper paper,
                       const std::string& title, const Instant& made);

}  // namespace sipladder::drills::sheets
