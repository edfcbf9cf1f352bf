#pragma once

#include "engine/threshold/posterior.hpp"
#include "engine/units.hpp"

#include <string>
#include <vector>

namespace sipladder::cli {

/// Answers of one person as a CSV file gives them, pooled by concentration, weakest first.
struct Answers {
    Scale scale{};
    std::vector<threshold::Counts> counts;
    bool has_certainty = false;  ///< a column `certainty` was there; it is checked
};

/// Reads either pooled counts (concentration_…,presentations,correct) or one row a trial
/// (concentration_…,correct and perhaps certainty). The unit stands in the heading: concentration_g_per_L or
/// concentration_pct_vol.
/// @throws Refused with every problem of the file, each naming its line
Answers read_answers(const std::string& text, const std::string& file);

}  // namespace sipladder::cli
