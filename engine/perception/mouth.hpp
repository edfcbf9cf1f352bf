#pragma once

#include "engine/perception/draws.hpp"

#include <cstddef>
#include <optional>
#include <vector>

/// Places in the mouth: how often a feeling was placed there, and how well one cup repeats another.
namespace sipladder::perception {

/// Krippendorff's alpha for nominal values: 1 - observed disagreement over that of values dealt out at
/// random. One row a coder (a cup), one column a unit; units with fewer than two values do not count.
/// @throws Refused  where no unit has two values, or all values are the same (nothing to agree about)
/// @source          krippendorff_2011
/// @checked         tests/published/perception_test.cpp
double krippendorff_nominal(const std::vector<std::vector<std::optional<int>>>& coders_by_units);

/// How often one thing was named, of so many cups.
struct Named {
    std::size_t times{};
    std::size_t cups{};
};
/// What is assumed of how likely a place is to be named (judgement): Beta(yes, no).
struct PlacePrior {
    double yes = 0.5;
    double no = 0.9;
};
/// How likely two cups of the same are alike in whether a place is named, on average over all that is given:
/// 1 for a map that always repeats, 0.5 for one that is drawn by lot.
/// @throws Refused  for nothing given, or more named than cups
Estimate two_alike(const std::vector<Named>& named, const PlacePrior& prior, Seed seed);
/// Of known probabilities.
double two_alike_of(const std::vector<double>& probabilities);

}  // namespace sipladder::perception
