#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::chart {

/// From one word to the next.
struct WordLimit {
    double value{};  ///< g/L or % vol
    double lower{};  ///< 95 %
    double upper{};
};

/// Other people's words for the same axis.
struct OtherWords {
    std::string whose;
    std::vector<std::string> words;  ///< one more than limits
    std::vector<double> limits;
};

struct WordScale {
    std::string title;
    std::string whose = "your words";
    solution::Component component{};
    Scale scale{};
    double from{};  ///< > 0; the axis reaches to the limits at least
    double to{};
    std::vector<std::string> words;  ///< weakest first
    std::vector<WordLimit> limits;   ///< one fewer
    std::vector<OtherWords> others;
    std::string note = {};
};

/// A person's words along the levels, each in its stretch, with the interval of every limit, and beneath them
/// the words of others.
Chart word_scale(const WordScale& data);

/// The terms of Regulation (EU) 2019/33 for the sugar of a still wine: without the acidity clause, and with
/// it at this acidity (as tartaric acid) or, where none is given, at its widest.
/// @source eu_2019_33
std::vector<OtherWords> sweetness_terms_beside(std::optional<GramsPerLitre> acidity);

}  // namespace sipladder::chart
