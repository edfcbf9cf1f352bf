#pragma once

#include "engine/chart/chart.hpp"
#include "engine/panel/panel.hpp"
#include "engine/trend/trend.hpp"
#include "engine/units.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// Answers of several people, or of several days, from one CSV file.
namespace sipladder::cli {

/// What a row tells beside right or wrong.
enum class Telling {
    right_or_wrong,  ///< a column `certainty` is left out
    certainty,       ///< it counts, where there is one: 1 guessed, 2 leaning, 3 sure; one row a presentation
    grades           ///< rating 0 to 3 in place of correct; blanks have concentration 0; in tasting order
};
/// For "rating:4" and any other task; certainty counts unless it is to be left out.
/// @throws Refused  for ratings in another number of steps, which only `fit` knows
Telling telling_from(const std::string& task, const std::string& certainty);

struct PanelAnswers {
    Scale scale{};
    std::vector<panel::Member> members;         ///< in the order they first appear
    std::vector<panel::Member> right_or_wrong;  ///< the same, certainty left out; without ratings
    std::vector<threshold::Counts> all_counts;  ///< everybody's, pooled by level, weakest first
};
/// assessor,concentration_…,presentations,correct, or one row a trial without `presentations`, and perhaps
/// certainty; or rating.
/// @throws Refused with every problem of the file, each naming its line
PanelAnswers read_panel_answers(const std::string& text, const std::string& file, Telling telling);

struct TrendAnswers {
    Scale scale{};
    std::vector<trend::Sitting> sittings;       ///< in the order of time; rows of one date are one sitting
    std::vector<threshold::Counts> all_counts;  ///< of all days, pooled by level, weakest first
};
/// date,concentration_…,correct (or rating), and perhaps presentations, certainty, mix, lot, base, blinding,
/// note. Dates are ISO 8601, with or without a time; in each sitting the mix, lot, base and blinding are the
/// same in all rows.
/// @throws Refused with every problem of the file, each naming its line
TrendAnswers read_trend_answers(const std::string& text, const std::string& file, Telling telling);

/// Writes a chart as the end of the file's name says. @throws Refused for another than .svg or .png
void write_chart(const chart::Chart& chart, double height_pt, const std::string& file);

}  // namespace sipladder::cli
