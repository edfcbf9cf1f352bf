#pragma once

#include "drills/classroom/results.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// What a class's results say, in sentences and cells; the same on paper and on the screen.
namespace sipladder::drills::classroom {

using Cells = std::vector<std::vector<std::string>>;

/// "1.4 (0.8 to 2.6) g/L"
std::string interval_words(const threshold::Estimate& found, Scale scale);
/// "p = 0.012", "p < 0.001"
std::string p_words(double p);
std::string stand_words(panel::Stand stand);  ///< "more sensitive", "less sensitive", "not clear of it"

std::string order_words(const ClassDrill& drill);  ///< "K < M < P", by the levels
std::string people_words(std::size_t count);       ///< "1 person", "12 people"

/// Sentences of a drill over all people, in the order to be read; a drill that nobody answered says so.
std::vector<std::string> sentences(const ThresholdResult& result, const ClassDrill& drill);
std::vector<std::string> sentences(const SinglesResult& result, const ClassDrill& drill);
std::vector<std::string> sentences(const RankingResult& result, const ClassDrill& drill);

/// bottle, level, right, if all guessed, d'
Cells rung_cells(const ThresholdResult& result, const ClassDrill& drill);
/// person, threshold with the others' help, alone, best estimate, stand towards the mean
Cells people_cells(const ThresholdResult& result, const ClassDrill& drill);
/// what was served, then a count for each choice; a check marks the right one
Cells count_cells(const SinglesResult& result, const ClassDrill& drill);
/// bottle, what, rank sum, how often put below the one before
Cells rank_cells(const RankingResult& result, const ClassDrill& drill);

/// What has to be known to read the figures; empty: nothing.
std::string note(const ThresholdResult& result);
std::string note(const SinglesResult& result);
std::string note(const RankingResult& result);

}  // namespace sipladder::drills::classroom
