#pragma once

#include "engine/content/csv.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/posterior.hpp"
#include "engine/threshold/threshold.hpp"
#include "engine/units.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::cli {

/// Answers of one person as a CSV file gives them, pooled by concentration, weakest first.
struct Answers {
    Scale scale{};
    std::vector<threshold::Counts> counts;
    bool has_certainty = false;  ///< a column `certainty` was there; it is checked
    std::vector<threshold::Answered> trials =
        {};  ///< with certainty: one a row, `level` an index into counts
};

constexpr double weakest_level = 1e-9;      ///< g/L or % vol: below what any scale here can make
constexpr double strongest_level = 2000.0;  ///< g/L: above any solubility in content

/// The one column of concentrations, whose heading names the unit.
struct ConcentrationColumn {
    std::size_t column{};
    Scale scale{};
};
/// Nothing, and a problem noted, where there is none or more than one.
std::optional<ConcentrationColumn> concentration_column(const content::Table& table,
                                                        std::vector<Problem>& problems);

/// Reads either pooled counts (concentration_…,presentations,correct) or one row a trial
/// (concentration_…,correct and perhaps certainty). The unit stands in the heading: concentration_g_per_L or
/// concentration_pct_vol.
/// @throws Refused with every problem of the file, each naming its line
Answers read_answers(const std::string& text, const std::string& file);

}  // namespace sipladder::cli
