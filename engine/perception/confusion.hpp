#pragma once

#include "engine/perception/draws.hpp"
#include "engine/threshold/discrimination.hpp"

#include <cstddef>
#include <optional>
#include <vector>

/// What is taken for what: a table of what was served against what it was called.
namespace sipladder::perception {

/// One row a thing served, one column a name; column i is the right name of row i.
using Counts = std::vector<std::vector<std::size_t>>;

/// Information that a name gives about what was served, in bits, of the shares in this table: each row as
/// often as it was served. It is too high for few answers.
/// @throws Refused  for an empty table, rows of unequal length, or no answer at all
/// @source          shannon_1948
/// @checked         tests/published/perception_test.cpp
double plug_in_bits(const Counts& counts);
/// The same less the first-order bias, (free cells) / (2 n ln 2), where only rows and columns with answers
/// count; never below 0.
/// @source          miller_1955
/// @checked         tests/published/perception_test.cpp
double corrected_bits(const Counts& counts);

/// What is assumed of a person of whom nothing is known (judgement): a thing is named right with a
/// probability of Beta(right, wrong), and what is left is spread over the other names as Dirichlet(each).
struct NamingPrior {
    double right = 2.4;
    double wrong = 0.8;
    double each = 0.4;
};

/// Bits if every row were served equally often, given the answers and the prior: unlike the two above neither
/// too high nor too low for people such as the prior assumes.
/// @throws Refused  as plug_in_bits; rows without answers are taken from the prior alone
Estimate bits(const Counts& counts, const NamingPrior& prior, Seed seed);
/// Of known probabilities, rows equally often.
double bits_of(const std::vector<std::vector<double>>& probabilities);

/// One thing and what it was taken for.
struct TakenFor {
    std::size_t row{};
    std::size_t name{};
    std::size_t times{};
    std::size_t served{};
    threshold::ExactShare share;
};
/// Wrong names that came up at least twice, most often first.
std::vector<TakenFor> taken_for(const Counts& counts);

}  // namespace sipladder::perception
